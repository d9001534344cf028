//! `alkaline-d`: written by the fit (`overwinter-fit`), from `datasheets-notes/alkaline-d.md`. Not to be edited.

use crate::cell::{Cell, Chemistry, Kinetics, OpenCircuit, Resistor, Storage, Tested};
use crate::units::{Charge, Current, Resistance, Temperature, Time, Voltage};

pub(super) const CELL: Cell = Cell {
    chemistry: Chemistry::Alkaline,
    in_series: 1,
    capacity: Charge::from_milliampere_hours(14940.0),
    floor: Voltage::from_volts(0.8),
    open_circuit: OpenCircuit {
        volts: [
            1.591, 1.567, 1.526, 1.456, 1.35, 1.293, 1.252, 1.22, 1.188, 1.148, 1.088, 1.035,
            0.978, 0.899, 0.822, 0.662,
        ],
    },
    open_circuit_per_k: 0.0,
    ohmic: Resistor {
        fresh: Resistance::from_ohms(0.0672),
        growth: 2.85,
        late_growth: 10.7,
        activation_k: 2070.0,
    },
    slow: Resistor {
        fresh: Resistance::from_ohms(0.00172),
        growth: 0.938,
        late_growth: 2.95,
        activation_k: 4010.0,
    },
    slow_time: Time::from_seconds(1340.0),
    kinetics: Kinetics {
        available_share: 0.313,
        rate_per_second: 6.34e-5,
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
        heaviest: Current::from_milliamperes(1000.0),
        heaviest_in_frost: Current::from_milliamperes(0.0),
    },
};
