//! `lithium-aa`: written by the fit (`overwinter-fit`), from `datasheets-notes/lithium-aa.md`. Not to be edited.

use crate::cell::{
    BeyondPoints, Branch, Cell, Chemistry, Kinetics, Makes, OpenCircuit, Resistor, Storage, Tested,
};
use crate::circuit::Overpotential;
use crate::units::{Charge, Current, Resistance, Temperature, Time, Voltage};

pub(super) const CELL: Cell = Cell {
    chemistry: Chemistry::LithiumIronDisulfide,
    in_series: 1,
    capacity: Charge::from_milliampere_hours(3360.0),
    floor: Voltage::from_volts(0.8),
    open_circuit: OpenCircuit {
        volts: [
            1.79, 1.691, 1.667, 1.657, 1.651, 1.641, 1.632, 1.62, 1.61, 1.593, 1.573, 1.497, 1.447,
            1.375, 1.259, 0.941,
        ],
    },
    open_circuit_per_k: 0.0,
    ohmic: Resistor {
        fresh: Resistance::from_ohms(0.0715),
        growth: 0.1,
        late_growth: 0.194,
        activation_k: 300.0,
    },
    overpotential: Overpotential {
        most: Voltage::from_volts(0.137),
        half_at: Current::from_milliamperes(0.436),
    },
    branches: [
        Branch {
            resistor: Resistor {
                fresh: Resistance::from_ohms(0.144),
                growth: 0.1,
                late_growth: 0.3,
                activation_k: 1360.0,
            },
            time: Time::from_seconds(0.3),
        },
        Branch {
            resistor: Resistor {
                fresh: Resistance::from_ohms(0.00328),
                growth: 0.1,
                late_growth: 0.3,
                activation_k: 7280.0,
            },
            time: Time::from_seconds(30.0),
        },
    ],
    kinetics: Kinetics {
        available_share: 0.98,
        rate_per_second: 0.0001,
    },
    kinetics_activation_k: 2000.0,
    reach_activation_k: 3000.0,
    storage: Storage {
        loss_per_year: 0.022,
        early_loss: 0.0,
        early_time: Time::from_days(10.0),
        activation_k: 5000.0,
        resistance_growth_per_year: 0.0,
    },
    charging: None,
    spread: 0.02,
    makes: Makes {
        capacity: 0.08,
        resistance: 0.13,
        correlation: 0.0,
        open_circuit: Voltage::from_volts(0.01),
    },
    beyond_points: BeyondPoints {
        resistance: 0.2,
        reach: 0.15,
    },
    tested: Tested {
        coldest: Temperature::from_celsius(-40.0),
        warmest: Temperature::from_celsius(23.0),
        heaviest: Current::from_milliamperes(1430.0),
        heaviest_in_frost: Current::from_milliamperes(1000.0),
    },
};
