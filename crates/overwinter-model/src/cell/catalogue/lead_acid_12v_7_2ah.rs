//! `lead-acid-12v-7.2ah`: written by the fit (`overwinter-fit`), from `datasheets-notes/lead-acid-12v-7.2ah.md`. Not to be edited.

use crate::cell::{
    BeyondPoints, Branch, Cell, Charging, Chemistry, Kinetics, Makes, OpenCircuit, Resistor,
    Storage, Tested,
};
use crate::circuit::Overpotential;
use crate::units::{Charge, Current, Resistance, Temperature, Time, Voltage};

pub(super) const CELL: Cell = Cell {
    chemistry: Chemistry::LeadAcid,
    in_series: 6,
    capacity: Charge::from_milliampere_hours(8322.0),
    floor: Voltage::from_volts(1.6),
    open_circuit: OpenCircuit {
        volts: [
            2.123, 2.12, 2.116, 2.108, 2.09, 2.073, 2.056, 2.037, 2.013, 1.982, 1.945, 1.907,
            1.871, 1.823, 1.783, 1.719,
        ],
    },
    open_circuit_per_k: 0.0002,
    ohmic: Resistor {
        fresh: Resistance::from_ohms(0.00306),
        growth: 0.305,
        late_growth: 1.01,
        activation_k: 1200.0,
    },
    overpotential: Overpotential::NONE,
    branches: [
        Branch::NONE,
        Branch {
            resistor: Resistor {
                fresh: Resistance::from_ohms(0.00593),
                growth: 1.13,
                late_growth: 2.09,
                activation_k: 2000.0,
            },
            time: Time::from_seconds(60.5),
        },
    ],
    kinetics: Kinetics {
        available_share: 0.413,
        rate_per_second: 0.000282,
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
        largest: Current::from_milliamperes(2160.0),
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
        heaviest: Current::from_milliamperes(14600.0),
        heaviest_in_frost: Current::from_milliamperes(720.0),
    },
};
