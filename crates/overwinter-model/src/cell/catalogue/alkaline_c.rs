//! `alkaline-c`: written by the fit (`overwinter-fit`), from `datasheets-notes/alkaline-c.md`. Not to be edited.

use crate::cell::{Cell, Chemistry, Kinetics, OpenCircuit, Resistor, Storage, Tested};
use crate::units::{Charge, Current, Resistance, Temperature, Time, Voltage};

pub(super) const CELL: Cell = Cell {
    chemistry: Chemistry::Alkaline,
    in_series: 1,
    capacity: Charge::from_milliampere_hours(8256.0),
    floor: Voltage::from_volts(0.8),
    open_circuit: OpenCircuit {
        volts: [
            1.603, 1.582, 1.547, 1.494, 1.419, 1.375, 1.343, 1.319, 1.294, 1.259, 1.203, 1.15,
            1.093, 1.012, 0.934, 0.773,
        ],
    },
    open_circuit_per_k: 0.0,
    ohmic: Resistor {
        fresh: Resistance::from_ohms(0.201),
        growth: 2.85,
        late_growth: 10.7,
        activation_k: 2070.0,
    },
    slow: Resistor {
        fresh: Resistance::from_ohms(0.00392),
        growth: 0.932,
        late_growth: 2.95,
        activation_k: 4010.0,
    },
    slow_time: Time::from_seconds(1350.0),
    kinetics: Kinetics {
        available_share: 0.418,
        rate_per_second: 0.000194,
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
