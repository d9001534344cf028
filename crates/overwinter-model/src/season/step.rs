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
    pub(super) hour: &'a Hour,
    pub(super) mean: PackAt<'a>,
    pub(super) coldest: PackAt<'a>,
}

impl<'a> Air<'a> {
    pub(super) fn of(pack: &'a Pack, hour: &'a Hour) -> Self {
        Self {
            hour,
            mean: pack.at(hour.air),
            coldest: pack.at(hour.coldest),
        }
    }
}

impl Camera<'_> {
    /// Works a step out from `state` into `plan`. Its voltages are those of the hour's coldest; the
    /// charge that they cost differs from that of its mean by less than the cells do.
    #[inline(never)]
    pub(super) fn plan(&self, plan: &mut Plan, air: &Air<'_>, state: &PackState, span: Time) {
        *plan = Plan::default();
        let standing = Standing {
            circuit: air.coldest.string_circuit(state),
            polarisation: air.coldest.polarisation(state),
            strings: f64::from(self.scenario.pack.parallel()),
        };
        self.planner().plan(plan, &standing, air.hour, span);
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

    /// Takes a step whose start is planned for the pack alone as `plan`, by Heun's method: what is
    /// drawn is the mean of what the start asks for and what the end would.
    ///
    /// The end is asked for its failures too: the next hour may be light or warm again, and what
    /// fails in the last minutes of a night would be missed.
    pub(super) fn take(
        &mut self,
        air: &Air<'_>,
        span: Time,
        plan: &mut Plan,
        observe: &mut dyn FnMut(&Seen),
    ) -> ControlFlow<()> {
        let served = &self.serve(air, span);
        beside_store(plan, served, |plan| self.plan_on_store(plan, air, span));
        self.note_asked(air, plan);
        if plan.dead.is_some() {
            self.see(plan, Time::ZERO, observe);
        }
        self.note_failures(plan, air)?;
        let end = &mut Plan::default();
        self.plan_end(end, air, plan.charge, span);
        beside_store(end, served, |end| end.clone_from(plan));
        if end.dead.is_none() {
            plan.draw_mean_with(end);
        }
        let brought = &self.recharge(air, plan.charge, span);
        let current = (plan.charge - brought.kept) / span;
        let empty = air.mean.time_to_empty(&self.state, current, span);
        let taken = empty.unwrap_or(span);
        self.draw(
            &air.mean,
            plan,
            brought,
            served.as_ref(),
            (taken, taken / span),
        );
        self.see(end, taken, observe);
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
        self.waiting_pictures += plan.waiting_pictures;
        self.note_asked(air, end);
        self.note_failures(end, air)
    }

    /// Works out the end of a step in which each string gives `charge`.
    fn plan_end(&self, end: &mut Plan, air: &Air<'_>, charge: Charge, span: Time) {
        let brought = self.recharge(air, charge, span);
        let net = charge - brought.kept;
        let predicted = air.mean.after(&self.state, net / span, span);
        self.plan(end, air, &predicted, span);
    }

    /// What a store beside the pack makes of a step, if there is one.
    #[inline(never)]
    fn serve(&self, air: &Air<'_>, span: Time) -> Option<Served> {
        let store = self.store.as_ref()?;
        let mut plan = Plan::default();
        self.plan_on_store(&mut plan, air, span);
        Some(store.serve(plan.used.total(), air.hour, span))
    }

    /// Works out a step that a store runs.
    fn plan_on_store(&self, plan: &mut Plan, air: &Air<'_>, span: Time) {
        *plan = Plan::default();
        self.planner().plan_on_store(plan, air.hour, span);
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
    #[inline(never)]
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

/// Makes a plan for the pack alone one for a pack beside a store, if there is one, where `on_store`
/// plans for the store alone. A pack that is left nothing fails at nothing.
fn beside_store(plan: &mut Plan, served: &Option<Served>, on_store: impl FnOnce(&mut Plan)) {
    let Some(served) = served else {
        return;
    };
    if served.left_to_pack <= 0.0 {
        let asleep = plan.asleep;
        on_store(plan);
        plan.asleep = asleep;
        plan.lowest = Some(asleep);
    } else {
        plan.scale(served.left_to_pack);
    }
}
