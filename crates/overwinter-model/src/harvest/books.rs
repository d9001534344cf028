//! What becomes of a panel's energy.

use crate::lanes::Lanes;
use crate::number::Number;
use crate::units::Energy;

/// What a panel brought, behind its controller, and what became of it; what is left of the offer is
/// in the store or the pack, or has run the camera.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[cfg_attr(
    feature = "serde",
    serde(bound(
        serialize = "Energy<N>: serde::Serialize",
        deserialize = "Energy<N>: serde::Deserialize<'de>"
    ))
)]
pub struct FromPanel<N = f64> {
    /// All that it had to give.
    pub offered: Energy<N>,
    /// Not taken: too cold or too warm to be charged, or faster than may be charged.
    pub kept_out: Energy<N>,
    /// Not taken: there was no more room.
    pub spilled: Energy<N>,
    /// Lost in charging: all that was taken but what the charge that is kept is worth, and what of it
    /// came back from the slow resistance.
    pub charging_loss: Energy<N>,
}

impl<const L: usize> FromPanel<Lanes<L>> {
    /// Nothing yet.
    pub const NONE: Self = Self {
        offered: Energy::<Lanes<L>>::NONE,
        kept_out: Energy::<Lanes<L>>::NONE,
        spilled: Energy::<Lanes<L>>::NONE,
        charging_loss: Energy::<Lanes<L>>::NONE,
    };

    /// That of one of several seasons; nothing of one that is not there.
    #[must_use]
    pub fn lane(&self, lane: usize) -> FromPanel {
        let of = |energy: Energy<Lanes<L>>| energy.lanes().get(lane).copied().unwrap_or_default();
        FromPanel {
            offered: of(self.offered),
            kept_out: of(self.kept_out),
            spilled: of(self.spilled),
            charging_loss: of(self.charging_loss),
        }
    }
}

impl<N: Number> FromPanel<N> {
    /// Nothing yet.
    #[inline(always)]
    #[must_use]
    pub fn nothing() -> Self {
        let none = Energy::ZERO.everywhere();
        Self {
            offered: none,
            kept_out: none,
            spilled: none,
            charging_loss: none,
        }
    }

    /// What was of use.
    #[cfg_attr(not(target_os = "none"), inline(always))]
    #[must_use]
    pub fn stored(&self) -> Energy<N> {
        self.offered - self.kept_out - self.spilled - self.charging_loss
    }

    /// Books `share` of what `part` says.
    #[cfg_attr(not(target_os = "none"), inline(always))]
    pub fn add(&mut self, part: &Self, share: N) {
        self.offered += part.offered * share;
        self.kept_out += part.kept_out * share;
        self.spilled += part.spilled * share;
        self.charging_loss += part.charging_loss * share;
    }
}
