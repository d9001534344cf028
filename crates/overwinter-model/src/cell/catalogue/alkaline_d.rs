//! `alkaline-d`: written by the fit (`overwinter-fit`), from `datasheets-notes/alkaline-d.md`. Not to be edited.

use crate::cell::{Cell, Chemistry, Kinetics, OpenCircuit, Resistor, Storage, Tested};
use crate::units::{Charge, Current, Resistance, Temperature, Time, Voltage};

pub(super) const CELL: Cell = Cell {
    chemistry: Chemistry::Alkaline,
    in_series: 1,
    capacity: Charge::from_milliampere_hours(13980.0),
    floor: Voltage::from_volts(0.8),
    open_circuit: OpenCircuit {
        volts: [
            1.571, 1.549, 1.506, 1.438, 1.323, 1.258, 1.21, 1.17, 1.127, 1.075, 1.0, 0.937, 0.887,
            0.819, 0.751, 0.605,
        ],
    },
    open_circuit_per_k: 0.0,
    ohmic: Resistor {
        fresh: Resistance::from_ohms(0.0411),
        growth: 0.438,
        late_growth: 2.87,
        activation_k: 2090.0,
    },
    slow: Resistor {
        fresh: Resistance::from_ohms(0.00409),
        growth: 0.74,
        late_growth: 1.07,
        activation_k: 2500.0,
    },
    slow_time: Time::from_seconds(101.0),
    kinetics: Kinetics {
        available_share: 0.361,
        rate_per_second: 7.12e-5,
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
        coldest: Temperature::from_celsius(20.0),
        warmest: Temperature::from_celsius(20.0),
        heaviest: Current::from_milliamperes(1000.0),
        heaviest_in_frost: Current::from_milliamperes(0.0),
    },
};
