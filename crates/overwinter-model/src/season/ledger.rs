//! Where the energy went.

use serde::{Deserialize, Serialize};

use crate::draw::ByUse;
use crate::units::Energy;

/// Where the energy of a pack went, in joules at the open-circuit voltage of levelled cells.
///
/// Each entry is summed on its own, so that [`Ledger::imbalance`] checks the time loop.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Ledger {
    /// In the cells at the start.
    pub put_in: Energy,
    /// Delivered at the pack, by use.
    pub used: ByUse,
    /// Turned to heat in the cells' resistances.
    pub resistive: Energy,
    /// Given up because the charge within reach stands lower than the cell as a whole, and
    /// because a cold cell's open-circuit voltage is another one.
    pub held_back: Energy,
    /// Lost to self-discharge.
    pub self_discharge: Energy,
    /// Still in the cells at the end.
    pub left: Energy,
}

impl Ledger {
    /// What is unaccounted for, relative to what was put in.
    ///
    /// ```text
    /// (put in − used − resistive − held back − self-discharge − left) / put in
    /// ```
    #[must_use]
    pub fn imbalance(&self) -> f64 {
        let out = self.used.total() + self.resistive + self.held_back + self.self_discharge;
        (self.put_in - out - self.left) / self.put_in
    }
}
