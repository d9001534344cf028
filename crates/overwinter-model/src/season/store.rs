//! A store that a panel charges, beside the pack.

use super::Hour;
use super::ledger::Ledger;
use crate::harvest::{Store, StoreHour, StoreState};
use crate::units::{Energy, Power, Time};

/// A store beside the pack, which takes over where it is empty.
#[derive(Clone, Debug)]
pub(super) struct Beside<'a> {
    store: &'a Store,
    /// `None` before the first hour, whose air gives it its temperature.
    state: Option<StoreState>,
}

/// A step that a store serves as far as it can.
pub(super) struct Served {
    /// Share of what is asked of it that it leaves to the pack, 0 to 1.
    pub(super) left_to_pack: f64,
    /// Whether it is asked for what the camera draws asleep and no more: all else is the pack's.
    pub(super) only_asleep: bool,
    books: StoreHour,
    after: StoreState,
}

impl<'a> Beside<'a> {
    /// As it stands, or full.
    pub(super) const fn resume(store: &'a Store, state: Option<StoreState>) -> Self {
        Self { store, state }
    }

    pub(super) const fn state(&self) -> Option<StoreState> {
        self.state
    }

    /// Energy in it.
    pub(super) fn held(&self) -> Energy {
        self.state
            .as_ref()
            .map_or(self.store.capacity, |state| state.held)
    }

    /// The same over its capacity.
    pub(super) fn share(&self) -> f64 {
        if self.store.capacity > Energy::ZERO {
            self.held() / self.store.capacity
        } else {
            0.0
        }
    }

    fn standing(&self, hour: &Hour) -> StoreState {
        self.state.unwrap_or_else(|| self.store.full(hour.air))
    }

    /// Whether it is too cold in a step of `span` to carry more than the camera asleep.
    pub(super) fn is_weak(&self, hour: &Hour, span: Time) -> bool {
        self.store.is_weak(&self.standing(hour), hour.air, span)
    }

    /// Works out a step of `span` in which so much is wanted of it.
    pub(super) fn serve(&self, wanted: Energy, hour: &Hour, span: Time) -> Served {
        let mut after = self.standing(hour);
        let load: Power = wanted / span;
        let books = self
            .store
            .step(&mut after, hour.panel, load, hour.air, span);
        Served {
            left_to_pack: books.unmet_share(wanted),
            only_asleep: false,
            books,
            after,
        }
    }

    /// Works out the same where the store carries a camera asleep, which draws `standby`, and no more.
    pub(super) fn serve_asleep(&self, standby: Power, hour: &Hour, span: Time) -> Served {
        Served {
            only_asleep: true,
            ..self.serve(standby * span, hour, span)
        }
    }

    /// Takes a step that was worked out.
    pub(super) fn take(&mut self, served: &Served, ledger: &mut Ledger) {
        self.state = Some(served.after);
        ledger.self_discharge += served.books.self_discharge;
        ledger.panel.add(&served.books.panel, 1.0);
    }
}
