//! The books of a panel, on several paths at once.

use crate::lanes::Lanes;

/// What became of a panel's power: joules so far, as in [`crate::season::FromPanel`].
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PanelBooks<const L: usize> {
    /// All that it had to give.
    pub offered_j: Lanes<L>,
    /// Not taken: too cold or too warm to be charged, or faster than may be charged.
    pub kept_out_j: Lanes<L>,
    /// Not taken: there was no more room.
    pub spilled_j: Lanes<L>,
    /// Lost in charging.
    pub charging_loss_j: Lanes<L>,
}

impl<const L: usize> PanelBooks<L> {
    pub(super) const NOTHING: Self = Self {
        offered_j: Lanes::all(0.0),
        kept_out_j: Lanes::all(0.0),
        spilled_j: Lanes::all(0.0),
        charging_loss_j: Lanes::all(0.0),
    };

    /// What was of use.
    #[must_use]
    pub fn stored_j(&self) -> Lanes<L> {
        self.offered_j - self.kept_out_j - self.spilled_j - self.charging_loss_j
    }

    /// Adds `part` of another's, lane by lane.
    #[inline(always)]
    pub(super) fn add(&mut self, other: &Self, part: Lanes<L>) {
        self.offered_j += other.offered_j * part;
        self.kept_out_j += other.kept_out_j * part;
        self.spilled_j += other.spilled_j * part;
        self.charging_loss_j += other.charging_loss_j * part;
    }
}
