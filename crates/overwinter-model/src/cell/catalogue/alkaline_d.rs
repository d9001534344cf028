//! `alkaline-d`: written by the fit (`overwinter-fit`), from `datasheets-notes/alkaline-d.md`. Not to be edited.

use crate::cell::{Cell, Chemistry, Kinetics, OpenCircuit, Resistor, Storage, Tested};
use crate::units::{Charge, Current, Resistance, Temperature, Time, Voltage};

pub(super) const CELL: Cell = Cell {
    chemistry: Chemistry::Alkaline,
    in_series: 1,
    capacity: Charge::from_milliampere_hours(17140.0),
    floor: Voltage::from_volts(0.8),
    open_circuit: OpenCircuit {
        volts: [
            1.613, 1.582, 1.535, 1.472, 1.385, 1.339, 1.305, 1.278, 1.248, 1.211, 1.146, 1.087,
            1.022, 0.929, 0.844, 0.67,
        ],
    },
    open_circuit_per_k: 0.0,
    ohmic: Resistor {
        fresh: Resistance::from_ohms(0.108),
        growth: 4.55,
        late_growth: 15.6,
        activation_k: 2030.0,
    },
    slow: Resistor {
        fresh: Resistance::from_ohms(0.0076),
        growth: 0.852,
        late_growth: 3.01,
        activation_k: 2150.0,
    },
    slow_time: Time::from_seconds(0.0701),
    kinetics: Kinetics {
        available_share: 0.323,
        rate_per_second: 5.52e-5,
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
        heaviest: Current::from_milliamperes(1000.0),
        heaviest_in_frost: Current::from_milliamperes(0.0),
    },
};
