//! A string that a panel charges for a while.

use super::Charging;
use crate::harvest::{ChargeWindow, FromPanel};
use crate::number::{Number, part_of};
use crate::units::{Charge, Current, Energy, Power, Resistance, Time, Voltage};

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
    /// Between which temperatures the cell may be charged.
    pub(crate) const fn window(&self) -> ChargeWindow {
        ChargeWindow {
            coldest: self.coldest,
            warmest: self.warmest,
        }
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
        let none = Voltage::ZERO.everywhere();
        let taken_fastest = self.energy(fastest).min(offered);
        // The voltage at the end is that at the start, and what the whole current adds, in proportion.
        let rise = self.resistance * fastest + limits.climb.max(none);
        let below_limit = (limits.limit - self.open_circuit).max(none);
        let by_voltage = part_of(below_limit.si(), rise.si());
        let kept = self.kept(fastest);
        let by_room = part_of(limits.room.si(), kept.si());
        // The voltage climbs behind a current that was worked out at its start: a cell that loses next
        // to nothing must not keep more than it is given.
        let mean = self.open_circuit + limits.climb.max(none) * N::from(0.5);
        let worth = kept * mean * N::from(self.strings);
        let by_energy = part_of(taken_fastest.si(), worth.si());
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
