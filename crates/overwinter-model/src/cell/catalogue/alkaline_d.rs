//! `alkaline-d`: written by the fit (`overwinter-fit`), from `datasheets-notes/alkaline-d.md`. Not to be edited.

use crate::cell::{Cell, Chemistry, Kinetics, OpenCircuit, Resistor, Storage, Tested};
use crate::units::{Charge, Current, Resistance, Temperature, Time, Voltage};

pub(super) const CELL: Cell = Cell {
    chemistry: Chemistry::Alkaline,
    in_series: 1,
    capacity: Charge::from_milliampere_hours(15560.0),
    floor: Voltage::from_volts(0.8),
    open_circuit: OpenCircuit {
        volts: [
            1.581, 1.555, 1.511, 1.45, 1.357, 1.301, 1.264, 1.236, 1.209, 1.175, 1.123, 1.074,
            1.014, 0.923, 0.839, 0.668,
        ],
    },
    open_circuit_per_k: 0.0,
    ohmic: Resistor {
        fresh: Resistance::from_ohms(0.061),
        growth: 4.85,
        late_growth: 16.8,
        activation_k: 2000.0,
    },
    slow: Resistor {
        fresh: Resistance::from_ohms(0.00222),
        growth: 1.41,
        late_growth: 21.9,
        activation_k: 2490.0,
    },
    slow_time: Time::from_seconds(98.9),
    kinetics: Kinetics {
        available_share: 0.3,
        rate_per_second: 6.28e-5,
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
        heaviest: Current::from_milliamperes(1000.0),
        heaviest_in_frost: Current::from_milliamperes(0.0),
    },
};
