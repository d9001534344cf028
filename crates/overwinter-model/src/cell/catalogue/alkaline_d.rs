//! `alkaline-d`: written by the fit (`overwinter-fit`), from `datasheets-notes/alkaline-d.md`. Not to be edited.

use crate::cell::{
    BeyondPoints, Branch, Cell, Chemistry, Kinetics, Makes, OpenCircuit, Resistor, Storage, Tested,
};
use crate::circuit::Overpotential;
use crate::units::{Charge, Current, Resistance, Temperature, Time, Voltage};

pub(super) const CELL: Cell = Cell {
    chemistry: Chemistry::Alkaline,
    in_series: 1,
    capacity: Charge::from_milliampere_hours(18470.0),
    floor: Voltage::from_volts(0.8),
    open_circuit: OpenCircuit {
        volts: [
            1.598, 1.559, 1.51, 1.457, 1.376, 1.338, 1.304, 1.278, 1.239, 1.186, 1.092, 0.983,
            0.877, 0.752, 0.649, 0.449,
        ],
    },
    open_circuit_per_k: 0.0,
    ohmic: Resistor {
        fresh: Resistance::from_ohms(0.0038),
        growth: 0.82,
        late_growth: 8.05,
        activation_k: 2110.0,
    },
    overpotential: Overpotential {
        most: Voltage::from_volts(0.107),
        half_at: Current::from_milliamperes(1880.0),
    },
    branches: [
        Branch {
            resistor: Resistor {
                fresh: Resistance::from_ohms(0.0148),
                growth: 0.538,
                late_growth: 14.3,
                activation_k: 2390.0,
            },
            time: Time::from_seconds(0.0749),
        },
        Branch {
            resistor: Resistor {
                fresh: Resistance::from_ohms(0.0731),
                growth: 9.6,
                late_growth: 13.0,
                activation_k: 3130.0,
            },
            time: Time::from_seconds(10.1),
        },
    ],
    kinetics: Kinetics {
        available_share: 0.513,
        rate_per_second: 2.09e-5,
    },
    kinetics_activation_k: 1620.0,
    reach_activation_k: 4240.0,
    storage: Storage {
        loss_per_year: 0.025,
        early_loss: 0.0,
        early_time: Time::from_days(10.0),
        activation_k: 5500.0,
        resistance_growth_per_year: 0.11,
    },
    charging: None,
    spread: 0.038,
    makes: Makes {
        capacity: 0.071,
        resistance: 0.16,
        correlation: 0.27,
        open_circuit: Voltage::from_volts(0.04),
    },
    beyond_points: BeyondPoints {
        resistance: 0.3,
        reach: 0.4,
    },
    tested: Tested {
        coldest: Temperature::from_celsius(20.0),
        warmest: Temperature::from_celsius(20.0),
        heaviest: Current::from_milliamperes(1000.0),
        heaviest_in_frost: Current::from_milliamperes(0.0),
    },
};
