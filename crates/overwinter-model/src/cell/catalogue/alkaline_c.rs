//! `alkaline-c`: written by the fit (`overwinter-fit`), from `datasheets-notes/alkaline-c.md`. Not to be edited.

use crate::cell::{Cell, Chemistry, Kinetics, OpenCircuit, Resistor, Storage, Tested};
use crate::units::{Charge, Current, Resistance, Temperature, Time, Voltage};

pub(super) const CELL: Cell = Cell {
    chemistry: Chemistry::Alkaline,
    in_series: 1,
    capacity: Charge::from_milliampere_hours(7830.0),
    floor: Voltage::from_volts(0.8),
    open_circuit: OpenCircuit {
        volts: [
            1.612, 1.582, 1.539, 1.481, 1.395, 1.346, 1.311, 1.285, 1.257, 1.223, 1.163, 1.106,
            1.042, 0.948, 0.862, 0.687,
        ],
    },
    open_circuit_per_k: 0.0,
    ohmic: Resistor {
        fresh: Resistance::from_ohms(0.0447),
        growth: 4.55,
        late_growth: 15.6,
        activation_k: 2030.0,
    },
    slow: Resistor {
        fresh: Resistance::from_ohms(0.181),
        growth: 0.834,
        late_growth: 3.01,
        activation_k: 2150.0,
    },
    slow_time: Time::from_seconds(0.0681),
    kinetics: Kinetics {
        available_share: 0.492,
        rate_per_second: 0.00026,
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
        coldest: Temperature::from_celsius(20.0),
        warmest: Temperature::from_celsius(20.0),
        heaviest: Current::from_milliamperes(400.0),
        heaviest_in_frost: Current::from_milliamperes(0.0),
    },
};
