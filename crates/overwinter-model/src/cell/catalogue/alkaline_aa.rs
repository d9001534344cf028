//! `alkaline-aa`: written by the fit (`overwinter-fit`), from `datasheets-notes/alkaline-aa.md`. Not to be edited.

use crate::cell::{Cell, Chemistry, Kinetics, OpenCircuit, Resistor, Storage, Tested};
use crate::units::{Charge, Current, Resistance, Temperature, Time, Voltage};

pub(super) const CELL: Cell = Cell {
    chemistry: Chemistry::Alkaline,
    in_series: 1,
    capacity: Charge::from_milliampere_hours(2948.0),
    floor: Voltage::from_volts(0.8),
    open_circuit: OpenCircuit {
        volts: [
            1.596, 1.575, 1.537, 1.48, 1.391, 1.342, 1.305, 1.274, 1.24, 1.199, 1.128, 1.064,
            1.013, 0.943, 0.874, 0.728,
        ],
    },
    open_circuit_per_k: 0.0,
    ohmic: Resistor {
        fresh: Resistance::from_ohms(0.161),
        growth: 0.438,
        late_growth: 2.87,
        activation_k: 2090.0,
    },
    slow: Resistor {
        fresh: Resistance::from_ohms(0.0231),
        growth: 0.732,
        late_growth: 1.07,
        activation_k: 2500.0,
    },
    slow_time: Time::from_seconds(102.0),
    kinetics: Kinetics {
        available_share: 0.416,
        rate_per_second: 9.57e-5,
    },
    kinetics_activation_k: 6360.0,
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
        coldest: Temperature::from_celsius(-16.1),
        warmest: Temperature::from_celsius(22.0),
        heaviest: Current::from_milliamperes(2000.0),
        heaviest_in_frost: Current::from_milliamperes(100.0),
    },
};
