//! A string that a panel charges for a while.

use super::Charging;
use crate::harvest::FromPanel;
use crate::number::Number;
use crate::units::{Charge, Current, Energy, Power, Resistance, Temperature, Time, Voltage};

/// The strings of a pack as a steady charging current sees them over a span.
pub(crate) struct Charger<'a, N = f64> {
    pub(crate) charging: &'a Charging,
    /// Strings in parallel, which share the current evenly.
    pub(crate) strings: f64,
    /// Of one string, at the start of the span.
    pub(crate) open_circuit: Voltage<N>,
    /// Ohmic and slow together: the slow resistance is settled within minutes.
    pub(crate) resistance: Resistance<N>,
    pub(crate) span: Time,
}

/// What keeps a charge below the panel's whole power.
pub(crate) struct ChargeLimits<N = f64> {
    /// What the open-circuit voltage would climb by at the fastest current.
    pub(crate) climb: Voltage<N>,
    /// The string's voltage that must not be exceeded.
    pub(crate) limit: Voltage<N>,
    /// The charge that every cell has room for.
    pub(crate) room: Charge<N>,
}

/// What a panel brings to the pack over one step.
#[derive(Clone, Copy)]
pub(crate) struct Recharge<N = f64> {
    /// Charge that each string keeps.
    pub(crate) kept: Charge<N>,
    /// The step's books, but for the charging loss: what the charge that is kept is worth is known when
    /// the step's end is.
    pub(crate) panel: FromPanel<N>,
}

impl<N: Number> Recharge<N> {
    /// No panel.
    #[inline(always)]
    pub(crate) fn nothing() -> Self {
        Self {
            kept: Charge::ZERO.everywhere(),
            panel: FromPanel::nothing(),
        }
    }
}

impl Charging {
    /// Whether a pack that is so warm may be charged.
    #[cfg_attr(not(target_os = "none"), inline(always))]
    pub(crate) fn allows<N: Number>(&self, warmth: Temperature<N>) -> N::Mask {
        !(warmth.below(self.coldest.everywhere()) | self.warmest.everywhere().below(warmth))
    }
}

impl<N: Number> Charger<'_, N> {
    /// The current of each string that takes up `power` of all, up to the largest: `I (U + R I) = P`.
    #[cfg_attr(not(target_os = "none"), inline(always))]
    pub(crate) fn fastest(&self, power: Power<N>) -> Current<N> {
        let (u, r) = (self.open_circuit.si(), self.resistance.si());
        let p = (power / N::from(self.strings)).si();
        let root = (u * u + N::from(4.0) * r * p).sqrt();
        let current = Current::from_si(N::from(2.0) * p / (u + root));
        current.min(self.charging.largest.everywhere())
    }

    /// The charge that each string keeps of a current.
    #[cfg_attr(not(target_os = "none"), inline(always))]
    pub(crate) fn kept(&self, current: Current<N>) -> Charge<N> {
        current * self.span.everywhere() * N::from(self.charging.efficiency)
    }

    /// The energy that a current takes into all strings.
    #[cfg_attr(not(target_os = "none"), inline(always))]
    fn energy(&self, current: Current<N>) -> Energy<N> {
        let voltage = self.open_circuit + self.resistance * current;
        voltage * current * self.span.everywhere() * N::from(self.strings)
    }

    /// Charges at the `fastest` current up to the limit's voltage, and never more than there is room
    /// for, where a panel offers so much.
    ///
    /// The voltage is taken to climb evenly with the charge over the step. The cells' age goes on: what
    /// the sun tops up by day is no full charge that would begin it anew.
    #[cfg_attr(not(target_os = "none"), inline(always))]
    pub(crate) fn charge(
        &self,
        offered: Energy<N>,
        fastest: Current<N>,
        limits: &ChargeLimits<N>,
    ) -> Recharge<N> {
        let (one, none) = (N::from(1.0), Voltage::ZERO.everywhere());
        let taken_fastest = self.energy(fastest).min(offered);
        // The voltage at the end is that at the start, and what the whole current adds, in proportion.
        let rise = self.resistance * fastest + limits.climb.max(none);
        let below_limit = (limits.limit - self.open_circuit).max(none);
        let by_voltage = N::choose(below_limit.below(rise), below_limit / rise, one);
        let kept = self.kept(fastest);
        let by_room = N::choose(limits.room.below(kept), limits.room / kept, one);
        // The voltage climbs behind a current that was worked out at its start: a cell that loses next
        // to nothing must not keep more than it is given.
        let mean = self.open_circuit + limits.climb.max(none) * N::from(0.5);
        let worth = kept * mean * N::from(self.strings);
        let by_energy = N::choose(taken_fastest.below(worth), taken_fastest / worth, one);
        let current = fastest * by_voltage.min(by_room).min(by_energy);
        let taken = self.energy(current).min(taken_fastest);
        Recharge {
            kept: self.kept(current),
            panel: FromPanel {
                offered,
                kept_out: offered - taken_fastest,
                spilled: taken_fastest - taken,
                charging_loss: Energy::ZERO.everywhere(),
            },
        }
    }
}
