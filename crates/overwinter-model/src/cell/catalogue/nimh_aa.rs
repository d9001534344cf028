//! `nimh-aa`: written by the fit (`overwinter-fit`), from `datasheets-notes/nimh-aa.md`. Not to be edited.

use crate::cell::{
    BeyondPoints, Branch, Cell, Charging, Chemistry, Kinetics, Makes, OpenCircuit, Resistor,
    Storage, Tested,
};
use crate::circuit::Overpotential;
use crate::units::{Charge, Current, Resistance, Temperature, Time, Voltage};

pub(super) const CELL: Cell = Cell {
    chemistry: Chemistry::NickelMetalHydride,
    in_series: 1,
    capacity: Charge::from_milliampere_hours(2100.0),
    floor: Voltage::from_volts(0.9),
    open_circuit: OpenCircuit {
        volts: [
            1.42, 1.399, 1.378, 1.358, 1.338, 1.323, 1.309, 1.3, 1.293, 1.286, 1.272, 1.254, 1.24,
            1.208, 1.158, 1.003,
        ],
    },
    open_circuit_per_k: 0.0,
    ohmic: Resistor {
        fresh: Resistance::from_ohms(0.0225),
        growth: 0.15,
        late_growth: 0.3,
        activation_k: 2000.0,
    },
    overpotential: Overpotential::NONE,
    branches: [
        Branch {
            resistor: Resistor {
                fresh: Resistance::from_ohms(0.00787),
                growth: 0.15,
                late_growth: 0.3,
                activation_k: 2150.0,
            },
            time: Time::from_seconds(0.1),
        },
        Branch {
            resistor: Resistor {
                fresh: Resistance::from_ohms(0.011),
                growth: 0.15,
                late_growth: 0.3,
                activation_k: 2150.0,
            },
            time: Time::from_seconds(30.0),
        },
    ],
    kinetics: Kinetics {
        available_share: 0.906,
        rate_per_second: 9.84e-5,
    },
    kinetics_activation_k: 3940.0,
    reach_activation_k: 3640.0,
    storage: Storage {
        loss_per_year: 0.0501,
        early_loss: 0.105,
        early_time: Time::from_days(17.5),
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
    makes: Makes {
        capacity: 0.04,
        resistance: 0.13,
        correlation: 0.0,
        open_circuit: Voltage::from_volts(0.01),
    },
    beyond_points: BeyondPoints {
        resistance: 0.3,
        reach: 0.5,
    },
    tested: Tested {
        coldest: Temperature::from_celsius(-15.0),
        warmest: Temperature::from_celsius(22.0),
        heaviest: Current::from_milliamperes(3850.0),
        heaviest_in_frost: Current::from_milliamperes(450.0),
    },
};
