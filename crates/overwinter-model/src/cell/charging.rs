//! Charging: what a cell takes, what of it is kept, and when it must not be charged at all.

use core::fmt;

use super::{CellAt, CellState, Filling};
use crate::circuit::Circuit;
use crate::number::Number;
use crate::units::{Charge, Current, Energy, Temperature, Time, Voltage};

/// More than this of one charge is not worked out.
const LONGEST_CHARGE: Time = Time::from_days(3650.0);

/// How one cell is charged: at a constant current up to a voltage, then at that voltage.
///
/// Every number has a row in `datasheets-notes/limits.csv`, which says whether it was read on a
/// sheet or is from memory.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct Charging {
    /// Charge that is kept of the charge put in, above 0 and up to 1: the rest goes into side
    /// reactions. One number at every depth and rate, which is a simplification: side reactions
    /// come mostly near full.
    #[cfg_attr(feature = "serde", serde(with = "crate::decimal"))]
    pub efficiency: f64,
    /// Coldest temperature at which the cell may be charged.
    pub coldest: Temperature,
    /// Warmest temperature at which the cell may be charged.
    pub warmest: Temperature,
    /// Voltage of one cell that charging must not exceed, at the reference temperature.
    pub limit: Voltage,
    /// Change of the limit with temperature, volts per kelvin and cell: below 0 for lead-acid.
    #[cfg_attr(feature = "serde", serde(with = "crate::decimal"))]
    pub limit_per_k: f64,
    /// Largest current into the cell.
    pub largest: Current,
}

impl Charging {
    /// The voltage of one cell that charging must not exceed at `temperature`.
    #[cfg_attr(not(target_os = "none"), inline(always))]
    #[must_use]
    pub fn limit_at<N: Number>(&self, temperature: Temperature<N>) -> Voltage<N> {
        let warmer = N::from(self.limit_per_k) * temperature.above_reference();
        self.limit.everywhere() + Voltage::from_si(warmer)
    }
}

/// No step of a charge is shorter but the last.
const SHORTEST_STEP: Time = Time::from_seconds(1e-3);

/// Depth up to which a charged cell counts as full: chargers and gauges end a charge within a
/// hundredth of it (common practice, no source).
const FULL_DEPTH: f64 = 0.01;

/// Why a cell was not charged.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub enum ChargeRefused {
    /// The cell has no [`Charging`]. A primary cell would leak or burst.
    PrimaryCell,
    /// Colder than the cell may be charged.
    TooCold {
        /// Temperature of the cell.
        at: Temperature,
        /// Coldest at which it may be charged.
        coldest: Temperature,
    },
    /// Warmer than the cell may be charged.
    TooWarm {
        /// Temperature of the cell.
        at: Temperature,
        /// Warmest at which it may be charged.
        warmest: Temperature,
    },
}

impl fmt::Display for ChargeRefused {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::PrimaryCell => {
                f.write_str("a primary cell, or one without charging limits, must not be charged")
            }
            Self::TooCold { at, coldest } => write!(
                f,
                "too cold to be charged: {:.1} °C, {:.1} °C or warmer is needed",
                at.as_celsius(),
                coldest.as_celsius()
            ),
            Self::TooWarm { at, warmest } => write!(
                f,
                "too warm to be charged: {:.1} °C, {:.1} °C or colder is needed",
                at.as_celsius(),
                warmest.as_celsius()
            ),
        }
    }
}

impl core::error::Error for ChargeRefused {}

/// What a cell took in, energies for all `in_series` cells together.
///
/// ```text
/// energy = stored + side_reactions + resistive + held_back
/// ```
///
/// to rounding, over any number of charges added up.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Accepted {
    /// Charge that went in at the terminals: less than was offered once a limit is met.
    pub charge: Charge,
    /// Charge that was kept.
    pub stored_charge: Charge,
    /// Energy that went in at the terminals.
    pub energy: Energy,
    /// Energy that the cells hold more than before, as [`super::Cell::energy_left`] counts it.
    pub stored: Energy,
    /// Lost to side reactions, with the charge that was not kept.
    pub side_reactions: Energy,
    /// Turned to heat in the resistances.
    pub resistive: Energy,
    /// Lost because the charge within reach stands higher than the cell as a whole, and because a
    /// cold or warm cell's open-circuit voltage is another one. Below zero where a cell that has
    /// just been loaded takes its charge more cheaply, or a cold one stands lower.
    pub held_back: Energy,
}

impl Accepted {
    /// Everything that went in and is not stored.
    #[must_use]
    pub fn lost(&self) -> Energy {
        self.side_reactions + self.resistive + self.held_back
    }

    fn add(&mut self, part: &Self) {
        self.charge += part.charge;
        self.stored_charge += part.stored_charge;
        self.energy += part.energy;
        self.stored += part.stored;
        self.side_reactions += part.side_reactions;
        self.resistive += part.resistive;
        self.held_back += part.held_back;
    }
}

/// What one charging current does to the cell over one step.
struct Step {
    current: Current,
    span: Time,
}

impl CellAt<'_> {
    /// Offers `offered` into each cell for `span` and tells what became of it.
    ///
    /// The cell takes all of it, or the largest current that it may have, until its voltage meets
    /// [`Charging::limit_at`] or the charge within reach is full. From there it takes what holds
    /// it just there,
    ///
    /// ```text
    /// I = (V_limit − U − Σ v) / R_ohmic
    /// ```
    ///
    /// with `v` counted against the charging current, or what flows over to the bound well. So it
    /// is never more than full. The climb of the voltage on a cell that is full at its surface is
    /// not in the circuit: the energy of these last per cents is a little low.
    ///
    /// Steps are short at first, grow with the time since, and none moves more than a 400th of the
    /// capacity; the current of a step is the one that meets the limit at its end. A negative or
    /// undefined current or span counts as none, and spans end at ten years.
    ///
    /// A charge that makes the cell full sets its age back to none, see [`Storage`](super::Storage).
    ///
    /// # Errors
    /// [`ChargeRefused`] for a primary cell and outside the charging temperatures, whatever the
    /// current.
    pub fn charged(
        &self,
        state: &CellState,
        offered: Current,
        span: Time,
    ) -> Result<(CellState, Accepted), ChargeRefused> {
        let charging = self.may_be_charged()?;
        let offered = offered.max(Current::ZERO).min(charging.largest);
        let span = span.max(Time::ZERO).min(LONGEST_CHARGE);
        let (mut state, mut accepted) = (*state, Accepted::default());
        let (mut spent, mut current) = (Time::ZERO, offered);
        while spent < span {
            let length = self.charging_step(&state, spent, span - spent, current);
            let step = self.largest_step(charging, &state, offered, length);
            let (next, part) = self.charge_step(charging, &state, &step);
            (state, current) = (next, step.current);
            accepted.add(&part);
            spent += length;
        }
        if self.made_full(&state, &accepted) {
            state.age = Time::ZERO;
        }
        Ok((state, accepted))
    }

    /// Whether a charge has made the cell full, so that its age begins anew.
    ///
    /// What a nickel-metal hydride cell loses soon after charging comes of the state in which a
    /// full charge leaves it (oxygen in the cell, the highest nickel oxides, from memory), not of
    /// when it was made: it loses its tenth again after every full charge. A cell that is only
    /// topped up in part does not come into that state and keeps its age.
    fn made_full(&self, state: &CellState, accepted: &Accepted) -> bool {
        accepted.charge > Charge::ZERO && self.specimen().depth(state) <= FULL_DEPTH
    }

    /// The charge that the cell has room for within `span` while it is charged evenly and `drawn`
    /// flows out: to where it is full at its surface at the end.
    pub(crate) fn room(&self, state: &CellState, drawn: Charge, span: Time) -> Charge {
        let reach = |charge: Charge| {
            self.within_reach(&state.wells.after(&self.kinetics, charge / span, span))
        };
        let filling = Filling {
            capacity: self.capacity,
            idle: reach(drawn),
            probed: reach(drawn - Filling::probe(self.capacity)),
        };
        filling.room()
    }

    /// How the cell is charged, if it may be at this temperature.
    fn may_be_charged(&self) -> Result<&Charging, ChargeRefused> {
        let Some(charging) = self.cell.rechargeable() else {
            return Err(ChargeRefused::PrimaryCell);
        };
        let Charging {
            coldest, warmest, ..
        } = *charging;
        let at = self.temperature;
        if at >= coldest && at <= warmest {
            Ok(charging)
        } else if at > warmest {
            Err(ChargeRefused::TooWarm { at, warmest })
        } else {
            // A temperature that is no number is refused here too.
            Err(ChargeRefused::TooCold { at, coldest })
        }
    }

    /// Length of the next step when `spent` is over and `left` to come.
    fn charging_step(&self, state: &CellState, spent: Time, left: Time, current: Current) -> Time {
        let quickest = self.circuit(state).shortest_time().unwrap_or(Time::ZERO);
        let settling = (quickest / 10.0).max(SHORTEST_STEP).max(spent / 4.0);
        let step = settling.min(self.capacity / current / 400.0);
        // A last crumb would only add rounding.
        if step * 1.01 > left { left } else { step }
    }

    /// The step of `span` with the largest current up to `offered` that keeps every limit.
    fn largest_step(
        &self,
        charging: &Charging,
        state: &CellState,
        offered: Current,
        span: Time,
    ) -> Step {
        let limit = charging.limit_at(self.temperature);
        let circuit = self.circuit(state);
        let within = |current| {
            let step = Step { current, span };
            let after = self.after_step(charging, &circuit, state, &step);
            self.circuit(&after).voltage(-current, &after.polarisation) <= limit
        };
        let (mut low, mut high) = (
            Current::ZERO,
            self.until_full(charging, state, offered, span),
        );
        if within(high) {
            low = high;
        } else {
            // The voltage at the end rises with the current. 30 halvings leave a billionth.
            for _ in 0..30 {
                let middle = (low + high) / 2.0;
                if within(middle) {
                    low = middle;
                } else {
                    high = middle;
                }
            }
        }
        Step { current: low, span }
    }

    /// The current up to `offered` that fills the cell at its surface at the end of `span` and no
    /// sooner. The closed form of the wells is linear in the current.
    fn until_full(
        &self,
        charging: &Charging,
        state: &CellState,
        offered: Current,
        span: Time,
    ) -> Current {
        let full = self.capacity;
        let reach = |current: Current| {
            let drawn = -current * charging.efficiency;
            self.within_reach(&state.wells.after(&self.kinetics, drawn, span))
        };
        let (idle, most) = (reach(Current::ZERO), reach(offered));
        if most <= full {
            offered
        } else if idle >= full {
            Current::ZERO
        } else {
            offered * ((full - idle) / (most - idle))
        }
    }

    /// The state after a step, given the circuit at its start.
    fn after_step(
        &self,
        charging: &Charging,
        circuit: &Circuit,
        state: &CellState,
        step: &Step,
    ) -> CellState {
        let drawn = -step.current;
        CellState {
            wells: state
                .wells
                .after(&self.kinetics, drawn * charging.efficiency, step.span),
            polarisation: circuit.relax(&state.polarisation, drawn, step.span),
            age: state.age,
        }
    }

    /// Takes a step. Its means are Simpson's over the start, the middle and the end.
    fn charge_step(
        &self,
        charging: &Charging,
        state: &CellState,
        step: &Step,
    ) -> (CellState, Accepted) {
        let start = self.circuit(state);
        let half = Step {
            span: step.span / 2.0,
            ..*step
        };
        let halfway = self.after_step(charging, &start, state, &half);
        let next = self.after_step(charging, &start, state, step);
        let drawn = -step.current;
        let (mut inner, mut dropped, mut terminals) = (Voltage::ZERO, Voltage::ZERO, Voltage::ZERO);
        for (state, weight) in [
            (state, 1.0 / 6.0),
            (&halfway, 4.0 / 6.0),
            (&next, 1.0 / 6.0),
        ] {
            let circuit = self.circuit(state);
            inner += circuit.open_circuit * weight;
            let voltage = circuit.voltage(drawn, &state.polarisation);
            dropped += (voltage - circuit.open_circuit) * weight;
            terminals += voltage * weight;
        }
        let charge = step.current * step.span;
        let cells = f64::from(self.cell.in_series);
        let kept = charge * charging.efficiency;
        let stored = self.specimen().energy_left(&next) - self.specimen().energy_left(state);
        let accepted = Accepted {
            charge,
            stored_charge: kept,
            energy: charge * terminals * cells,
            stored,
            side_reactions: (charge - kept) * inner * cells,
            resistive: charge * dropped * cells,
            held_back: kept * inner * cells - stored,
        };
        (next, accepted)
    }
}
