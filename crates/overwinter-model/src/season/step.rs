//! The camera on its way: plans a step, takes it, and keeps the books.

use core::ops::ControlFlow;

use super::plan::{Failure, Plan, Planner, Standing};
use super::recharge::{Offer, Recharge, recharge};
use super::store::{Beside, Served};
use super::{Cause, End, Feeds, Hour, Outcome, Scenario, Seen};
use crate::cell::Asked;
use crate::draw::UploadMode;
use crate::harvest::followed;
use crate::pack::{PackAt, PackState};
use crate::units::{Charge, Temperature, Time};

/// A step never moves more than this share of the weakest cell's capacity: with it, halving the
/// step moves the end of a two-day discharge by less than 0.2 %.
const LARGEST_SHARE: f64 = 1.0 / 250.0;

/// So many times smaller when it charges: a pack goes up and down every day of a season, and its books
/// must close to 1e-5 all the same.
const CHARGING_FINER: f64 = 2.0;

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
    /// The store that a panel charges.
    store: Option<Beside>,
    /// Temperature of a pack that a panel charges.
    warmth: Option<Temperature>,
}

impl<'a> Camera<'a> {
    /// Not part of its caller, on whose stack the camera would stand twice; so is
    /// [`Self::finish`].
    #[inline(never)]
    pub(super) fn new(scenario: &'a Scenario) -> Self {
        let mut outcome = Outcome::default();
        outcome.ledger.put_in = scenario.pack.energy_left(&scenario.start);
        let store = match scenario.feeds {
            Some(Feeds::Store(store)) => Some(Beside::full(store)),
            _ => None,
        };
        if let Some(store) = &store {
            outcome.ledger.put_in += store.held();
        }
        Self {
            scenario,
            state: scenario.start,
            outcome,
            waiting_pictures: 0.0,
            to_send: 0.0,
            card_mb: 0.0,
            store,
            warmth: None,
        }
    }

    /// What is left, and the books closed.
    #[inline(never)]
    pub(super) fn finish(mut self) -> Outcome {
        self.outcome.charge_left = self.charge_left();
        self.outcome.ledger.left = self.scenario.pack.energy_left(&self.state);
        if let Some(store) = &self.store {
            self.outcome.ledger.left += store.held();
        }
        self.outcome
    }

    /// Runs through one hour in `steps`, or breaks off when the camera is dead.
    ///
    /// Not part of the caller, in which it would stand beside the making of the next hours.
    #[inline(never)]
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
            self.follow_air(hour.air, span);
            let start = self.plan(&air, &self.state, span);
            let brought = self.recharge(&air, start.charge, span);
            let parts = self.parts(&air.mean, start.charge.max(brought.kept * CHARGING_FINER));
            if parts <= 1.0 {
                self.take(&air, span, start, observe)?;
                continue;
            }
            let part = span / parts;
            let mut taken = 0.0;
            while taken < parts {
                let start = self.plan(&air, &self.state, part);
                self.take(&air, part, start, observe)?;
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
        self.planner().plan(&standing, &air.hour, span)
    }

    fn planner(&self) -> Planner<'_> {
        Planner {
            draw: &self.scenario.draw,
            to_send: self.to_send,
        }
    }

    /// Into how many parts a step must be divided, as a whole number.
    fn parts(&self, at: &PackAt<'_>, moved: Charge) -> f64 {
        let largest = at.smallest_capacity() * LARGEST_SHARE;
        libm::fmin(libm::ceil(moved / largest), MOST_PARTS)
    }

    /// Takes a step whose `start` is planned for the pack alone, by Heun's method: what is drawn is
    /// the mean of what the start asks for and what the end would.
    ///
    /// The end is asked for its failures too: the next hour may be light or warm again, and what
    /// fails in the last minutes of a night would be missed.
    fn take(
        &mut self,
        air: &Air<'_>,
        span: Time,
        start: Plan,
        observe: &mut impl FnMut(&Seen),
    ) -> ControlFlow<()> {
        let served = self.serve(air, span);
        let beside = |plan: Plan| match &served {
            Some(served) => plan.beside_store(&served.plan, served.left_to_pack),
            None => plan,
        };
        let start = &beside(start);
        self.note_asked(air, start);
        if start.dead.is_some() {
            self.see(start, Time::ZERO, observe);
        }
        self.note_failures(start, air)?;
        let brought = self.recharge(air, start.charge, span);
        let net = start.charge - brought.kept;
        let predicted = air.mean.after(&self.state, net / span, span);
        let end = beside(self.plan(air, &predicted, span));
        let mean = if end.dead.is_some() {
            start
        } else {
            &start.mean_with(&end)
        };
        let brought = self.recharge(air, mean.charge, span);
        let current = (mean.charge - brought.kept) / span;
        let empty = air.mean.time_to_empty(&self.state, current, span);
        let taken = empty.unwrap_or(span);
        self.draw(
            &air.mean,
            mean,
            &brought,
            served.as_ref(),
            (taken, taken / span),
        );
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

    /// What a store beside the pack makes of a step, if there is one.
    fn serve(&self, air: &Air<'_>, span: Time) -> Option<Served> {
        let store = self.store.as_ref()?;
        let plan = self.planner().plan_on_store(&air.hour, span);
        Some(store.serve(plan, &air.hour, span))
    }

    /// What a panel brings to the pack in a step in which each string gives `drawn`.
    fn recharge(&self, air: &Air<'_>, drawn: Charge, span: Time) -> Recharge {
        match self.warmth {
            Some(warmth) => {
                let offer = Offer {
                    warmth,
                    panel: air.hour.panel,
                    drawn,
                    span,
                };
                recharge(&self.scenario.pack, &air.mean, &self.state, &offer)
            }
            None => Recharge::default(),
        }
    }

    /// Lets a pack that a panel charges follow the air.
    fn follow_air(&mut self, air: Temperature, span: Time) {
        if let Some(Feeds::Pack { lag }) = self.scenario.feeds {
            let before = self.warmth.unwrap_or(air);
            self.warmth = Some(followed(before, air, span, lag));
        }
    }

    /// Moves the clock, and shows the step to the observer.
    fn see(&mut self, plan: &Plan, span: Time, observe: &mut impl FnMut(&Seen)) {
        self.outcome.followed += span;
        observe(&Seen {
            after: self.outcome.followed,
            charge_left: self.charge_left(),
            store_left: self.store.as_ref().map(Beside::share),
            asleep: plan.asleep,
            lowest: plan.lowest,
        });
    }

    /// Moves the charge of a plan and of what a panel brought, over `span`, a share of the step, and
    /// books it.
    fn draw(
        &mut self,
        at: &PackAt<'_>,
        plan: &Plan,
        brought: &Recharge,
        served: Option<&Served>,
        (span, share): (Time, f64),
    ) {
        let pack = &self.scenario.pack;
        let charge = (plan.charge - brought.kept) * share;
        let before = self.state;
        let drawn = at.after(&before, charge / span, span);
        let levelled = (at.levelled_voltage(&before) + at.levelled_voltage(&drawn)) / 2.0;
        self.state = at.stored(&drawn, span);

        let strings = f64::from(pack.parallel());
        let ledger = &mut self.outcome.ledger;
        ledger.resistive += plan.heat * share;
        ledger.held_back += charge * levelled * strings - (plan.released - brought.stored) * share;
        ledger.self_discharge += pack.energy_left(&drawn) - pack.energy_left(&self.state);
        ledger.panel.add(&brought.panel, share);
        // What a store gives it gives in the whole step.
        let of_pack = served.map_or(1.0, |served| served.left_to_pack);
        ledger
            .used
            .add_all(&plan.used, 1.0 - of_pack + of_pack * share);
        if let (Some(store), Some(served)) = (&mut self.store, served) {
            store.take(served, ledger);
            if served.left_to_pack > 0.0 {
                self.outcome
                    .store_empty
                    .get_or_insert(self.outcome.followed);
            }
        }
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
