//! Putting charge back: what a chemistry takes, at which temperatures, and what it costs.

use super::{Cell, CellAt, CellState, Chemistry};
use crate::units::{Charge, Current, Energy, Temperature, Time, Voltage};

/// How a chemistry is charged. Voltages are those of one cell.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Charging {
    /// Coldest temperature at which it may be charged.
    pub coldest: Temperature,
    /// Warmest temperature at which it may be charged.
    pub warmest: Temperature,
    /// Highest voltage while charging, at the reference temperature.
    pub limit: Voltage,
    /// Change of that voltage, volts per kelvin.
    pub limit_per_k: f64,
    /// Largest current in capacities per hour.
    pub largest_rate: f64,
    /// Charge kept of the charge put in, 0 to 1.
    pub efficiency: f64,
}

impl Charging {
    /// How a chemistry is charged; `None` if it must not be.
    ///
    /// Windows, voltages and rates stand in `datasheets-notes/limits.csv`:
    /// nickel-metal hydride rows 011 and 012; lithium iron phosphate 016, 017, 030 and 032 (pack of
    /// four in series); lead-acid 021, 022, 025 (six in series, the low end of cyclic charging, with
    /// its −30 mV per °C) and 029. From memory: all of lithium-ion, the voltage and rate of
    /// nickel-metal hydride, and the efficiencies but that of lithium iron phosphate, which is
    /// 2060 mAh delivered for 2063 mAh put in at 25 °C (`lfp-18650.csv`, rows 010 and 011).
    #[must_use]
    pub const fn of(chemistry: Chemistry) -> Option<Self> {
        let (window_c, limit_v, limit_per_k, largest_rate, efficiency) = match chemistry {
            Chemistry::Alkaline | Chemistry::LithiumIronDisulfide => return None,
            Chemistry::NickelMetalHydride => ((0.0, 45.0), 1.50, -0.003, 0.5, 0.90),
            Chemistry::LithiumIronPhosphate => ((0.0, 45.0), 14.6 / 4.0, 0.0, 1.0, 0.9985),
            Chemistry::LithiumIon => ((0.0, 45.0), 4.20, 0.0, 0.5, 0.995),
            Chemistry::LeadAcid => ((0.0, 40.0), 14.4 / 6.0, -0.005, 0.3, 0.90),
        };
        let (coldest_c, warmest_c) = window_c;
        Some(Self {
            coldest: Temperature::from_celsius(coldest_c),
            warmest: Temperature::from_celsius(warmest_c),
            limit: Voltage::from_volts(limit_v),
            limit_per_k,
            largest_rate,
            efficiency,
        })
    }
}

/// Why a cell is not charged. Each variant carries the value that broke the rule.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub enum ChargeRefused {
    /// A primary cell leaks, vents or burns when it is charged.
    Primary(Chemistry),
    /// In frost a charge plates metal, or makes gas, in place of being stored.
    TooCold {
        /// Temperature now.
        at: Temperature,
        /// Coldest allowed.
        coldest: Temperature,
    },
    /// Heat ages the cell and may run away.
    TooWarm {
        /// Temperature now.
        at: Temperature,
        /// Warmest allowed.
        warmest: Temperature,
    },
}

impl core::fmt::Display for ChargeRefused {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        match self {
            Self::Primary(_) => write!(f, "a primary cell must not be charged"),
            Self::TooCold { at, coldest } => write!(
                f,
                "{:.1} °C is too cold to charge: {:.0} °C at least",
                at.as_celsius(),
                coldest.as_celsius()
            ),
            Self::TooWarm { at, warmest } => write!(
                f,
                "{:.1} °C is too warm to charge: {:.0} °C at most",
                at.as_celsius(),
                warmest.as_celsius()
            ),
        }
    }
}

impl core::error::Error for ChargeRefused {}

/// What came of charging one cell.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Charged {
    /// The cell afterwards.
    pub state: CellState,
    /// Charge put in at the terminals.
    pub taken: Charge,
    /// Energy put in at the terminals.
    pub put_in: Energy,
    /// Energy gained by the cell, at its levelled open-circuit voltage.
    pub stored: Energy,
    /// Energy turned to heat in the resistances, in what is not kept, and because the charge within
    /// reach stands higher than the cell as a whole.
    pub lost: Energy,
}

/// The most steps that one charge is divided into.
const MOST_STEPS: f64 = 20_000.0;

/// A step never offers more than this share of the capacity.
const LARGEST_SHARE: f64 = 1.0 / 400.0;

/// Steps to a time constant of the slow resistance.
const STEPS_PER_TIME_CONSTANT: f64 = 4.0;

impl CellAt<'_> {
    /// Offers `offered` to one cell for `span`: it takes that, or less once its voltage meets the
    /// limit, its own largest rate is met, or there is no room.
    ///
    /// ```text
    /// I = min(offered, (U_limit − U − v) / R_ohmic)         dq = η I dt
    /// ```
    ///
    /// # Errors
    /// [`ChargeRefused`] for a primary cell, or outside the temperatures at which the chemistry may
    /// be charged; nothing is charged then.
    pub fn charged(
        &self,
        state: &CellState,
        offered: Current,
        span: Time,
    ) -> Result<Charged, ChargeRefused> {
        let charging = self.charging()?;
        let rate = self.largest(&charging);
        let filling = self.cell.capacity * LARGEST_SHARE / offered.min(rate).max(rate / 1e6);
        let settling = self.cell.slow_time / STEPS_PER_TIME_CONSTANT;
        let longest = settling.min(filling).max(span / MOST_STEPS);
        let steps = libm::ceil(libm::fmax(span / longest, 1.0));
        let step = span / steps;
        let mut charged = Charged {
            state: *state,
            taken: Charge::ZERO,
            put_in: Energy::ZERO,
            stored: Energy::ZERO,
            lost: Energy::ZERO,
        };
        let mut done = 0.0;
        while done < steps {
            self.charge_step(&charging, offered, step, &mut charged);
            done += 1.0;
        }
        charged.stored = self.one(&charged.state) - self.one(state);
        Ok(charged)
    }

    /// How the cell is charged at this temperature, or why it is not.
    fn charging(&self) -> Result<Charging, ChargeRefused> {
        let chemistry = self.cell.chemistry;
        let charging = Charging::of(chemistry).ok_or(ChargeRefused::Primary(chemistry))?;
        let at = self.temperature;
        if at < charging.coldest {
            let coldest = charging.coldest;
            return Err(ChargeRefused::TooCold { at, coldest });
        }
        if at > charging.warmest {
            let warmest = charging.warmest;
            return Err(ChargeRefused::TooWarm { at, warmest });
        }
        Ok(charging)
    }

    /// The largest current that the cell may be charged with.
    fn largest(&self, charging: &Charging) -> Current {
        self.cell.capacity * charging.largest_rate / Time::from_hours(1.0)
    }

    /// Energy in one of the cells of the case.
    fn one(&self, state: &CellState) -> Energy {
        self.cell.energy_left(state) / f64::from(self.cell.in_series)
    }

    fn charge_step(
        &self,
        charging: &Charging,
        offered: Current,
        step: Time,
        charged: &mut Charged,
    ) {
        let before = charged.state;
        let circuit = self.circuit(&before);
        let shift = charging.limit_per_k * self.temperature.above_reference();
        let limit = charging.limit + Voltage::from_volts(shift);
        let headroom = limit - (circuit.open_circuit - before.polarisation);
        let current = offered
            .min(self.largest(charging))
            .min(headroom / circuit.ohmic)
            .min(self.room(&before, step) / charging.efficiency)
            .max(Current::ZERO);

        // The polarisation is that of the whole current, the wells get what is kept of it.
        let wells = before
            .wells
            .after(self.kinetics, -current * charging.efficiency, step);
        let after = CellState {
            wells,
            polarisation: circuit.relax(before.polarisation, -current, step),
            age: before.age,
        };
        let polarisation = circuit.mean_polarisation(before.polarisation, -current, step);
        let resistive = (circuit.ohmic * current - polarisation) * current * step;
        let charge = current * step;
        let levelled = self.levelled(&before, &after);
        let kept = charge * charging.efficiency;
        charged.taken += charge;
        charged.put_in += charge * circuit.open_circuit + resistive;
        charged.lost += resistive + (charge * circuit.open_circuit - kept * levelled);
        charged.state = after;
    }

    /// The current, all of it kept, that just fills the well within reach in `step`. What the
    /// wells hold is linear in the current.
    fn room(&self, state: &CellState, step: Time) -> Current {
        let idle = state
            .wells
            .after(self.kinetics, Current::ZERO, step)
            .available;
        let one_ampere = Current::from_amperes(1.0);
        let filled = state
            .wells
            .after(self.kinetics, -one_ampere, step)
            .available;
        let full = self.cell.capacity * self.kinetics.available_share;
        one_ampere * ((full - idle) / (filled - idle))
    }

    /// Mean open-circuit voltage of the cell as a whole between two states close together.
    fn levelled(&self, before: &CellState, after: &CellState) -> Voltage {
        let Cell { open_circuit, .. } = self.cell;
        let at = |state| open_circuit.at(self.cell.depth(state));
        (at(before) + at(after)) / 2.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Load;
    use crate::bench::{Segment, discharge};
    use crate::cell::CellOnBench;
    use crate::cell::catalogue::{CATALOGUE, find};
    use proptest::prelude::*;

    /// A cell with `depth` of its charge gone, all levelled.
    fn drained(cell: &Cell, depth: f64) -> CellState {
        let full = cell.full();
        CellState {
            wells: full.wells.scaled(1.0 - depth),
            ..full
        }
    }

    #[test]
    fn primary_cells_and_frost_are_refused() {
        let hour = Time::from_hours(1.0);
        let current = Current::from_milliamperes(100.0);
        for entry in CATALOGUE {
            let cell = &entry.cell;
            let state = drained(cell, 0.5);
            let at = |celsius| {
                let at = cell.at(Temperature::from_celsius(celsius));
                at.charged(&state, current, hour)
            };
            if cell.chemistry.rechargeable() {
                assert!(at(20.0).is_ok(), "{}", entry.name);
                assert!(matches!(at(-0.1), Err(ChargeRefused::TooCold { .. })));
                assert!(matches!(at(45.1), Err(ChargeRefused::TooWarm { .. })));
            } else {
                assert_eq!(at(20.0), Err(ChargeRefused::Primary(cell.chemistry)));
            }
        }
    }

    /// Charge accepted from empty to full at about C/27, as a share of the capacity at 25 °C:
    /// rows li_ion-008, -011 and -014 of `lfp-18650.csv` (derived from a raw test file, to 1 %).
    #[test]
    fn lithium_iron_phosphate_takes_what_was_measured() {
        let cell = &find("lfp-18650").unwrap().cell;
        for (celsius, share) in [
            (5.0, 2028.0 / 2060.0),
            (25.0, 2063.0 / 2060.0),
            (35.0, 2068.0 / 2060.0),
        ] {
            let at = cell.at(Temperature::from_celsius(celsius));
            let current = cell.capacity / Time::from_hours(27.0);
            let empty = drained(cell, 1.0);
            let charged = at.charged(&empty, current, Time::from_hours(40.0)).unwrap();
            let taken = charged.taken / cell.capacity;
            assert!(
                (taken / share - 1.0).abs() < 0.03,
                "{celsius}: {taken} {share}"
            );
        }
    }

    /// Energy returned over energy put in, from 60 % down to 30 % and back at a tenth of the
    /// capacity an hour. The ranges are what is usually said of each chemistry, from memory: no
    /// published figure of these cells was found.
    #[test]
    fn round_trips_are_as_efficient_as_is_usually_said() {
        for (name, usual) in [
            ("nimh-aa", 0.70..0.92),
            ("lfp-18650", 0.92..0.995),
            ("lithium-ion-18650", 0.92..0.995),
            ("lead-acid-12v-7.2ah", 0.70..0.90),
        ] {
            let cell = &find(name).unwrap().cell;
            let share = returned(cell, 0.1);
            assert!(usual.contains(&share), "{name}: {share}");
        }
    }

    /// Energy that comes back of what was put in, both at `rate` capacities an hour.
    fn returned(cell: &Cell, rate: f64) -> f64 {
        let at = cell.at(Temperature::REFERENCE);
        let current = cell.capacity * rate / Time::from_hours(1.0);
        let before = drained(cell, 0.6);
        let span = Time::from_hours(0.3 / rate);
        let charged = at.charged(&before, current, span).unwrap();
        let kept = charged.state.wells.total() - before.wells.total();
        let mut source = CellOnBench::new(at, charged.state);
        let segment = Segment {
            load: Load::Current(current),
            span: kept / current,
            counts: true,
            ends_pulse: false,
        };
        let (given, _) = discharge(&mut source, [segment], Voltage::ZERO, |_| {});
        given.energy / f64::from(cell.in_series) / charged.put_in
    }

    proptest! {
        #[test]
        fn energy_put_in_is_stored_or_lost_and_never_too_much(
            entry in 0..CATALOGUE.len(),
            depth in 0.0..1.0_f64,
            celsius in 0.0..40.0_f64,
            hours_to_fill in 1.0..100.0_f64,
            hours in 0.1..60.0_f64,
        ) {
            let cell = &CATALOGUE[entry].cell;
            prop_assume!(cell.chemistry.rechargeable());
            let at = cell.at(Temperature::from_celsius(celsius));
            let before = drained(cell, depth);
            let offered = cell.capacity / Time::from_hours(hours_to_fill);
            let charged = at.charged(&before, offered, Time::from_hours(hours)).unwrap();
            let Charged { state, put_in, stored, lost, .. } = charged;
            let full = cell.energy_left(&cell.full()) / f64::from(cell.in_series);
            prop_assert!(((put_in - stored - lost) / full).abs() < 1e-5, "{charged:?}");
            prop_assert!(lost.as_joules() > -1e-6 * full.as_joules(), "{charged:?}");
            prop_assert!(cell.depth(&state) >= -1e-9 && cell.surface_depth(&state) >= -1e-9);
            prop_assert!(state.wells.total() >= before.wells.total());
        }

        #[test]
        fn less_comes_back_than_was_put_in(entry in 0..CATALOGUE.len(), rate in 0.02..0.2_f64) {
            let cell = &CATALOGUE[entry].cell;
            prop_assume!(cell.chemistry.rechargeable());
            let share = returned(cell, rate);
            prop_assert!((0.5..1.0).contains(&share), "{share}");
        }
    }
}
