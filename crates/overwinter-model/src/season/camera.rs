//! A camera on its way through the season: where it stands, and the hour that moves it on.

use core::ops::ControlFlow;

use super::plan::Plan;
use super::step::Step;
use super::store::Beside;
use super::{Feeds, Hour, Outcome, Scenario, Seen};
use crate::draw::UploadMode;
use crate::harvest::StoreState;
use crate::pack::PackState;
use crate::units::{Energy, Temperature, Time};

/// All that the hours to come depend on, of a camera at the end of an hour.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct CameraState {
    /// What the cells hold.
    pub cells: PackState,
    /// A store that a panel charges; `None` without one, and before the first hour, whose air gives
    /// a full one its temperature.
    pub store: Option<StoreState>,
    /// Temperature of a pack that a panel charges; `None` without a panel, and before the first hour.
    pub warmth: Option<Temperature>,
    /// Pictures that wait for the daily session.
    #[cfg_attr(feature = "serde", serde(with = "crate::decimal"))]
    pub waiting_pictures: f64,
    /// On the card so far, megabytes.
    #[cfg_attr(feature = "serde", serde(with = "crate::decimal"))]
    pub card_mb: f64,
    /// Time since the season began.
    pub after: Time,
}

impl CameraState {
    /// At the start of the season.
    #[must_use]
    pub const fn start(scenario: &Scenario) -> Self {
        Self {
            cells: scenario.start,
            store: None,
            warmth: None,
            waiting_pictures: 0.0,
            card_mb: 0.0,
            after: Time::ZERO,
        }
    }
}

/// So many times smaller when it charges: a pack goes up and down every day of a season, and its books
/// must close to 1e-5 all the same.
const CHARGING_FINER: f64 = 2.0;

/// A camera on its way through the season, hour by hour: what [`super::run`] is made of, for those
/// who have to stop between.
#[derive(Clone, Debug)]
pub struct Camera<'a> {
    pub(super) scenario: &'a Scenario,
    pub(super) state: PackState,
    pub(super) outcome: Outcome,
    pub(super) waiting_pictures: f64,
    pub(super) to_send: f64,
    pub(super) card_mb: f64,
    pub(super) store: Option<Beside<'a>>,
    pub(super) warmth: Option<Temperature>,
    /// What the cells gave more than they were charged with because they were warmer or colder then
    /// than at the reference temperature, at which the books count a charge.
    pub(super) by_warmth: Energy,
    /// By night, with the light that they need.
    pub(super) night_pictures: f64,
    pub(super) outlives: bool,
}

impl<'a> Camera<'a> {
    /// At the start of the season.
    #[must_use]
    pub fn new(scenario: &'a Scenario) -> Self {
        Self::resume(scenario, &CameraState::start(scenario))
    }

    /// From where [`Camera::state`] left it: the hours to come have the same bits. The books begin
    /// anew, with what is held now.
    #[must_use]
    #[inline(never)]
    pub fn resume(scenario: &'a Scenario, state: &CameraState) -> Self {
        let mut outcome = Outcome {
            followed: state.after,
            ..Outcome::default()
        };
        outcome.ledger.put_in = scenario.pack.energy_left(&state.cells);
        let store = match &scenario.feeds {
            Some(Feeds::Store(store)) => Some(Beside::resume(store, state.store)),
            _ => None,
        };
        if let Some(store) = &store {
            outcome.ledger.put_in += store.held();
        }
        Self {
            scenario,
            state: state.cells,
            outcome,
            waiting_pictures: state.waiting_pictures,
            to_send: 0.0,
            card_mb: state.card_mb,
            store,
            warmth: state.warmth,
            by_warmth: Energy::ZERO,
            night_pictures: 0.0,
            outlives: false,
        }
    }

    /// From here on the camera is known to be alive: what the model holds for its end is noted and
    /// not heeded. A pack that cannot even run it asleep, as the model sees it, gives nothing more.
    pub const fn outlive(&mut self) {
        self.outlives = true;
    }

    /// Where it stands.
    #[must_use]
    pub fn state(&self) -> CameraState {
        CameraState {
            cells: self.state,
            store: self.store.as_ref().and_then(Beside::state),
            warmth: self.warmth,
            waiting_pictures: self.waiting_pictures,
            card_mb: self.card_mb,
            after: self.outcome.followed,
        }
    }

    /// What its cells hold.
    #[must_use]
    pub const fn cells(&self) -> &PackState {
        &self.state
    }

    /// What has become of it so far, with the books not closed yet.
    #[must_use]
    pub const fn so_far(&self) -> &Outcome {
        &self.outcome
    }

    /// Pictures taken by night so far with the light that they need.
    #[must_use]
    pub const fn night_pictures(&self) -> f64 {
        self.night_pictures
    }

    /// What is left, and the books closed.
    #[must_use]
    #[inline(never)]
    pub fn finish(self) -> Outcome {
        let mut outcome = self.outcome;
        outcome.charge_left = self.charge_left();
        outcome.ledger.left = self.scenario.pack.energy_left(&self.state);
        // Warmth of the air that became electrical energy was put in; what the cold took is held back.
        outcome.ledger.put_in += self.by_warmth.max(Energy::ZERO);
        outcome.ledger.held_back += (-self.by_warmth).max(Energy::ZERO);
        if let Some(store) = &self.store {
            outcome.ledger.left += store.held();
        }
        outcome
    }

    /// Runs through one hour in `steps`, at least 1, or breaks off when the camera is dead.
    // On a device it must not stand in its caller, on whose stack it would lie beside the making of
    // the next hours; so with the two others that are not inlined.
    #[inline(never)]
    pub fn hour(
        &mut self,
        hour: &Hour,
        steps: u32,
        observe: &mut dyn FnMut(&Seen),
    ) -> ControlFlow<()> {
        self.collect_pictures(hour);
        let began = self.outcome.followed;
        let steps = steps.max(1);
        let whole = Time::from_hours(1.0) / f64::from(steps);
        let step = &mut Step::of(&self.scenario.pack, hour, whole);
        let plan = &mut Plan::default();
        for _ in 0..steps {
            step.span = whole;
            self.follow_air(step);
            self.plan(plan, step, &self.state);
            let kept = self.kept(step, plan.charge);
            let parts = self.parts(&step.mean, plan.charge.max(kept * CHARGING_FINER));
            if parts <= 1.0 {
                self.take(step, plan, observe)?;
                continue;
            }
            step.span = whole / parts;
            let mut taken = 0.0;
            while taken < parts {
                self.plan(plan, step, &self.state);
                self.take(step, plan, observe)?;
                taken += 1.0;
            }
        }
        // The parts of an hour need not add up to it in the last digit, and a day must not end a
        // breath before midnight.
        self.outcome.followed = began + Time::from_hours(1.0);
        ControlFlow::Continue(())
    }

    /// Hands what has come together to the daily session when its hour strikes.
    fn collect_pictures(&mut self, hour: &Hour) {
        self.to_send = 0.0;
        if let Some(upload) = &self.scenario.draw.upload
            && upload.mode == (UploadMode::Daily { hour: hour.of_day })
        {
            self.to_send = self.waiting_pictures;
            self.waiting_pictures = 0.0;
        }
    }
}
