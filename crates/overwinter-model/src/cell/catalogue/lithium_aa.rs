//! `lithium-aa`: written by the fit (`overwinter-fit`), from `datasheets-notes/lithium-aa.md`. Not to be edited.

use crate::cell::{Cell, Chemistry, Kinetics, OpenCircuit, Resistor, Storage, Tested};
use crate::units::{Charge, Current, Resistance, Temperature, Time, Voltage};

pub(super) const CELL: Cell = Cell {
    chemistry: Chemistry::LithiumIronDisulfide,
    in_series: 1,
    capacity: Charge::from_milliampere_hours(3070.0),
    floor: Voltage::from_volts(0.8),
    open_circuit: OpenCircuit {
        volts: [
            1.785, 1.621, 1.557, 1.545, 1.534, 1.527, 1.519, 1.51, 1.501, 1.496, 1.486, 1.475,
            1.458, 1.423, 1.35, 0.873,
        ],
    },
    open_circuit_per_k: 0.0,
    ohmic: Resistor {
        fresh: Resistance::from_ohms(0.221),
        growth: 0.108,
        late_growth: 0.191,
        activation_k: 897.0,
    },
    slow: Resistor {
        fresh: Resistance::from_ohms(0.094),
        growth: 0.213,
        late_growth: 0.509,
        activation_k: 1570.0,
    },
    slow_time: Time::from_seconds(549.0),
    kinetics: Kinetics {
        available_share: 0.749,
        rate_per_second: 0.000585,
    },
    kinetics_activation_k: 3390.0,
    storage: Storage {
        loss_per_year: 0.022,
        early_loss: 0.0,
        early_time: Time::from_days(10.0),
        activation_k: 5000.0,
        resistance_growth_per_year: 0.0,
    },
    spread: 0.02,
    cold_uncertainty: 0.15,
    tested: Tested {
        coldest: Temperature::from_celsius(-16.1),
        warmest: Temperature::from_celsius(23.0),
        heaviest: Current::from_milliamperes(2000.0),
        heaviest_in_frost: Current::from_milliamperes(18.0),
    },
};
