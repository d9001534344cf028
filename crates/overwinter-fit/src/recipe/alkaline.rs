//! Zinc and manganese dioxide.

use overwinter_line::fit::{Knob, Weights};
use overwinter_model::cell::{
    BeyondPoints, Cell, Chemistry, Kinetics, Makes, OpenCircuit, Storage,
};
use overwinter_model::{Charge, Current, Overpotential, Time, Voltage};

use super::{Curve, NOT_YET_TESTED, Recipe, Start, branch, resistor};

/// The cell stands for the median of what is sold; makes lie 7 to 12 % apart (MORAGOR).
const WEIGHTS: Weights = Weights {
    makes: 0.1,
    makes_v: 0.02,
    from_memory: false,
};

pub(super) const AA: Recipe = Recipe {
    name: "alkaline-aa",
    start: Start::Own(aa),
    free: &[
        (Knob::Capacity, 0.1),
        (Knob::OhmicFresh, 0.5),
        (Knob::OhmicGrowth, 1.0),
        (Knob::OhmicLateGrowth, 1.0),
        // Potassium hydroxide of 9 mol/l: 2300 K between 0 and 20 °C (KOH2007).
        (Knob::OhmicActivation, 0.1),
        (Knob::OverpotentialMost, 0.4),
        (Knob::OverpotentialHalfAt, 0.5),
        (Knob::BranchFresh(0), 0.5),
        (Knob::BranchGrowth(0), 1.0),
        (Knob::BranchLateGrowth(0), 1.0),
        (Knob::BranchActivation(0), 0.1),
        (Knob::BranchTime(0), 0.3),
        (Knob::BranchFresh(1), 0.7),
        (Knob::BranchGrowth(1), 1.0),
        (Knob::BranchLateGrowth(1), 1.0),
        (Knob::BranchActivation(1), 0.2),
        (Knob::BranchTime(1), 0.7),
        (Knob::AvailableShare, 0.03),
        (Knob::LevellingRate, 2.0),
        (Knob::LevellingActivation, 1.0),
        (Knob::ReachActivation, 1.5),
    ],
    open_circuit: Some(Curve {
        top: 0.003,
        slopes: 0.7,
    }),
    weights: WEIGHTS,
    common_points: false,
};

/// The bigger sizes are of the same make-up: only what their few points decide may move. Their
/// resistance is nearly free, for it does not fall with the size: 0.23 ohm for a C cell in 0.3 s
/// (GP14AU-C01) is more than an AA cell has.
const BIGGER: &[(Knob, f64)] = &[
    (Knob::Capacity, 0.05),
    (Knob::OhmicFresh, 1.0),
    (Knob::BranchFresh(0), 1.0),
    (Knob::BranchFresh(1), 1.0),
    (Knob::AvailableShare, 0.3),
    (Knob::LevellingRate, 1.0),
];

pub(super) const C: Recipe = Recipe {
    name: "alkaline-c",
    start: Start::From("alkaline-aa", |aa| aa.scaled(2.5)),
    free: BIGGER,
    open_circuit: Some(Curve {
        top: 0.003,
        slopes: 0.3,
    }),
    weights: WEIGHTS,
    common_points: false,
};

pub(super) const D: Recipe = Recipe {
    name: "alkaline-d",
    start: Start::From("alkaline-aa", |aa| aa.scaled(5.8)),
    free: BIGGER,
    open_circuit: Some(Curve {
        top: 0.003,
        slopes: 0.3,
    }),
    weights: WEIGHTS,
    common_points: false,
};

fn aa() -> Cell {
    Cell {
        chemistry: Chemistry::Alkaline,
        in_series: 1,
        capacity: Charge::from_milliampere_hours(2900.0),
        // Makers ask to take cells out at 0.8 V (common practice, from memory).
        floor: Voltage::from_volts(0.8),
        open_circuit: OpenCircuit {
            volts: [
                1.60, 1.58, 1.55, 1.51, 1.44, 1.395, 1.36, 1.335, 1.30, 1.26, 1.20, 1.14, 1.07,
                0.97, 0.88, 0.7,
            ],
        },
        // Not known; small against the scatter of the points.
        open_circuit_per_k: 0.0,
        // 0.098 ohm at once (GP15AUP), 0.15 after 100 ms (WIKI-IR), both with about the electrolyte's
        // activation (KOH2007). Impedance arcs lie between 1 and 100 Hz (from memory).
        ohmic: resistor(0.08, 1.0, 8.0, 2100.0),
        overpotential: Overpotential {
            most: Voltage::from_volts(0.12),
            half_at: Current::from_milliamperes(600.0),
        },
        branches: [
            branch(resistor(0.08, 1.0, 20.0, 2300.0), 0.1),
            branch(resistor(0.08, 3.0, 10.0, 2300.0), 8.0),
        ],
        kinetics: Kinetics {
            available_share: 0.7,
            rate_per_second: 6e-5,
        },
        kinetics_activation_k: 2000.0,
        reach_activation_k: 3000.0,
        storage: Storage {
            // 2.5 % in the first year, 15 % in four (STORE-2Y, ANRIEFF): light loads lose 3 % a
            // year, heavy ones 10 % (GQ-LR03), so the rest is resistance.
            loss_per_year: 0.025,
            early_loss: 0.0,
            early_time: Time::from_days(10.0),
            // From memory: about a doubling for 10 °C; no measured loss in the cold was found.
            activation_k: 5500.0,
            // 0.231 to 0.256 ohm in twelve months (GP14AU-C01).
            resistance_growth_per_year: 0.11,
        },
        charging: None,
        // Two cells each of 25 makes (MORAGOR).
        spread: 0.038,
        // How far 17 makes, two cells each, lie from this cell, which stands between them and what makers print:
        // the test `cell_makes` measures it (MORAGOR).
        makes: Makes {
            capacity: 0.071,
            resistance: 0.16,
            correlation: 0.27,
            open_circuit: Voltage::from_volts(0.04),
        },
        // A fair standard deviation of the resistance under a flash at -20 °C, and what our own errors are at
        // 250 mA and 1 A in frost, against the one reading there is (GOH-LR6).
        beyond_points: BeyondPoints {
            resistance: 0.3,
            reach: 0.4,
        },
        tested: NOT_YET_TESTED,
    }
}
