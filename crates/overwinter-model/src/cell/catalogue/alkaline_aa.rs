//! `alkaline-aa`: written by the fit (`overwinter-fit`), from `datasheets-notes/alkaline-aa.md`. Not to be edited.

use crate::cell::{Cell, Chemistry, Kinetics, OpenCircuit, Resistor, Storage, Tested};
use crate::units::{Charge, Current, Resistance, Temperature, Time, Voltage};

pub(super) const CELL: Cell = Cell {
    chemistry: Chemistry::Alkaline,
    in_series: 1,
    capacity: Charge::from_milliampere_hours(3072.0),
    floor: Voltage::from_volts(0.8),
    open_circuit: OpenCircuit {
        volts: [
            1.614, 1.583, 1.537, 1.475, 1.389, 1.342, 1.308, 1.281, 1.252, 1.218, 1.158, 1.101,
            1.037, 0.943, 0.857, 0.682,
        ],
    },
    open_circuit_per_k: 0.0,
    ohmic: Resistor {
        fresh: Resistance::from_ohms(0.102),
        growth: 4.55,
        late_growth: 15.6,
        activation_k: 2030.0,
    },
    slow: Resistor {
        fresh: Resistance::from_ohms(0.0436),
        growth: 0.853,
        late_growth: 3.01,
        activation_k: 2150.0,
    },
    slow_time: Time::from_seconds(0.0701),
    kinetics: Kinetics {
        available_share: 0.394,
        rate_per_second: 0.000116,
    },
    kinetics_activation_k: 6640.0,
    storage: Storage {
        loss_per_year: 0.025,
        early_loss: 0.0,
        early_time: Time::from_days(10.0),
        activation_k: 5500.0,
        resistance_growth_per_year: 0.11,
    },
    charging: None,
    spread: 0.12,
    grade_spread: 0.18,
    cold_uncertainty: 0.4,
    tested: Tested {
        coldest: Temperature::from_celsius(-16.1),
        warmest: Temperature::from_celsius(22.0),
        heaviest: Current::from_milliamperes(1430.0),
        heaviest_in_frost: Current::from_milliamperes(100.0),
    },
};
