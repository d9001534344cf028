//! `alkaline-d`: written by the fit (`overwinter-fit`), from `datasheets-notes/alkaline-d.md`. Not to be edited.

use crate::cell::{Cell, Chemistry, Kinetics, OpenCircuit, Resistor, Storage, Tested};
use crate::units::{Charge, Current, Resistance, Temperature, Time, Voltage};

pub(super) const CELL: Cell = Cell {
    chemistry: Chemistry::Alkaline,
    in_series: 1,
    capacity: Charge::from_milliampere_hours(16250.0),
    floor: Voltage::from_volts(0.8),
    open_circuit: OpenCircuit {
        volts: [
            1.595, 1.571, 1.531, 1.464, 1.361, 1.306, 1.265, 1.233, 1.2, 1.158, 1.092, 1.036,
            0.978, 0.899, 0.823, 0.663,
        ],
    },
    open_circuit_per_k: 0.0,
    ohmic: Resistor {
        fresh: Resistance::from_ohms(0.0995),
        growth: 2.85,
        late_growth: 10.7,
        activation_k: 2070.0,
    },
    slow: Resistor {
        fresh: Resistance::from_ohms(0.00172),
        growth: 0.938,
        late_growth: 2.95,
        activation_k: 4010.0,
    },
    slow_time: Time::from_seconds(1340.0),
    kinetics: Kinetics {
        available_share: 0.324,
        rate_per_second: 5.75e-5,
    },
    kinetics_activation_k: 6370.0,
    storage: Storage {
        loss_per_year: 0.025,
        early_loss: 0.0,
        early_time: Time::from_days(10.0),
        activation_k: 5500.0,
        resistance_growth_per_year: 0.11,
    },
    spread: 0.12,
    cold_uncertainty: 0.4,
    tested: Tested {
        coldest: Temperature::from_celsius(20.0),
        warmest: Temperature::from_celsius(20.0),
        heaviest: Current::from_milliamperes(1000.0),
        heaviest_in_frost: Current::from_milliamperes(0.0),
    },
};
