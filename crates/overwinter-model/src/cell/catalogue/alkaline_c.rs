//! `alkaline-c`: written by the fit (`overwinter-fit`), from `datasheets-notes/alkaline-c.md`. Not to be edited.

use crate::cell::{Cell, Chemistry, Kinetics, OpenCircuit, Resistor, Storage, Tested};
use crate::units::{Charge, Current, Resistance, Temperature, Time, Voltage};

pub(super) const CELL: Cell = Cell {
    chemistry: Chemistry::Alkaline,
    in_series: 1,
    capacity: Charge::from_milliampere_hours(8919.0),
    floor: Voltage::from_volts(0.8),
    open_circuit: OpenCircuit {
        volts: [
            1.602, 1.58, 1.544, 1.488, 1.407, 1.36, 1.327, 1.301, 1.275, 1.239, 1.182, 1.129,
            1.072, 0.991, 0.913, 0.752,
        ],
    },
    open_circuit_per_k: 0.0,
    ohmic: Resistor {
        fresh: Resistance::from_ohms(0.21),
        growth: 2.85,
        late_growth: 10.7,
        activation_k: 2070.0,
    },
    slow: Resistor {
        fresh: Resistance::from_ohms(0.00395),
        growth: 0.935,
        late_growth: 2.95,
        activation_k: 4010.0,
    },
    slow_time: Time::from_seconds(1340.0),
    kinetics: Kinetics {
        available_share: 0.435,
        rate_per_second: 0.000167,
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
        heaviest: Current::from_milliamperes(400.0),
        heaviest_in_frost: Current::from_milliamperes(0.0),
    },
};
