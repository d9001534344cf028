//! `lfp-18650`: written by the fit (`overwinter-fit`), from `datasheets-notes/lfp-18650.md`. Not to be edited.

use crate::cell::{
    BeyondPoints, Branch, Cell, Charging, Chemistry, Kinetics, Makes, OpenCircuit, Resistor,
    Storage, Tested,
};
use crate::circuit::Overpotential;
use crate::units::{Charge, Current, Resistance, Temperature, Time, Voltage};

pub(super) const CELL: Cell = Cell {
    chemistry: Chemistry::LithiumIronPhosphate,
    in_series: 1,
    capacity: Charge::from_milliampere_hours(1500.0),
    floor: Voltage::from_volts(2.0),
    open_circuit: OpenCircuit {
        volts: [
            3.451, 3.378, 3.358, 3.35, 3.334, 3.327, 3.316, 3.306, 3.292, 3.277, 3.237, 3.198,
            3.159, 3.054, 2.914, 2.45,
        ],
    },
    open_circuit_per_k: 0.0,
    ohmic: Resistor {
        fresh: Resistance::from_ohms(0.0452),
        growth: 0.01,
        late_growth: 0.01,
        activation_k: 1850.0,
    },
    overpotential: Overpotential::NONE,
    branches: [
        Branch::NONE,
        Branch {
            resistor: Resistor {
                fresh: Resistance::from_ohms(0.0772),
                growth: 0.14,
                late_growth: 3.22,
                activation_k: 3470.0,
            },
            time: Time::from_seconds(59.3),
        },
    ],
    kinetics: Kinetics {
        available_share: 0.95,
        rate_per_second: 0.000318,
    },
    kinetics_activation_k: 3820.0,
    reach_activation_k: 0.0,
    storage: Storage {
        loss_per_year: 0.0711,
        early_loss: 0.0,
        early_time: Time::from_days(10.0),
        activation_k: 4700.0,
        resistance_growth_per_year: 0.0,
    },
    charging: Some(Charging {
        efficiency: 0.9985,
        coldest: Temperature::from_celsius(0.0),
        warmest: Temperature::from_celsius(45.0),
        limit: Voltage::from_volts(3.65),
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
        coldest: Temperature::from_celsius(-25.0),
        warmest: Temperature::from_celsius(50.0),
        heaviest: Current::from_milliamperes(1500.0),
        heaviest_in_frost: Current::from_milliamperes(750.0),
    },
};
