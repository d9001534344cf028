//! `lfp-18650`: written by the fit (`overwinter-fit`), from `datasheets-notes/lfp-18650.md`. Not to be edited.

use crate::cell::{Cell, Chemistry, Kinetics, OpenCircuit, Resistor, Storage, Tested};
use crate::units::{Charge, Current, Resistance, Temperature, Time, Voltage};

pub(super) const CELL: Cell = Cell {
    chemistry: Chemistry::LithiumIronPhosphate,
    in_series: 1,
    capacity: Charge::from_milliampere_hours(1504.0),
    floor: Voltage::from_volts(2.0),
    open_circuit: OpenCircuit {
        volts: [
            3.449, 3.379, 3.359, 3.351, 3.335, 3.328, 3.317, 3.307, 3.293, 3.278, 3.239, 3.199,
            3.16, 3.054, 2.913, 2.445,
        ],
    },
    open_circuit_per_k: 0.0,
    ohmic: Resistor {
        fresh: Resistance::from_ohms(0.0443),
        growth: 0.01,
        late_growth: 0.01,
        activation_k: 1900.0,
    },
    slow: Resistor {
        fresh: Resistance::from_ohms(0.082),
        growth: 0.164,
        late_growth: 3.08,
        activation_k: 3320.0,
    },
    slow_time: Time::from_seconds(56.8),
    kinetics: Kinetics {
        available_share: 0.955,
        rate_per_second: 0.00031,
    },
    kinetics_activation_k: 3630.0,
    storage: Storage {
        loss_per_year: 0.0711,
        early_loss: 0.0,
        early_time: Time::from_days(10.0),
        activation_k: 4700.0,
        resistance_growth_per_year: 0.0,
    },
    spread: 0.02,
    cold_uncertainty: 0.2,
    tested: Tested {
        coldest: Temperature::from_celsius(-25.0),
        warmest: Temperature::from_celsius(50.0),
        heaviest: Current::from_milliamperes(7500.0),
        heaviest_in_frost: Current::from_milliamperes(3750.0),
    },
};
