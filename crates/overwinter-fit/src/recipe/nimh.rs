//! Nickel and metal hydride, of low self-discharge.

use overwinter_line::fit::{Knob, Weights};
use overwinter_model::cell::{
    BeyondPoints, Cell, Charging, Chemistry, Kinetics, Makes, OpenCircuit, Storage,
};
use overwinter_model::{Charge, Current, Overpotential, Temperature, Time, Voltage};

use super::{Curve, NOT_YET_TESTED, Recipe, Start, branch, resistor};

pub(super) const AA: Recipe = Recipe {
    name: "nimh-aa",
    start: Start::Own(aa),
    free: &[
        (Knob::Capacity, 0.05),
        (Knob::OhmicFresh, 0.3),
        (Knob::BranchFresh(0), 0.5),
        (Knob::BranchActivation(0), 0.2),
        (Knob::BranchFresh(1), 0.5),
        (Knob::BranchActivation(1), 0.2),
        (Knob::AvailableShare, 0.5),
        (Knob::LevellingRate, 1.0),
        (Knob::LevellingActivation, 0.5),
        (Knob::ReachActivation, 0.7),
        (Knob::LossPerYear, 0.7),
        (Knob::EarlyLoss, 0.5),
        (Knob::EarlyTime, 0.7),
    ],
    open_circuit: Some(Curve {
        top: 0.003,
        slopes: 0.5,
    }),
    // No AA figure in the cold states both load and cut-off, nor does any open-circuit voltage:
    // there the memory rows stand in.
    weights: Weights {
        makes: 0.03,
        makes_v: 0.0,
        from_memory: true,
    },
    common_points: false,
};

fn aa() -> Cell {
    Cell {
        chemistry: Chemistry::NickelMetalHydride,
        in_series: 1,
        capacity: Charge::from_milliampere_hours(2020.0),
        // Common practice, from memory: not under 0.9 V a cell.
        floor: Voltage::from_volts(0.9),
        open_circuit: OpenCircuit {
            volts: [
                1.42, 1.40, 1.38, 1.36, 1.34, 1.325, 1.31, 1.30, 1.293, 1.285, 1.27, 1.25, 1.235,
                1.20, 1.15, 1.0,
            ],
        },
        open_circuit_per_k: 0.0,
        ohmic: resistor(0.022, 0.15, 0.3, 2000.0),
        overpotential: Overpotential::NONE,
        branches: [
            branch(resistor(0.0084, 0.15, 0.3, 2150.0), 0.1),
            branch(resistor(0.0147, 0.15, 0.3, 2150.0), 30.0),
        ],
        kinetics: Kinetics {
            available_share: 0.83,
            rate_per_second: 2e-4,
        },
        kinetics_activation_k: 4000.0,
        reach_activation_k: 2000.0,
        storage: Storage {
            loss_per_year: 0.06,
            early_loss: 0.08,
            early_time: Time::from_days(12.0),
            // Three times faster at 40 than at 20 °C (SEABIRD).
            activation_k: 5040.0,
            resistance_growth_per_year: 0.0,
        },
        // 0 to 45 °C (HHR70AAAJ); the rest from memory (limits-044 to limits-046).
        charging: Some(Charging {
            efficiency: 0.8,
            coldest: Temperature::from_celsius(0.0),
            warmest: Temperature::from_celsius(45.0),
            limit: Voltage::from_volts(1.5),
            limit_per_k: 0.0,
            largest: Current::from_milliamperes(1000.0),
        }),
        // From memory.
        spread: 0.03,
        // No makes were measured side by side: resistances as alkaline makes, capacities by what is allowed
        // under a rating (judgement).
        makes: Makes {
            capacity: 0.04,
            resistance: 0.13,
            correlation: 0.0,
            open_circuit: Voltage::from_volts(0.01),
        },
        // Between 88 % and 17 % at -20 °C by rate (NIMH-D2004, ENELOOP-2010), neither with load
        // and cut-off.
        beyond_points: BeyondPoints {
            resistance: 0.3,
            reach: 0.5,
        },
        tested: NOT_YET_TESTED,
    }
}
