//! `nimh-aa`: written by the fit (`overwinter-fit`), from `datasheets-notes/nimh-aa.md`. Not to be edited.

use crate::cell::{Cell, Charging, Chemistry, Kinetics, OpenCircuit, Resistor, Storage, Tested};
use crate::units::{Charge, Current, Resistance, Temperature, Time, Voltage};

pub(super) const CELL: Cell = Cell {
    chemistry: Chemistry::NickelMetalHydride,
    in_series: 1,
    capacity: Charge::from_milliampere_hours(2032.0),
    floor: Voltage::from_volts(0.9),
    open_circuit: OpenCircuit {
        volts: [
            1.419, 1.398, 1.377, 1.357, 1.337, 1.322, 1.308, 1.298, 1.291, 1.283, 1.269, 1.249,
            1.235, 1.201, 1.152, 1.005,
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
        fresh: Resistance::from_ohms(0.0404),
        growth: 0.2,
        late_growth: 1.0,
        activation_k: 2890.0,
    },
    slow_time: Time::from_seconds(60.0),
    kinetics: Kinetics {
        available_share: 0.918,
        rate_per_second: 0.00025,
    },
    kinetics_activation_k: 4120.0,
    storage: Storage {
        loss_per_year: 0.0502,
        early_loss: 0.105,
        early_time: Time::from_days(17.4),
        activation_k: 5040.0,
        resistance_growth_per_year: 0.0,
    },
    charging: Some(Charging {
        efficiency: 0.8,
        coldest: Temperature::from_celsius(0.0),
        warmest: Temperature::from_celsius(45.0),
        limit: Voltage::from_volts(1.5),
        limit_per_k: 0.0,
        largest: Current::from_milliamperes(1000.0),
    }),
    spread: 0.03,
    grade_spread: 0.0,
    cold_uncertainty: 0.3,
    tested: Tested {
        coldest: Temperature::from_celsius(20.0),
        warmest: Temperature::from_celsius(22.0),
        heaviest: Current::from_milliamperes(1000.0),
        heaviest_in_frost: Current::from_milliamperes(0.0),
    },
};
