//! `alkaline-aa`: written by the fit (`overwinter-fit`), from `datasheets-notes/alkaline-aa.md`. Not to be edited.

use crate::cell::{Cell, Chemistry, Kinetics, OpenCircuit, Resistor, Storage, Tested};
use crate::units::{Charge, Current, Resistance, Temperature, Time, Voltage};

pub(super) const CELL: Cell = Cell {
    chemistry: Chemistry::Alkaline,
    in_series: 1,
    capacity: Charge::from_milliampere_hours(3105.0),
    floor: Voltage::from_volts(0.8),
    open_circuit: OpenCircuit {
        volts: [
            1.6, 1.575, 1.535, 1.48, 1.4, 1.351, 1.318, 1.293, 1.268, 1.236, 1.188, 1.14, 1.081,
            0.989, 0.905, 0.733,
        ],
    },
    open_circuit_per_k: 0.0,
    ohmic: Resistor {
        fresh: Resistance::from_ohms(0.131),
        growth: 4.85,
        late_growth: 16.8,
        activation_k: 2000.0,
    },
    slow: Resistor {
        fresh: Resistance::from_ohms(0.0125),
        growth: 1.4,
        late_growth: 21.9,
        activation_k: 2490.0,
    },
    slow_time: Time::from_seconds(99.3),
    kinetics: Kinetics {
        available_share: 0.378,
        rate_per_second: 9.98e-5,
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
        coldest: Temperature::from_celsius(-16.1),
        warmest: Temperature::from_celsius(22.0),
        heaviest: Current::from_milliamperes(2000.0),
        heaviest_in_frost: Current::from_milliamperes(100.0),
    },
};
