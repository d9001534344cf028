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
    /// All of it together: the slowest branch is settled within an hour.
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::Temperature;
    use proptest::prelude::*;

    const HOUR: Time = Time::from_hours(1.0);

    /// A string of a pack, a panel's power, and what limits the charge.
    #[derive(Clone, Debug)]
    struct Case {
        charging: Charging,
        strings: f64,
        volts: f64,
        ohms: f64,
        watts: f64,
        climb: f64,
        below_limit: f64,
        room_ah: f64,
    }

    prop_compose! {
        fn case()(
            efficiency in prop_oneof![Just(1.0), 0.5..1.0_f64],
            strings in 1..4_u8,
            volts in 3.0..15.0_f64,
            ohms in prop_oneof![1 => 1e-4..1e-3_f64, 2 => 0.01..5.0_f64],
            watts in 0.01..40.0_f64,
            climb in -0.2..1.0_f64,
            below_limit in prop_oneof![1 => -0.5..0.0_f64, 3 => 0.0..3.0_f64, 1 => Just(1e3)],
            room_ah in prop_oneof![3 => 0.0..1.0_f64, 2 => Just(1e3)],
        ) -> Case {
            let charging = Charging {
                efficiency,
                coldest: Temperature::from_celsius(0.0),
                warmest: Temperature::from_celsius(45.0),
                limit: Voltage::from_volts(3.65),
                limit_per_k: 0.0,
                largest: Current::from_amperes(1.5),
            };
            let strings = f64::from(strings);
            Case { charging, strings, volts, ohms, watts, climb, below_limit, room_ah }
        }
    }

    impl Case {
        fn charger(&self) -> Charger<'_> {
            Charger {
                charging: &self.charging,
                strings: self.strings,
                open_circuit: Voltage::from_volts(self.volts),
                resistance: Resistance::from_ohms(self.ohms),
                span: HOUR,
            }
        }

        /// Watts of all strings at so many amperes through each.
        fn taken_w(&self, amperes: f64) -> f64 {
            amperes * (self.volts + self.ohms * amperes) * self.strings
        }
    }

    fn near(a: f64, b: f64) -> bool {
        (a - b).abs() <= 1e-9 * a.abs().max(b.abs())
    }

    proptest! {
        #[test]
        fn the_fastest_current_takes_the_panels_power_or_is_the_largest(case in case()) {
            let amperes = case.charger().fastest(Power::from_watts(case.watts)).as_amperes();
            let taken = case.taken_w(amperes);
            prop_assert!(
                near(taken, case.watts) || (near(amperes, 1.5) && taken < case.watts),
                "{amperes} {taken}"
            );
        }

        /// In an hour, so that amperes are ampere-hours and watts watt-hours.
        #[test]
        fn a_charge_is_the_most_that_its_limits_allow(case in case()) {
            let charger = case.charger();
            let offered = Power::from_watts(case.watts) * HOUR;
            let fastest = charger.fastest(Power::from_watts(case.watts));
            let limits = ChargeLimits {
                climb: Voltage::from_volts(case.climb),
                limit: Voltage::from_volts(case.volts + case.below_limit),
                room: Charge::from_ampere_hours(case.room_ah),
            };
            let Recharge { kept, panel } = charger.charge(offered, fastest, &limits);
            let kept = kept.as_ampere_hours();
            let amperes = kept / case.charging.efficiency;
            let taken = (panel.offered - panel.kept_out - panel.spilled).as_watt_hours();
            prop_assert!((taken - case.taken_w(amperes)).abs() <= 1e-9 * case.watts, "{taken}");

            // Each limit holds, and one of them just so.
            let climb = case.climb.max(0.0);
            let share = amperes / fastest.as_amperes();
            let risen = case.ohms * amperes + share * climb;
            let worth = kept * (case.volts + 0.5 * climb) * case.strings;
            let could_take = case.taken_w(fastest.as_amperes());
            let met = [
                (share, 1.0),
                (risen, case.below_limit.max(0.0)),
                (kept, case.room_ah),
                (worth, could_take),
            ];
            for (is, most) in met {
                prop_assert!(is <= most * (1.0 + 1e-9), "{is} {most}");
            }
            prop_assert!(met.iter().any(|(is, most)| near(*is, *most)), "{met:?}");
        }
    }
}
