//! `alkaline-aa`: written by the fit (`overwinter-fit`), from `datasheets-notes/alkaline-aa.md`. Not to be edited.

use crate::cell::{Cell, Chemistry, Kinetics, OpenCircuit, Resistor, Storage, Tested};
use crate::units::{Charge, Current, Resistance, Temperature, Time, Voltage};

pub(super) const CELL: Cell = Cell {
    chemistry: Chemistry::Alkaline,
    in_series: 1,
    capacity: Charge::from_milliampere_hours(3099.0),
    floor: Voltage::from_volts(0.8),
    open_circuit: OpenCircuit {
        volts: [
            1.616, 1.588, 1.543, 1.482, 1.396, 1.346, 1.311, 1.283, 1.255, 1.22, 1.165, 1.113,
            1.054, 0.971, 0.891, 0.725,
        ],
    },
    open_circuit_per_k: 0.0,
    ohmic: Resistor {
        fresh: Resistance::from_ohms(0.151),
        growth: 2.79,
        late_growth: 14.4,
        activation_k: 2060.0,
    },
    slow: Resistor {
        fresh: Resistance::from_ohms(0.0105),
        growth: 0.937,
        late_growth: 2.94,
        activation_k: 4010.0,
    },
    slow_time: Time::from_seconds(1210.0),
    kinetics: Kinetics {
        available_share: 0.357,
        rate_per_second: 0.00012,
    },
    kinetics_activation_k: 6240.0,
    storage: Storage {
        loss_per_year: 0.025,
        early_loss: 0.0,
        early_time: Time::from_days(10.0),
        activation_k: 5500.0,
        resistance_growth_per_year: 0.11,
    },
    charging: None,
    spread: 0.12,
    cold_uncertainty: 0.4,
    tested: Tested {
        coldest: Temperature::from_celsius(-16.1),
        warmest: Temperature::from_celsius(22.0),
        heaviest: Current::from_milliamperes(2000.0),
        heaviest_in_frost: Current::from_milliamperes(100.0),
    },
};
