//! The camera on its way: plans a step, takes it, and keeps the books.

use core::ops::ControlFlow;

use super::plan::{Failure, Plan, Planner, Standing};
use super::{Cause, End, Hour, Outcome, Scenario, Seen};
use crate::cell::Asked;
use crate::draw::UploadMode;
use crate::pack::{PackAt, PackState};
use crate::units::Time;

/// A step never draws more than this share of the weakest cell's capacity: with it, halving the
/// step moves the end of a two-day discharge by less than 0.2 %.
const LARGEST_SHARE: f64 = 1.0 / 250.0;

/// The most parts that a step is divided into: one second of an hour.
const MOST_PARTS: f64 = 3600.0;

/// An hour with the pack at its mean temperature and at its coldest.
struct Air<'a> {
    hour: Hour,
    mean: PackAt<'a>,
    coldest: PackAt<'a>,
}

/// A camera on its way through the season.
pub(super) struct Camera<'a> {
    scenario: &'a Scenario,
    state: PackState,
    outcome: Outcome,
    waiting_pictures: f64,
    to_send: f64,
    /// On the card so far, megabytes.
    card_mb: f64,
}

impl<'a> Camera<'a> {
    pub(super) fn new(scenario: &'a Scenario) -> Self {
        let mut outcome = Outcome::default();
        outcome.ledger.put_in = scenario.pack.energy_left(&scenario.start);
        Self {
            scenario,
            state: scenario.start,
            outcome,
            waiting_pictures: 0.0,
            to_send: 0.0,
            card_mb: 0.0,
        }
    }

    /// What is left, and the books closed.
    pub(super) fn finish(self) -> Outcome {
        let mut outcome = self.outcome;
        outcome.charge_left = self.charge_left();
        outcome.ledger.left = self.scenario.pack.energy_left(&self.state);
        outcome
    }

    /// Runs through one hour in `steps`, or breaks off when the camera is dead.
    pub(super) fn hour(
        &mut self,
        hour: &Hour,
        steps: u32,
        observe: &mut impl FnMut(&Seen),
    ) -> ControlFlow<()> {
        self.collect_pictures(hour);
        let pack = &self.scenario.pack;
        let air = Air {
            hour: *hour,
            mean: pack.at(hour.air),
            coldest: pack.at(hour.coldest),
        };
        let began = self.outcome.followed;
        let span = Time::from_hours(1.0) / f64::from(steps);
        for _ in 0..steps {
            let start = self.plan(&air, &self.state, span);
            let parts = self.parts(&air.mean, &start);
            if parts <= 1.0 {
                self.take(&air, span, &start, observe)?;
                continue;
            }
            let part = span / parts;
            let mut taken = 0.0;
            while taken < parts {
                let start = self.plan(&air, &self.state, part);
                self.take(&air, part, &start, observe)?;
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

    /// Works a step out from `state`. Its voltages are those of the hour's coldest; the charge that
    /// they cost differs from that of its mean by less than the cells do.
    fn plan(&self, air: &Air<'_>, state: &PackState, span: Time) -> Plan {
        let standing = Standing {
            circuit: air.coldest.string_circuit(state),
            polarisation: air.coldest.polarisation(state),
            strings: f64::from(self.scenario.pack.parallel()),
        };
        let planner = Planner {
            draw: &self.scenario.draw,
            to_send: self.to_send,
        };
        planner.plan(&standing, &air.hour, span)
    }

    /// Into how many parts a step must be divided, as a whole number.
    fn parts(&self, at: &PackAt<'_>, plan: &Plan) -> f64 {
        let largest = at.smallest_capacity() * LARGEST_SHARE;
        libm::fmin(libm::ceil(plan.charge / largest), MOST_PARTS)
    }

    /// Takes a step whose `start` is planned, by Heun's method: what is drawn is the mean of what
    /// the start asks for and what the end would.
    ///
    /// The end is asked for its failures too: the next hour may be light or warm again, and what
    /// fails in the last minutes of a night would be missed.
    fn take(
        &mut self,
        air: &Air<'_>,
        span: Time,
        start: &Plan,
        observe: &mut impl FnMut(&Seen),
    ) -> ControlFlow<()> {
        self.note_asked(air, start);
        if start.dead.is_some() {
            self.see(start, Time::ZERO, observe);
        }
        self.note_failures(start, air)?;
        let predicted = air.mean.after(&self.state, start.charge / span, span);
        let end = self.plan(air, &predicted, span);
        let mean = if end.dead.is_some() {
            start
        } else {
            &start.mean_with(&end)
        };
        let current = mean.charge / span;
        let empty = air.mean.time_to_empty(&self.state, current, span);
        let taken = empty.unwrap_or(span);
        self.draw(&air.mean, mean, taken, taken / span);
        self.see(&end, taken, observe);
        self.note_card(air);
        if empty.is_some() {
            // The other cells of a string drive an empty one on, under its floor.
            if self.scenario.pack.cells_in_series() > 1 {
                self.outcome
                    .under_floor
                    .get_or_insert(self.outcome.followed);
            }
            let failure = Failure {
                cause: Cause::WeakestCellEmpty,
                voltage: None,
            };
            return self.die(failure, air);
        }
        self.waiting_pictures += mean.waiting_pictures;
        self.note_asked(air, &end);
        self.note_failures(&end, air)
    }

    /// Moves the clock, and shows the step to the observer.
    fn see(&mut self, plan: &Plan, span: Time, observe: &mut impl FnMut(&Seen)) {
        self.outcome.followed += span;
        observe(&Seen {
            after: self.outcome.followed,
            charge_left: self.charge_left(),
            asleep: plan.asleep,
            lowest: plan.lowest,
        });
    }

    /// Moves the charge of `share` of a plan, and books it.
    fn draw(&mut self, at: &PackAt<'_>, plan: &Plan, span: Time, share: f64) {
        let pack = &self.scenario.pack;
        let charge = plan.charge * share;
        let before = self.state;
        let drawn = at.after(&before, charge / span, span);
        let levelled = (at.levelled_voltage(&before) + at.levelled_voltage(&drawn)) / 2.0;
        self.state = at.stored(&drawn, span);

        let strings = f64::from(pack.parallel());
        let ledger = &mut self.outcome.ledger;
        ledger.used.add_all(&plan.used, share);
        ledger.resistive += plan.heat * share;
        ledger.held_back += charge * levelled * strings - plan.released * share;
        ledger.self_discharge += pack.energy_left(&drawn) - pack.energy_left(&self.state);
        self.outcome.triggers += plan.triggers * share;
        self.outcome.dark_triggers += plan.dark_triggers * share;
        if self.outcome.card_full.is_none() {
            self.outcome.kept += (plan.triggers - plan.dark_triggers) * share;
        }
        self.card_mb += plan.card_mb * share;
    }

    /// Notes the first step at whose end the card is full.
    fn note_card(&mut self, air: &Air<'_>) {
        if let Some(card) = &self.scenario.draw.card
            && self.outcome.card_full.is_none()
            && self.card_mb >= card.capacity_mb
        {
            let failure = Failure {
                cause: Cause::CardFull,
                voltage: None,
            };
            self.outcome.card_full = Some(self.end(failure, air));
        }
    }

    /// Notes what a plan finds failing for the first time; breaks off if the camera is dead.
    fn note_failures(&mut self, plan: &Plan, air: &Air<'_>) -> ControlFlow<()> {
        if self.outcome.night_pictures_lost.is_none() {
            self.outcome.night_pictures_lost = plan.flash_failed.map(|why| self.end(why, air));
        }
        if self.outcome.uploads_failed.is_none() {
            self.outcome.uploads_failed = plan.upload_failed.map(|why| self.end(why, air));
        }
        match plan.dead {
            Some(failure) => self.die(failure, air),
            None => ControlFlow::Continue(()),
        }
    }

    fn die(&mut self, failure: Failure, air: &Air<'_>) -> ControlFlow<()> {
        self.outcome.dead = Some(self.end(failure, air));
        ControlFlow::Break(())
    }

    /// Notes what was asked of the cells, and the first time that the weakest of them is pulled
    /// under its floor.
    fn note_asked(&mut self, air: &Air<'_>, plan: &Plan) {
        let (current, polarisation) = plan.peak;
        let coldest = air.hour.coldest;
        self.outcome
            .asked
            .get_or_insert(Asked::once(coldest, current))
            .widen(coldest, current);
        if self.outcome.under_floor.is_none() {
            let floor = self.scenario.pack.cell().floor;
            let weakest = air
                .coldest
                .weakest_voltage(&self.state, current, polarisation);
            self.outcome.under_floor = (weakest < floor).then_some(self.outcome.followed);
        }
    }

    fn end(&self, failure: Failure, air: &Air<'_>) -> End {
        End {
            after: self.outcome.followed,
            cause: failure.cause,
            air: air.hour.coldest,
            voltage: failure.voltage,
            charge_left: self.charge_left(),
        }
    }

    fn charge_left(&self) -> f64 {
        1.0 - self.scenario.pack.depth(&self.state)
    }
}
