//! One step of a camera: planned, taken and booked.

use core::ops::ControlFlow;

use super::camera::Camera;
use super::plan::{Failure, Plan, Planner, Standing};
use super::recharge::{Offer, Recharge, recharge};
use super::store::Served;
use super::{Cause, Feeds, Hour, Seen};
use crate::harvest::followed;
use crate::pack::{Pack, PackAt, PackState};
use crate::units::{Charge, Temperature, Time};

/// A step never moves more than this share of the weakest cell's capacity: with it, halving the
/// step moves the end of a two-day discharge by less than 0.2 %.
const LARGEST_SHARE: f64 = 1.0 / 250.0;

/// The most parts that a step is divided into: one second of an hour.
const MOST_PARTS: f64 = 3600.0;

/// An hour with the pack at its mean temperature and at its coldest.
pub(super) struct Air<'a> {
    pub(super) hour: Hour,
    pub(super) mean: PackAt<'a>,
    pub(super) coldest: PackAt<'a>,
}

impl<'a> Air<'a> {
    pub(super) fn of(pack: &'a Pack, hour: &Hour) -> Self {
        Self {
            hour: *hour,
            mean: pack.at(hour.air),
            coldest: pack.at(hour.coldest),
        }
    }
}

impl Camera<'_> {
    /// Works a step out from `state`. Its voltages are those of the hour's coldest; the charge that
    /// they cost differs from that of its mean by less than the cells do.
    pub(super) fn plan(&self, air: &Air<'_>, state: &PackState, span: Time) -> Plan {
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
    pub(super) fn parts(&self, at: &PackAt<'_>, moved: Charge) -> f64 {
        let largest = at.smallest_capacity() * LARGEST_SHARE;
        libm::fmin(libm::ceil(moved / largest), MOST_PARTS)
    }

    /// Takes a step whose `start` is planned for the pack alone, by Heun's method: what is drawn is
    /// the mean of what the start asks for and what the end would.
    ///
    /// The end is asked for its failures too: the next hour may be light or warm again, and what
    /// fails in the last minutes of a night would be missed.
    pub(super) fn take(
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
    pub(super) fn recharge(&self, air: &Air<'_>, drawn: Charge, span: Time) -> Recharge {
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
    pub(super) fn follow_air(&mut self, air: Temperature, span: Time) {
        if let Some(Feeds::Pack { lag }) = self.scenario.feeds {
            let before = self.warmth.unwrap_or(air);
            self.warmth = Some(followed(before, air, span, lag));
        }
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
        self.night_pictures += (plan.night_triggers - plan.dark_triggers) * share;
        self.outcome.triggers += plan.triggers * share;
        self.outcome.dark_triggers += plan.dark_triggers * share;
        if self.outcome.card_full.is_none() {
            self.outcome.kept += (plan.triggers - plan.dark_triggers) * share;
        }
        self.card_mb += plan.card_mb * share;
    }
}
