//! `alkaline-c`: written by the fit (`overwinter-fit`), from `datasheets-notes/alkaline-c.md`. Not to be edited.

use crate::cell::{Cell, Chemistry, Kinetics, OpenCircuit, Resistor, Storage, Tested};
use crate::units::{Charge, Current, Resistance, Temperature, Time, Voltage};

pub(super) const CELL: Cell = Cell {
    chemistry: Chemistry::Alkaline,
    in_series: 1,
    capacity: Charge::from_milliampere_hours(9963.0),
    floor: Voltage::from_volts(0.8),
    open_circuit: OpenCircuit {
        volts: [
            1.599, 1.576, 1.54, 1.492, 1.424, 1.38, 1.351, 1.329, 1.305, 1.273, 1.225, 1.177,
            1.118, 1.026, 0.942, 0.77,
        ],
    },
    open_circuit_per_k: 0.0,
    ohmic: Resistor {
        fresh: Resistance::from_ohms(0.196),
        growth: 4.85,
        late_growth: 16.8,
        activation_k: 2000.0,
    },
    slow: Resistor {
        fresh: Resistance::from_ohms(0.00484),
        growth: 1.39,
        late_growth: 21.9,
        activation_k: 2490.0,
    },
    slow_time: Time::from_seconds(99.7),
    kinetics: Kinetics {
        available_share: 0.405,
        rate_per_second: 0.000111,
    },
    kinetics_activation_k: 6200.0,
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
        heaviest: Current::from_milliamperes(400.0),
        heaviest_in_frost: Current::from_milliamperes(0.0),
    },
};
