//! The Thevenin model of the cases as a source for the bench driver.

use overwinter_model::bench::Source;
use overwinter_model::{
    BRANCHES, Charge, Circuit, Current, Overpotential, Polarisation, Resistance, Time, Voltage,
};

use crate::table::Table;

/// What does not change during a run.
#[derive(Clone, Debug)]
pub(crate) struct Parameters {
    pub(crate) capacity: Charge,
    /// Volts by state of charge.
    pub(crate) open_circuit_v: Table,
    /// Ohms by temperature in degrees Celsius.
    pub(crate) ohmic_ohm: Table,
    /// Ohms by temperature in degrees Celsius.
    pub(crate) slow_ohm: Table,
    /// Farads across the slow resistance.
    pub(crate) slow_f: f64,
    /// Degrees Celsius by seconds since the start.
    pub(crate) ambient_c: Table,
    /// `None` keeps the cell at the ambient temperature.
    pub(crate) thermal: Option<Thermal>,
}

/// A cell that warms itself, in a holder ("jig") that stands in the air.
#[derive(Clone, Copy, Debug, serde::Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Thermal {
    cell_j_per_k: f64,
    cell_jig_w_per_k: f64,
    jig_j_per_k: f64,
    jig_air_w_per_k: f64,
}

impl Thermal {
    /// Kelvins per second of the cell and of the holder.
    fn rates(&self, at: Temperatures, air_c: f64, heat_w: f64) -> (f64, f64) {
        let to_holder_w = self.cell_jig_w_per_k * (at.cell_c - at.holder_c);
        let to_air_w = self.jig_air_w_per_k * (at.holder_c - air_c);
        (
            (heat_w - to_holder_w) / self.cell_j_per_k,
            (to_holder_w - to_air_w) / self.jig_j_per_k,
        )
    }

    /// The time constant of the node that follows fastest.
    fn fastest_s(&self) -> f64 {
        let cell_s = self.cell_j_per_k / self.cell_jig_w_per_k;
        let holder_s = self.jig_j_per_k / (self.cell_jig_w_per_k + self.jig_air_w_per_k);
        cell_s.min(holder_s)
    }
}

#[derive(Clone, Copy, Debug)]
struct Temperatures {
    cell_c: f64,
    holder_c: f64,
}

impl Temperatures {
    fn moved(self, (cell_k_per_s, holder_k_per_s): (f64, f64), span_s: f64) -> Self {
        Self {
            cell_c: self.cell_c + cell_k_per_s * span_s,
            holder_c: self.holder_c + holder_k_per_s * span_s,
        }
    }
}

/// The model at one instant.
#[derive(Clone, Debug)]
pub(crate) struct TableSource<'a> {
    parameters: &'a Parameters,
    state_of_charge: f64,
    polarisation: Polarisation,
    clock_s: f64,
    temperatures: Temperatures,
}

impl<'a> TableSource<'a> {
    /// Relaxed, and everything at the ambient temperature of the start.
    pub(crate) fn new(parameters: &'a Parameters, state_of_charge: f64) -> Self {
        let start_c = parameters.ambient_c.at(0.0);
        Self {
            parameters,
            state_of_charge,
            polarisation: Polarisation::NONE,
            clock_s: 0.0,
            temperatures: Temperatures {
                cell_c: start_c,
                holder_c: start_c,
            },
        }
    }

    pub(crate) fn state_of_charge(&self) -> f64 {
        self.state_of_charge
    }

    pub(crate) fn cell_c(&self) -> f64 {
        self.temperatures.cell_c
    }

    /// Half a step at the rates of its start, then the whole of it at the rates of that middle.
    fn temperatures(&self, current: Current, span_s: f64) -> (Temperatures, Temperatures) {
        let ambient_c = &self.parameters.ambient_c;
        let middle_air_c = ambient_c.at(self.clock_s + span_s / 2.0);
        let Some(thermal) = self.parameters.thermal else {
            let all_at = |air_c| Temperatures {
                cell_c: air_c,
                holder_c: air_c,
            };
            return (
                all_at(middle_air_c),
                all_at(ambient_c.at(self.clock_s + span_s)),
            );
        };
        let lost = self.circuit().ohmic * current + self.polarisation.total();
        let heat_w = (lost * current).as_watts();
        let start = self.temperatures;
        let air_c = ambient_c.at(self.clock_s);
        let middle = start.moved(thermal.rates(start, air_c, heat_w), span_s / 2.0);
        let end = start.moved(thermal.rates(middle, middle_air_c, heat_w), span_s);
        (middle, end)
    }

    fn circuit_at(&self, cell_c: f64) -> Circuit {
        let Parameters {
            open_circuit_v,
            ohmic_ohm,
            slow_ohm,
            slow_f,
            ..
        } = self.parameters;
        let slow = slow_ohm.at(cell_c);
        Circuit {
            open_circuit: Voltage::from_volts(open_circuit_v.at(self.state_of_charge)),
            ohmic: Resistance::from_ohms(ohmic_ohm.at(cell_c)),
            overpotential: Overpotential::NONE,
            branches: [Resistance::ZERO, Resistance::from_ohms(slow)],
            times: [Time::from_seconds(slow * slow_f); BRANCHES],
        }
    }
}

impl Source for TableSource<'_> {
    fn circuit(&self) -> Circuit {
        self.circuit_at(self.temperatures.cell_c)
    }

    fn polarisation(&self) -> Polarisation {
        self.polarisation
    }

    fn advance(&mut self, current: Current, span: Time) {
        let (middle, end) = self.temperatures(current, span.as_seconds());
        self.polarisation = self
            .circuit_at(middle.cell_c)
            .relax(&self.polarisation, current, span);
        self.state_of_charge -= current * span / self.parameters.capacity;
        self.clock_s += span.as_seconds();
        self.temperatures = end;
    }

    fn is_empty(&self) -> bool {
        self.state_of_charge <= 0.0
    }

    fn longest_step(&self, current: Current) -> Time {
        // To the next point of the ambient table, and a fiftieth of the way to it at the most.
        let (piece_start_s, piece_end_s) = self.parameters.ambient_c.piece(self.clock_s);
        let ambient_s = (piece_end_s - self.clock_s).min((piece_end_s - piece_start_s) / 50.0);
        // The error of a half-step rule goes with the square: some 1e-4 of a temperature step.
        let thermal_s = self
            .parameters
            .thermal
            .map_or(f64::INFINITY, |thermal| thermal.fastest_s() / 50.0);
        let slow = Time::from_seconds(ambient_s.min(thermal_s));
        // The library's own cells move a 400th of their charge at the most. A table may bend more
        // often than theirs do.
        let share = (self.parameters.open_circuit_v.shortest_piece() / 20.0).min(1.0 / 400.0);
        if current > Current::ZERO {
            slow.min(self.parameters.capacity / current * share)
        } else {
            slow
        }
    }
}
