//! One step of a camera: planned, taken and booked.

use core::ops::ControlFlow;

use super::camera::Camera;
use super::plan::{Failure, Plan, Planner, Standing};
use super::recharge::{Offer, recharge, stored};
use super::store::Served;
use super::{Cause, Ending, Feeds, Hour, Seen};
use crate::arithmetic::min;
use crate::cell::Recharge;
use crate::harvest::followed;
use crate::pack::{Pack, PackAt, PackState};
use crate::units::{Charge, Energy, Time};

/// A step never moves more than this share of the weakest cell's capacity: with it, halving the
/// step moves the end of a two-day discharge by less than 0.2 %.
const LARGEST_SHARE: f64 = 1.0 / 250.0;

/// The most parts that a step is divided into: one second of an hour.
const MOST_PARTS: f64 = 3600.0;

/// What a step meets: an hour, with the pack at its mean temperature and at its coldest, for a while.
pub(super) struct Step<'a> {
    pub(super) hour: &'a Hour,
    pub(super) mean: PackAt<'a>,
    pub(super) coldest: PackAt<'a>,
    pub(super) span: Time,
}

impl<'a> Step<'a> {
    pub(super) fn of(pack: &'a Pack, hour: &'a Hour, span: Time) -> Self {
        Self {
            hour,
            mean: pack.at(hour.air),
            coldest: pack.at(hour.coldest),
            span,
        }
    }
}

// On a device no two of these may stand in one frame of the stack beside each other: so what is not
// inlined here.
impl Camera<'_> {
    /// Works a step out from `state` into `plan`. Its voltages are those of the hour's coldest; the
    /// charge that they cost differs from that of its mean by less than the cells do.
    #[inline(never)]
    pub(super) fn plan(&self, plan: &mut Plan, step: &Step<'_>, state: &PackState) {
        plan.clear();
        let standing = Standing {
            circuit: step.coldest.string_circuit(state),
            polarisation: step.coldest.polarisation(state),
            strings: f64::from(self.scenario.pack.parallel()),
        };
        self.planner(step).plan(plan, &standing, step);
    }

    fn planner(&self, step: &Step<'_>) -> Planner<'_> {
        Planner {
            draw: &self.scenario.draw,
            to_send: self.to_send,
            asleep_on_pack: self
                .serve_asleep(step)
                .map_or(1.0, |served| served.left_to_pack),
        }
    }

    /// What a store beside the pack makes of a step in which it is too cold for more than the camera
    /// asleep; `None` in every other.
    #[inline(never)]
    fn serve_asleep(&self, step: &Step<'_>) -> Option<Served> {
        let store = self.store.as_ref()?;
        let standby = self.scenario.draw.standby;
        store
            .is_weak(step.hour, step.span)
            .then(|| store.serve_asleep(standby, step.hour, step.span))
    }

    /// Into how many parts a step must be divided, as a whole number.
    pub(super) fn parts(&self, at: &PackAt<'_>, moved: Charge) -> f64 {
        let largest = at.smallest_capacity() * LARGEST_SHARE;
        min(libm::ceil(moved / largest), MOST_PARTS)
    }

    /// Takes a step whose start is planned for the pack alone as `plan`, by Heun's method: what is
    /// drawn is the mean of what the start asks for and what the end would.
    ///
    /// The end is asked for its failures too: the next hour may be light or warm again, and what
    /// fails in the last minutes of a night would be missed.
    #[inline(never)]
    pub(super) fn take(
        &mut self,
        step: &Step<'_>,
        plan: &mut Plan,
        observe: &mut dyn FnMut(&Seen),
    ) -> ControlFlow<()> {
        // First the store's plan of the step, then that of the step's end: a small stack has no room for both.
        let other = &mut Plan::default();
        let served = &self.serve(other, step);
        if let Some(served) = served {
            plan.beside_store(other, served);
        }
        self.note_asked(step, plan);
        if plan.dead.is_some() {
            self.see(plan, Time::ZERO, observe);
        }
        self.note_failures(plan, step)?;
        let end = other;
        self.plan_end(end, step, plan.charge);
        if let Some(served) = served {
            end.beside_store(plan, served);
        }
        if end.dead.is_none() {
            plan.draw_mean_with(end);
        }
        let empty = self.draw(step, plan, served.as_ref());
        self.see(end, empty.unwrap_or(step.span), observe);
        self.note_card(step);
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
            return self.die(failure, step);
        }
        self.waiting_pictures += plan.waiting_pictures;
        self.note_asked(step, end);
        self.note_failures(end, step)
    }

    /// Works out the end of a step in which each string gives `charge`.
    #[inline(never)]
    fn plan_end(&self, end: &mut Plan, step: &Step<'_>, charge: Charge) {
        let net = charge - self.kept(step, charge);
        let predicted = step.mean.after(&self.state, net / step.span, step.span);
        self.plan(end, step, &predicted);
    }

    /// Works out a step that a store beside the pack runs, if there is one, into an empty plan, and
    /// what the store makes of it.
    #[inline(never)]
    fn serve(&self, plan: &mut Plan, step: &Step<'_>) -> Option<Served> {
        let store = self.store.as_ref()?;
        let asleep = self.serve_asleep(step);
        if asleep.is_some() {
            return asleep;
        }
        self.planner(step).plan_on_store(plan, step);
        Some(store.serve(plan.used.total(), step.hour, step.span))
    }

    /// The charge that each string keeps of what a panel brings while it gives `drawn`.
    #[inline(never)]
    pub(super) fn kept(&self, step: &Step<'_>, drawn: Charge) -> Charge {
        self.recharge(step, drawn).kept
    }

    /// What a panel brings to the pack in a step in which each string gives `drawn`.
    fn recharge(&self, step: &Step<'_>, drawn: Charge) -> Recharge {
        match self.warmth {
            Some(warmth) => {
                let offer = Offer {
                    warmth,
                    panel: step.hour.panel,
                    drawn,
                    span: step.span,
                };
                recharge(&self.scenario.pack, &step.mean, &self.state, &offer)
            }
            None => Recharge::nothing(),
        }
    }

    /// Lets a pack that a panel charges follow the air.
    pub(super) fn follow_air(&mut self, step: &Step<'_>) {
        if let Some(Feeds::Pack { lag }) = self.scenario.feeds {
            let air = step.hour.air;
            let before = self.warmth.unwrap_or(air);
            self.warmth = Some(followed(before, air, step.span, lag));
        }
    }

    /// Moves the charge of a plan and of what a panel brings, and books it: over the step, or until the
    /// weakest cell has nothing left within reach, and gives that time.
    #[inline(never)]
    fn draw(&mut self, step: &Step<'_>, plan: &Plan, served: Option<&Served>) -> Option<Time> {
        let brought = &self.recharge(step, plan.charge);
        let current = (plan.charge - brought.kept) / step.span;
        let empty = step.mean.time_to_empty(&self.state, current, step.span);
        self.book(step, plan, brought, served, empty.unwrap_or(step.span));
        empty
    }

    /// The same for the first `span` of the step, in which the weakest cell is not empty yet.
    #[inline(never)]
    fn book(
        &mut self,
        step: &Step<'_>,
        plan: &Plan,
        brought: &Recharge,
        served: Option<&Served>,
        span: Time,
    ) {
        let share = span / step.span;
        let at = &step.mean;
        let pack = &self.scenario.pack;
        let charge = (plan.charge - brought.kept) * share;
        let before = self.state;
        let drawn = at.after(&before, charge / span, span);
        let levelled = at.levelled_voltage(&before, &drawn);
        self.state = at.stored(&drawn, span);

        let strings = f64::from(pack.parallel());
        let stored = stored(brought.kept, at, &before, &drawn);
        let by_warmth = (plan.charge * step.coldest.open_circuit_shift()
            - brought.kept * at.open_circuit_shift())
            * (strings * share);
        self.by_warmth += by_warmth;
        let ledger = &mut self.outcome.ledger;
        ledger.held_back +=
            charge * levelled * strings - (plan.released - stored) * share + by_warmth;
        ledger.self_discharge += pack.energy_left(&drawn) - pack.energy_left(&self.state);
        ledger.panel.add(&brought.panel, share);
        // What a charge has left across the branches is the charge's when it comes back.
        ledger.resistive += plan.heat.max(Energy::ZERO) * share;
        let given_back = plan.heat.min(Energy::ZERO);
        ledger.panel.charging_loss += (brought.panel.stored() - stored + given_back) * share;
        plan.book_used(&mut ledger.used, served, share);
        if let (Some(store), Some(served)) = (&mut self.store, served) {
            store.take(served, ledger);
            if served.left_to_pack > 0.0 {
                self.note_store(step);
            }
        }
        self.night_pictures += (plan.night_triggers - plan.dark_triggers) * share;
        self.outcome.triggers += plan.triggers * share;
        self.outcome.dark_triggers += plan.dark_triggers * share;
        if self.outcome.ends[Ending::CardRoom].is_none() {
            self.outcome.kept += (plan.triggers - plan.dark_triggers) * share;
        }
        self.card_mb += plan.card_mb * share;
    }
}
