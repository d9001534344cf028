//! `lithium-ion-18650`: written by the fit (`overwinter-fit`), from `datasheets-notes/lithium-ion-18650.md`. Not to be edited.

use crate::cell::{
    BeyondPoints, Branch, Cell, Charging, Chemistry, Kinetics, Makes, OpenCircuit, Resistor,
    Storage, Tested,
};
use crate::circuit::Overpotential;
use crate::units::{Charge, Current, Resistance, Temperature, Time, Voltage};

pub(super) const CELL: Cell = Cell {
    chemistry: Chemistry::LithiumIon,
    in_series: 1,
    capacity: Charge::from_milliampere_hours(2784.0),
    floor: Voltage::from_volts(2.5),
    open_circuit: OpenCircuit {
        volts: [
            4.19, 4.17, 4.15, 4.11, 4.04, 3.95, 3.84, 3.746, 3.669, 3.583, 3.484, 3.375, 3.243,
            3.047, 2.846, 2.501,
        ],
    },
    open_circuit_per_k: 0.0,
    ohmic: Resistor {
        fresh: Resistance::from_ohms(0.0284),
        growth: 0.01,
        late_growth: 0.01,
        activation_k: 1500.0,
    },
    overpotential: Overpotential::NONE,
    branches: [
        Branch::NONE,
        Branch {
            resistor: Resistor {
                fresh: Resistance::from_ohms(0.0291),
                growth: 0.2,
                late_growth: 1.0,
                activation_k: 2830.0,
            },
            time: Time::from_seconds(20.0),
        },
    ],
    kinetics: Kinetics {
        available_share: 0.899,
        rate_per_second: 0.000286,
    },
    kinetics_activation_k: 3100.0,
    reach_activation_k: 0.0,
    storage: Storage {
        loss_per_year: 0.15,
        early_loss: 0.0,
        early_time: Time::from_days(10.0),
        activation_k: 4500.0,
        resistance_growth_per_year: 0.0,
    },
    charging: Some(Charging {
        efficiency: 0.99,
        coldest: Temperature::from_celsius(0.0),
        warmest: Temperature::from_celsius(45.0),
        limit: Voltage::from_volts(4.2),
        limit_per_k: 0.0,
        largest: Current::from_milliamperes(1500.0),
    }),
    spread: 0.02,
    makes: Makes {
        capacity: 0.04,
        resistance: 0.13,
        correlation: 0.0,
        open_circuit: Voltage::from_volts(0.0),
    },
    beyond_points: BeyondPoints {
        resistance: 0.2,
        reach: 0.2,
    },
    tested: Tested {
        coldest: Temperature::from_celsius(-20.0),
        warmest: Temperature::from_celsius(40.0),
        heaviest: Current::from_milliamperes(3000.0),
        heaviest_in_frost: Current::from_milliamperes(3000.0),
    },
};
