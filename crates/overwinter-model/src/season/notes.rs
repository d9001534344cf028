//! What is seen of a camera's steps and noted of them.

use core::ops::ControlFlow;

use super::camera::Camera;
use super::plan::{Failure, Plan};
use super::step::Step;
use super::store::Beside;
use super::{Cause, End, Ending, Seen};
use crate::cell::Asked;
use crate::units::Time;

impl Camera<'_> {
    /// Moves the clock, and shows the step to the observer.
    pub(super) fn see(&mut self, plan: &Plan, span: Time, observe: &mut dyn FnMut(&Seen)) {
        self.outcome.followed += span;
        observe(&Seen {
            after: self.outcome.followed,
            charge_left: self.charge_left(),
            store_left: self.store.as_ref().map(Beside::share),
            asleep: plan.asleep,
            lowest: plan.lowest,
        });
    }

    /// Notes the first step at whose end the card is full.
    pub(super) fn note_card(&mut self, step: &Step<'_>) {
        if let Some(card) = &self.scenario.draw.card
            && self.outcome.ends[Ending::CardRoom].is_none()
            && card.is_full(self.card_mb)
        {
            let failure = Failure {
                cause: Cause::CardFull,
                voltage: None,
            };
            self.outcome.ends[Ending::CardRoom] = Some(self.end(failure, step));
        }
    }

    /// Notes the first step in which a store leaves something to the pack.
    pub(super) fn note_store(&mut self, step: &Step<'_>) {
        if self.outcome.ends[Ending::Store].is_none() {
            let failure = Failure {
                cause: Cause::StoreEmpty,
                voltage: None,
            };
            self.outcome.ends[Ending::Store] = Some(self.end(failure, step));
        }
    }

    /// Notes what a plan finds failing for the first time; breaks off if the camera is dead.
    pub(super) fn note_failures(&mut self, plan: &Plan, step: &Step<'_>) -> ControlFlow<()> {
        for (ending, failed) in [
            (Ending::NightPictures, plan.flash_failed),
            (Ending::Uploads, plan.upload_failed),
        ] {
            if self.outcome.ends[ending].is_none() {
                self.outcome.ends[ending] = failed.map(|why| self.end(why, step));
            }
        }
        match plan.dead {
            Some(failure) => self.die(failure, step),
            None => ControlFlow::Continue(()),
        }
    }

    pub(super) fn die(&mut self, failure: Failure, step: &Step<'_>) -> ControlFlow<()> {
        self.outcome.ends[Ending::Camera] = Some(self.end(failure, step));
        if self.outlives {
            return ControlFlow::Continue(());
        }
        ControlFlow::Break(())
    }

    /// Notes what was asked of the cells, and the first time that the weakest of them is pulled
    /// under its floor.
    pub(super) fn note_asked(&mut self, step: &Step<'_>, plan: &Plan) {
        let (current, polarisation) = plan.peak;
        let coldest = step.hour.coldest;
        self.outcome
            .asked
            .get_or_insert(Asked::once(coldest, current))
            .widen(coldest, current);
        if self.outcome.under_floor.is_none() {
            let floor = self.scenario.pack.cell().floor;
            let weakest = step
                .coldest
                .weakest_voltage(&self.state, current, &polarisation);
            self.outcome.under_floor = (weakest < floor).then_some(self.outcome.followed);
        }
    }

    pub(super) fn end(&self, failure: Failure, step: &Step<'_>) -> End {
        End {
            after: self.outcome.followed,
            cause: failure.cause,
            air: step.hour.coldest,
            voltage: failure.voltage,
            charge_left: self.charge_left(),
        }
    }

    pub(super) fn charge_left(&self) -> f64 {
        1.0 - self.scenario.pack.depth(&self.state)
    }
}
