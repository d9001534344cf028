//! Sealed lead-acid batteries.

use overwinter_line::fit::{Knob, Weights};
use overwinter_model::cell::{
    BeyondPoints, Branch, Cell, Charging, Chemistry, Kinetics, Makes, OpenCircuit, Storage,
};
use overwinter_model::{Charge, Current, Overpotential, Temperature, Time, Voltage};

use super::{Curve, NOT_YET_TESTED, Recipe, Start, branch, resistor};

const WEIGHTS: Weights = Weights {
    makes: 0.0,
    makes_v: 0.0,
    from_memory: false,
};

pub(super) const TWELVE_VOLT: Recipe = Recipe {
    name: "lead-acid-12v-7.2ah",
    start: Start::Own(twelve_volt),
    free: &[
        (Knob::Capacity, 0.2),
        (Knob::OhmicFresh, 0.3),
        (Knob::OhmicGrowth, 1.0),
        (Knob::OhmicLateGrowth, 1.0),
        (Knob::BranchFresh(1), 0.7),
        (Knob::BranchGrowth(1), 1.0),
        (Knob::BranchLateGrowth(1), 1.0),
        (Knob::BranchTime(1), 1.0),
        (Knob::AvailableShare, 0.5),
        (Knob::LevellingRate, 1.5),
        (Knob::LevellingActivation, 0.4),
        (Knob::LossPerYear, 0.5),
        (Knob::StorageActivation, 0.3),
    ],
    open_circuit: Some(Curve {
        top: 0.01,
        slopes: 0.8,
    }),
    weights: WEIGHTS,
    common_points: false,
};

/// What the sheets of all sizes print alike, the cold and the storage, stays as fitted to the
/// larger battery.
pub(super) const TWELVE_VOLT_SMALL: Recipe = Recipe {
    name: "lead-acid-12v-4.5ah",
    start: Start::From("lead-acid-12v-7.2ah", |larger| larger.scaled(4.5 / 7.2)),
    free: &[
        (Knob::Capacity, 0.1),
        (Knob::OhmicFresh, 0.3),
        (Knob::OhmicGrowth, 0.5),
        (Knob::OhmicLateGrowth, 0.5),
        (Knob::BranchFresh(1), 0.5),
        (Knob::BranchGrowth(1), 0.5),
        (Knob::BranchLateGrowth(1), 0.5),
        (Knob::BranchTime(1), 0.5),
        (Knob::AvailableShare, 0.3),
        (Knob::LevellingRate, 0.7),
    ],
    open_circuit: Some(Curve {
        top: 0.01,
        slopes: 0.3,
    }),
    weights: WEIGHTS,
    common_points: true,
};

/// No sheet of a 6 V battery was found: half of the 12 V one of the same charge.
pub(super) const SIX_VOLT: Recipe = Recipe {
    name: "lead-acid-6v-4.5ah",
    start: Start::From("lead-acid-12v-4.5ah", |twelve| Cell {
        in_series: 3,
        ..*twelve
    }),
    free: &[],
    open_circuit: None,
    weights: WEIGHTS,
    common_points: true,
};

fn twelve_volt() -> Cell {
    Cell {
        chemistry: Chemistry::LeadAcid,
        in_series: 6,
        capacity: Charge::from_milliampere_hours(8000.0),
        // 9.6 V for six is the lowest end of any printed table (US12-4.5).
        floor: Voltage::from_volts(1.6),
        // 2.12 V full and 1.95 V flat follow from acid of 6 and 1.5 mol/kg (BODE1977).
        open_circuit: OpenCircuit {
            volts: [
                2.13, 2.127, 2.123, 2.116, 2.101, 2.087, 2.073, 2.059, 2.041, 2.02, 1.995, 1.97,
                1.945, 1.91, 1.88, 1.83,
            ],
        },
        // From memory: about a fifth of a millivolt for each kelvin and cell.
        open_circuit_per_k: 0.0002,
        // 20 mohm for the whole battery (USL12-7.2).
        ohmic: resistor(0.0034, 0.3, 1.0, 1200.0),
        overpotential: Overpotential::NONE,
        branches: [
            Branch::NONE,
            branch(resistor(0.005, 1.0, 2.0, 2000.0), 60.0),
        ],
        kinetics: Kinetics {
            available_share: 0.5,
            rate_per_second: 2e-4,
        },
        kinetics_activation_k: 3000.0,
        reach_activation_k: 0.0,
        storage: Storage {
            loss_per_year: 0.35,
            early_loss: 0.0,
            early_time: Time::from_days(10.0),
            activation_k: 4000.0,
            resistance_growth_per_year: 0.0,
        },
        // 0 to 40 °C, in cycles to 14.4 V at least, less 30 mV for each degree from 20 °C, at 0.3 It
        // (US12-4.5); 85 % come back (limits-047).
        charging: Some(Charging {
            efficiency: 0.85,
            coldest: Temperature::from_celsius(0.0),
            warmest: Temperature::from_celsius(40.0),
            limit: Voltage::from_volts(2.4),
            limit_per_k: -0.005,
            largest: Current::from_milliamperes(2160.0),
        }),
        // From memory.
        spread: 0.03,
        // No makes were measured side by side: resistances as alkaline makes, capacities by what is allowed
        // under a rating (judgement).
        makes: Makes {
            capacity: 0.04,
            resistance: 0.13,
            correlation: 0.0,
            open_circuit: Voltage::ZERO,
        },
        // From memory; the sheets give one figure in frost, at the 10 h rate.
        beyond_points: BeyondPoints {
            resistance: 0.2,
            reach: 0.15,
        },
        tested: NOT_YET_TESTED,
    }
}
