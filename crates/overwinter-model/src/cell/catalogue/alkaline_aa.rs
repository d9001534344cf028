//! `alkaline-aa`: written by the fit (`overwinter-fit`), from `datasheets-notes/alkaline-aa.md`. Not to be edited.

use crate::cell::{
    BeyondPoints, Branch, Cell, Chemistry, Kinetics, Makes, OpenCircuit, Resistor, Storage, Tested,
};
use crate::circuit::Overpotential;
use crate::units::{Charge, Current, Resistance, Temperature, Time, Voltage};

pub(super) const CELL: Cell = Cell {
    chemistry: Chemistry::Alkaline,
    in_series: 1,
    capacity: Charge::from_milliampere_hours(3327.0),
    floor: Voltage::from_volts(0.8),
    open_circuit: OpenCircuit {
        volts: [
            1.598, 1.558, 1.507, 1.453, 1.368, 1.328, 1.294, 1.269, 1.233, 1.184, 1.094, 0.987,
            0.881, 0.756, 0.653, 0.453,
        ],
    },
    open_circuit_per_k: 0.0,
    ohmic: Resistor {
        fresh: Resistance::from_ohms(0.0215),
        growth: 0.82,
        late_growth: 8.05,
        activation_k: 2110.0,
    },
    overpotential: Overpotential {
        most: Voltage::from_volts(0.107),
        half_at: Current::from_milliamperes(324.0),
    },
    branches: [
        Branch {
            resistor: Resistor {
                fresh: Resistance::from_ohms(0.0696),
                growth: 0.538,
                late_growth: 14.3,
                activation_k: 2390.0,
            },
            time: Time::from_seconds(0.0749),
        },
        Branch {
            resistor: Resistor {
                fresh: Resistance::from_ohms(0.0643),
                growth: 9.6,
                late_growth: 13.0,
                activation_k: 3130.0,
            },
            time: Time::from_seconds(10.1),
        },
    ],
    kinetics: Kinetics {
        available_share: 0.652,
        rate_per_second: 3.68e-5,
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
        coldest: Temperature::from_celsius(-16.1),
        warmest: Temperature::from_celsius(22.0),
        heaviest: Current::from_milliamperes(1430.0),
        heaviest_in_frost: Current::from_milliamperes(100.0),
    },
};
