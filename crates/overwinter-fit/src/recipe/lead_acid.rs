//! Sealed lead-acid batteries.

use overwinter_model::cell::{Cell, Chemistry, Kinetics, OpenCircuit, Storage};
use overwinter_model::{Charge, Time, Voltage};

use super::{NOT_YET_TESTED, Recipe, Start, resistor};
use crate::knob::Knob;
use crate::points::Weights;

const WEIGHTS: Weights = Weights {
    grades: 0.0,
    other_grades: &[],
    from_memory: false,
};

const FREE: &[(Knob, f64)] = &[
    (Knob::Capacity, 0.2),
    (Knob::OhmicFresh, 0.3),
    (Knob::OhmicGrowth, 1.0),
    (Knob::OhmicLateGrowth, 1.0),
    (Knob::SlowFresh, 0.7),
    (Knob::SlowGrowth, 1.0),
    (Knob::SlowLateGrowth, 1.0),
    (Knob::SlowTime, 1.0),
    (Knob::AvailableShare, 0.5),
    (Knob::LevellingRate, 1.5),
    (Knob::LevellingActivation, 0.4),
    (Knob::LossPerYear, 0.5),
    (Knob::StorageActivation, 0.3),
];

pub(super) const TWELVE_VOLT_SMALL: Recipe = Recipe {
    name: "lead-acid-12v-4.5ah",
    start: Start::Own(small),
    free: FREE,
    open_circuit: Some(0.4),
    weights: WEIGHTS,
};

pub(super) const TWELVE_VOLT: Recipe = Recipe {
    name: "lead-acid-12v-7.2ah",
    start: Start::From("lead-acid-12v-4.5ah", |small| small.scaled(7.2 / 4.5)),
    free: FREE,
    open_circuit: Some(0.2),
    weights: WEIGHTS,
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
};

fn small() -> Cell {
    Cell {
        chemistry: Chemistry::LeadAcid,
        in_series: 6,
        capacity: Charge::from_milliampere_hours(4900.0),
        // 9.6 V for six is the lowest end of any printed table (US12-4.5).
        floor: Voltage::from_volts(1.6),
        // 2.12 V full and 1.95 V flat follow from acid of 6 and 1.5 mol/kg (BODE1977).
        open_circuit: OpenCircuit {
            volts: [
                2.14, 2.135, 2.13, 2.122, 2.105, 2.09, 2.075, 2.06, 2.04, 2.02, 2.0, 1.98, 1.965,
                1.95, 1.94, 1.93,
            ],
        },
        // From memory: about a fifth of a millivolt for each kelvin and cell.
        open_circuit_per_k: 0.0002,
        // 40 mohm for the whole battery (US12-4.5).
        ohmic: resistor(0.0067, 0.3, 1.0, 1200.0),
        slow: resistor(0.006, 1.0, 2.0, 2000.0),
        slow_time: Time::from_seconds(60.0),
        kinetics: Kinetics {
            available_share: 0.5,
            rate_per_second: 2e-4,
        },
        kinetics_activation_k: 3000.0,
        storage: Storage {
            loss_per_year: 0.35,
            early_loss: 0.0,
            early_time: Time::from_days(10.0),
            activation_k: 4000.0,
            resistance_growth_per_year: 0.0,
        },
        // From memory.
        spread: 0.03,
        // From memory; the sheets give one figure in frost, at the 10 h rate.
        cold_uncertainty: 0.15,
        tested: NOT_YET_TESTED,
    }
}
