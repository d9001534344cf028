//! `lead-acid-12v-4.5ah`: written by the fit (`overwinter-fit`), from `datasheets-notes/lead-acid-12v-4.5ah.md`. Not to be edited.

use crate::cell::{Cell, Chemistry, Kinetics, OpenCircuit, Resistor, Storage, Tested};
use crate::units::{Charge, Current, Resistance, Temperature, Time, Voltage};

pub(super) const CELL: Cell = Cell {
    chemistry: Chemistry::LeadAcid,
    in_series: 6,
    capacity: Charge::from_milliampere_hours(4722.0),
    floor: Voltage::from_volts(1.6),
    open_circuit: OpenCircuit {
        volts: [
            2.072, 2.067, 2.062, 2.054, 2.036, 2.02, 2.004, 1.988, 1.966, 1.944, 1.921, 1.897,
            1.881, 1.866, 1.856, 1.846,
        ],
    },
    open_circuit_per_k: 0.0002,
    ohmic: Resistor {
        fresh: Resistance::from_ohms(0.00675),
        growth: 0.314,
        late_growth: 1.08,
        activation_k: 1200.0,
    },
    slow: Resistor {
        fresh: Resistance::from_ohms(0.0134),
        growth: 1.93,
        late_growth: 2.84,
        activation_k: 2000.0,
    },
    slow_time: Time::from_seconds(54.0),
    kinetics: Kinetics {
        available_share: 0.484,
        rate_per_second: 0.00022,
    },
    kinetics_activation_k: 3000.0,
    storage: Storage {
        loss_per_year: 0.35,
        early_loss: 0.0,
        early_time: Time::from_days(10.0),
        activation_k: 4000.0,
        resistance_growth_per_year: 0.0,
    },
    spread: 0.03,
    cold_uncertainty: 0.15,
    tested: Tested {
        coldest: Temperature::from_celsius(20.0),
        warmest: Temperature::from_celsius(20.0),
        heaviest: Current::from_milliamperes(13500.0),
        heaviest_in_frost: Current::from_milliamperes(0.0),
    },
};
