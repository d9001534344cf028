//! `lead-acid-6v-4.5ah`: written by the fit (`overwinter-fit`), from `datasheets-notes/lead-acid-6v-4.5ah.md`. Not to be edited.

use crate::cell::{
    BeyondPoints, Branch, Cell, Charging, Chemistry, Kinetics, Makes, OpenCircuit, Resistor,
    Storage, Tested,
};
use crate::circuit::Overpotential;
use crate::units::{Charge, Current, Resistance, Temperature, Time, Voltage};

pub(super) const CELL: Cell = Cell {
    chemistry: Chemistry::LeadAcid,
    in_series: 3,
    capacity: Charge::from_milliampere_hours(4942.0),
    floor: Voltage::from_volts(1.6),
    open_circuit: OpenCircuit {
        volts: [
            2.089, 2.086, 2.082, 2.074, 2.057, 2.04, 2.024, 2.005, 1.982, 1.953, 1.918, 1.884,
            1.849, 1.798, 1.755, 1.688,
        ],
    },
    open_circuit_per_k: 0.0002,
    ohmic: Resistor {
        fresh: Resistance::from_ohms(0.00629),
        growth: 0.305,
        late_growth: 1.01,
        activation_k: 1200.0,
    },
    overpotential: Overpotential::NONE,
    branches: [
        Branch::NONE,
        Branch {
            resistor: Resistor {
                fresh: Resistance::from_ohms(0.0162),
                growth: 1.14,
                late_growth: 2.09,
                activation_k: 2000.0,
            },
            time: Time::from_seconds(50.4),
        },
    ],
    kinetics: Kinetics {
        available_share: 0.455,
        rate_per_second: 0.000231,
    },
    kinetics_activation_k: 3010.0,
    reach_activation_k: 0.0,
    storage: Storage {
        loss_per_year: 0.442,
        early_loss: 0.0,
        early_time: Time::from_days(10.0),
        activation_k: 5260.0,
        resistance_growth_per_year: 0.0,
    },
    charging: Some(Charging {
        efficiency: 0.85,
        coldest: Temperature::from_celsius(0.0),
        warmest: Temperature::from_celsius(40.0),
        limit: Voltage::from_volts(2.4),
        limit_per_k: -0.005,
        largest: Current::from_milliamperes(1350.0),
    }),
    spread: 0.03,
    makes: Makes {
        capacity: 0.04,
        resistance: 0.13,
        correlation: 0.0,
        open_circuit: Voltage::from_volts(0.0),
    },
    beyond_points: BeyondPoints {
        resistance: 0.2,
        reach: 0.15,
    },
    tested: Tested {
        coldest: Temperature::from_celsius(-15.0),
        warmest: Temperature::from_celsius(40.0),
        heaviest: Current::from_milliamperes(13500.0),
        heaviest_in_frost: Current::from_milliamperes(0.0),
    },
};
