//! Where the energy went.

use crate::draw::ByUse;
use crate::harvest::FromPanel;
use crate::units::Energy;

/// Where the energy of a pack, and of a store beside it, went: in joules, of the cells at the
/// open-circuit voltage of levelled ones.
///
/// Each entry is summed on its own, so that [`Ledger::imbalance`] checks the time loop.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct Ledger {
    /// In the cells and the store at the start; and, once the books are closed, what the air's warmth
    /// added. Charge is counted at the voltage of the reference temperature: cells whose voltage rises
    /// with temperature give more than that in the warm, and take less to be charged in the cold.
    pub put_in: Energy,
    /// Delivered to the camera, by use.
    pub used: ByUse,
    /// Turned to heat in the cells' resistances by what the camera draws.
    pub resistive: Energy,
    /// Given up because the charge within reach stands lower than the cell as a whole, and, once the
    /// books are closed, because a cell's open-circuit voltage is lower than at the reference
    /// temperature.
    pub held_back: Energy,
    /// Lost to self-discharge.
    pub self_discharge: Energy,
    /// Still in the cells and the store at the end.
    pub left: Energy,
    /// What came from a panel.
    pub panel: FromPanel,
}

impl Ledger {
    /// What is unaccounted for, relative to what was put in and what a panel offered.
    ///
    /// ```text
    /// (put in + stored from the panel − used − resistive − held back − self-discharge − left)
    ///     / (put in + offered by the panel)
    /// ```
    #[must_use]
    pub fn imbalance(&self) -> f64 {
        let out = self.used.total() + self.resistive + self.held_back + self.self_discharge;
        let came = self.put_in + self.panel.stored();
        (came - out - self.left) / (self.put_in + self.panel.offered)
    }
}
