//! `nimh-aa`: written by the fit (`overwinter-fit`), from `datasheets-notes/nimh-aa.md`. Not to be edited.

use crate::cell::{Cell, Chemistry, Kinetics, OpenCircuit, Resistor, Storage, Tested};
use crate::units::{Charge, Current, Resistance, Temperature, Time, Voltage};

pub(super) const CELL: Cell = Cell {
    chemistry: Chemistry::NickelMetalHydride,
    in_series: 1,
    capacity: Charge::from_milliampere_hours(2030.0),
    floor: Voltage::from_volts(0.9),
    open_circuit: OpenCircuit {
        volts: [
            1.417, 1.397, 1.376, 1.356, 1.336, 1.322, 1.307, 1.298, 1.291, 1.283, 1.268, 1.249,
            1.234, 1.2, 1.151, 1.004,
        ],
    },
    open_circuit_per_k: 0.0,
    ohmic: Resistor {
        fresh: Resistance::from_ohms(0.0305),
        growth: 0.01,
        late_growth: 0.3,
        activation_k: 1800.0,
    },
    slow: Resistor {
        fresh: Resistance::from_ohms(0.0401),
        growth: 0.2,
        late_growth: 1.0,
        activation_k: 2900.0,
    },
    slow_time: Time::from_seconds(60.0),
    kinetics: Kinetics {
        available_share: 0.923,
        rate_per_second: 0.000239,
    },
    kinetics_activation_k: 4110.0,
    storage: Storage {
        loss_per_year: 0.0501,
        early_loss: 0.105,
        early_time: Time::from_days(17.5),
        activation_k: 5040.0,
        resistance_growth_per_year: 0.0,
    },
    spread: 0.03,
    cold_uncertainty: 0.3,
    tested: Tested {
        coldest: Temperature::from_celsius(20.0),
        warmest: Temperature::from_celsius(22.0),
        heaviest: Current::from_milliamperes(1300.0),
        heaviest_in_frost: Current::from_milliamperes(0.0),
    },
};
