//! Zinc and manganese dioxide.

use overwinter_line::fit::{Knob, Weights};
use overwinter_model::cell::{Cell, Chemistry, Kinetics, OpenCircuit, Storage};
use overwinter_model::{Charge, Time, Voltage};

use super::{NOT_YET_TESTED, Recipe, Start, resistor};

/// The cell stands for a good common grade; rows of others are marked in the table. Its own makes
/// differ too: 1.0 to 1.25 Ah at 1 A (CHARTS-2019).
const WEIGHTS: Weights = Weights {
    grades: 0.05,
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
        (Knob::SlowFresh, 1.0),
        (Knob::SlowGrowth, 1.0),
        (Knob::SlowLateGrowth, 1.0),
        (Knob::SlowActivation, 0.3),
        (Knob::SlowTime, 1.0),
        (Knob::AvailableShare, 0.7),
        (Knob::LevellingRate, 2.0),
        (Knob::LevellingActivation, 0.3),
    ],
    open_circuit: Some(0.7),
    weights: WEIGHTS,
    common_points: false,
};

/// The bigger sizes are of the same make-up: only what their few points decide may move. Their
/// resistance is nearly free, for it does not fall with the size: 0.23 ohm for a C cell in 0.3 s
/// (GP14AU-C01) is more than an AA cell has.
const BIGGER: &[(Knob, f64)] = &[
    (Knob::Capacity, 0.05),
    (Knob::OhmicFresh, 1.0),
    (Knob::SlowFresh, 1.0),
    (Knob::SlowGrowth, 0.4),
    (Knob::SlowTime, 0.4),
    (Knob::AvailableShare, 0.3),
    (Knob::LevellingRate, 1.0),
];

pub(super) const C: Recipe = Recipe {
    name: "alkaline-c",
    start: Start::From("alkaline-aa", |aa| aa.scaled(2.5)),
    free: BIGGER,
    open_circuit: Some(0.3),
    weights: WEIGHTS,
    common_points: false,
};

pub(super) const D: Recipe = Recipe {
    name: "alkaline-d",
    start: Start::From("alkaline-aa", |aa| aa.scaled(5.8)),
    free: BIGGER,
    open_circuit: Some(0.3),
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
                1.62, 1.60, 1.57, 1.53, 1.46, 1.41, 1.37, 1.335, 1.30, 1.26, 1.20, 1.14, 1.07,
                0.97, 0.88, 0.7,
            ],
        },
        // Not known; small against the scatter of the points.
        open_circuit_per_k: 0.0,
        // 0.098 ohm at once (GP15AUP), 0.15 after 100 ms (WIKI-IR), both with about the electrolyte's
        // activation (KOH2007). Impedance arcs lie between 1 and 100 Hz (from memory).
        ohmic: resistor(0.1, 6.0, 15.0, 2100.0),
        slow: resistor(0.05, 1.0, 3.0, 2300.0),
        slow_time: Time::from_seconds(0.1),
        kinetics: Kinetics {
            available_share: 0.37,
            rate_per_second: 2.5e-4,
        },
        kinetics_activation_k: 7000.0,
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
        // Eight cells of one pack under a heavy load to a high cut-off (MYBB).
        spread: 0.12,
        // Comes out of the rows of other grades.
        grade_spread: 0.0,
        // The one extrapolation seen, 25 % at -20 °C, against 8 to 45 % from memory by load.
        cold_uncertainty: 0.4,
        tested: NOT_YET_TESTED,
    }
}
