//! Lithium cells: iron disulfide, iron phosphate, layered oxides.

use overwinter_line::fit::{Knob, Weights};
use overwinter_model::cell::{
    BeyondPoints, Branch, Cell, Charging, Chemistry, Kinetics, Makes, OpenCircuit, Storage,
};
use overwinter_model::{Charge, Current, Overpotential, Temperature, Time, Voltage};

use super::{Curve, NOT_YET_TESTED, Recipe, Start, branch, resistor};

pub(super) const IRON_DISULFIDE_AA: Recipe = Recipe {
    name: "lithium-aa",
    start: Start::Own(iron_disulfide_aa),
    free: &[
        (Knob::Capacity, 0.1),
        (Knob::OhmicFresh, 0.5),
        (Knob::OhmicLateGrowth, 1.0),
        (Knob::OhmicActivation, 0.7),
        (Knob::OverpotentialMost, 0.3),
        (Knob::OverpotentialHalfAt, 0.5),
        (Knob::BranchFresh(0), 0.7),
        (Knob::BranchActivation(0), 0.2),
        (Knob::BranchFresh(1), 0.7),
        (Knob::BranchActivation(1), 0.2),
    ],
    open_circuit: Some(Curve {
        top: 0.003,
        slopes: 0.5,
    }),
    // Makes and years differ: 2.88 Ah at 800 mA (MYBB), 3.5 Ah at 100 mA (MORAGOR, L91-1222).
    weights: Weights {
        makes: 0.07,
        makes_v: 0.01,
        from_memory: false,
    },
    common_points: false,
};

fn iron_disulfide_aa() -> Cell {
    Cell {
        chemistry: Chemistry::LithiumIronDisulfide,
        in_series: 1,
        capacity: Charge::from_milliampere_hours(3400.0),
        // From memory: below this the cell only falls off.
        floor: Voltage::from_volts(0.8),
        open_circuit: OpenCircuit {
            volts: [
                1.79, 1.745, 1.725, 1.715, 1.708, 1.697, 1.686, 1.67, 1.657, 1.635, 1.61, 1.53,
                1.48, 1.41, 1.30, 0.98,
            ],
        },
        open_circuit_per_k: 0.0,
        ohmic: resistor(0.12, 0.1, 0.3, 500.0),
        // 0.17 V for the first 100 mA (L91-1222), nearly all of it for the first few: 0.12 ohm from 5 to
        // 505 mA (the same sheet).
        overpotential: Overpotential {
            most: Voltage::from_volts(0.17),
            half_at: Current::from_milliamperes(3.0),
        },
        branches: [
            branch(resistor(0.02, 0.1, 0.3, 4300.0), 0.3),
            branch(resistor(0.015, 0.1, 0.3, 5500.0), 30.0),
        ],
        kinetics: Kinetics {
            available_share: 0.98,
            rate_per_second: 1e-4,
        },
        kinetics_activation_k: 2000.0,
        reach_activation_k: 3000.0,
        storage: Storage {
            // 80 % after ten years (GP15LF).
            loss_per_year: 0.022,
            early_loss: 0.0,
            early_time: Time::from_days(10.0),
            // From memory.
            activation_k: 5000.0,
            // Not known: the published shelf life is that of the charge.
            resistance_growth_per_year: 0.0,
        },
        charging: None,
        // Six cells at 800 mA (MYBB).
        spread: 0.02,
        // 2.8 to 3.0 Ah in tests of 2010 (TECCHANNEL, GP15LF), 3.5 Ah in those of 2021 and 2022 (MORAGOR, L91-1222).
        // Resistances as those of alkaline makes differ: of lithium there is one.
        makes: Makes {
            capacity: 0.08,
            resistance: 0.13,
            correlation: 0.0,
            open_circuit: Voltage::from_volts(0.01),
        },
        // From memory: 85 % at 250 mA and 70 % at 1 A at -20 °C, each give or take a fifth.
        beyond_points: BeyondPoints {
            resistance: 0.2,
            reach: 0.15,
        },
        tested: NOT_YET_TESTED,
    }
}

pub(super) const IRON_PHOSPHATE_18650: Recipe = Recipe {
    name: "lfp-18650",
    start: Start::Own(iron_phosphate_18650),
    free: &[
        (Knob::Capacity, 0.05),
        (Knob::OhmicFresh, 0.3),
        (Knob::OhmicActivation, 0.3),
        (Knob::BranchFresh(1), 0.7),
        (Knob::BranchGrowth(1), 1.0),
        (Knob::BranchLateGrowth(1), 1.0),
        (Knob::BranchActivation(1), 0.4),
        (Knob::BranchTime(1), 1.0),
        (Knob::AvailableShare, 0.3),
        (Knob::LevellingRate, 1.0),
        (Knob::LevellingActivation, 0.5),
        (Knob::LossPerYear, 0.5),
        (Knob::StorageActivation, 0.3),
    ],
    open_circuit: Some(Curve {
        top: 0.003,
        slopes: 0.4,
    }),
    weights: Weights {
        makes: 0.0,
        makes_v: 0.0,
        from_memory: false,
    },
    common_points: false,
};

fn iron_phosphate_18650() -> Cell {
    Cell {
        chemistry: Chemistry::LithiumIronPhosphate,
        in_series: 1,
        capacity: Charge::from_milliampere_hours(1540.0),
        // 8.0 V for four in series (limits-031).
        floor: Voltage::from_volts(2.0),
        open_circuit: OpenCircuit {
            volts: [
                3.45, 3.38, 3.36, 3.352, 3.337, 3.33, 3.319, 3.308, 3.294, 3.279, 3.24, 3.2, 3.16,
                3.05, 2.9, 2.4,
            ],
        },
        // Less than 5 mV from -15 to 25 °C (A123).
        open_circuit_per_k: 0.0,
        ohmic: resistor(0.045, 0.01, 0.01, 2000.0),
        overpotential: Overpotential::NONE,
        branches: [Branch::NONE, branch(resistor(0.07, 0.2, 1.0, 3500.0), 60.0)],
        kinetics: Kinetics {
            available_share: 0.9,
            rate_per_second: 3e-4,
        },
        kinetics_activation_k: 3000.0,
        reach_activation_k: 0.0,
        storage: Storage {
            loss_per_year: 0.08,
            early_loss: 0.0,
            early_time: Time::from_days(10.0),
            // A doubling in 13 to 15 °C (SPLI12-7.5).
            activation_k: 4500.0,
            resistance_growth_per_year: 0.0,
        },
        // 14.6 V and 7.5 A for four in series and five in parallel, 0 to 45 °C (SPLI12-7.5); 2060 of
        // 2063 mAh come back at 25 °C (A123, limits-042).
        charging: Some(Charging {
            efficiency: 0.9985,
            coldest: Temperature::from_celsius(0.0),
            warmest: Temperature::from_celsius(45.0),
            limit: Voltage::from_volts(3.65),
            limit_per_k: 0.0,
            largest: Current::from_milliamperes(1500.0),
        }),
        // From memory.
        spread: 0.02,
        // No makes were measured side by side: resistances as alkaline makes, capacities by what is allowed
        // under a rating (judgement).
        makes: Makes {
            capacity: 0.04,
            resistance: 0.13,
            correlation: 0.0,
            open_circuit: Voltage::ZERO,
        },
        // From memory.
        beyond_points: BeyondPoints {
            resistance: 0.2,
            reach: 0.2,
        },
        tested: NOT_YET_TESTED,
    }
}

pub(super) const ION_18650: Recipe = Recipe {
    name: "lithium-ion-18650",
    start: Start::Own(ion_18650),
    free: &[
        (Knob::Capacity, 0.1),
        (Knob::OhmicFresh, 0.3),
        (Knob::BranchFresh(1), 0.3),
        (Knob::BranchActivation(1), 0.3),
        (Knob::AvailableShare, 0.3),
        (Knob::LevellingRate, 1.0),
        (Knob::LevellingActivation, 0.5),
    ],
    open_circuit: Some(Curve {
        top: 0.003,
        slopes: 0.4,
    }),
    weights: Weights {
        makes: 0.03,
        makes_v: 0.0,
        from_memory: false,
    },
    common_points: false,
};

fn ion_18650() -> Cell {
    Cell {
        chemistry: Chemistry::LithiumIon,
        in_series: 1,
        capacity: Charge::from_milliampere_hours(2950.0),
        // Makers end their discharges there (P28A, NCR18650GA).
        floor: Voltage::from_volts(2.5),
        open_circuit: OpenCircuit {
            volts: [
                4.19, 4.17, 4.15, 4.11, 4.04, 3.95, 3.84, 3.745, 3.667, 3.58, 3.48, 3.37, 3.24,
                3.05, 2.85, 2.5,
            ],
        },
        open_circuit_per_k: 0.0,
        // 15 mohm at 1 kHz and 23 mohm after 10 s for 5 Ah (M50LT), by the ratio of capacities.
        ohmic: resistor(0.025, 0.01, 0.01, 1500.0),
        overpotential: Overpotential::NONE,
        branches: [Branch::NONE, branch(resistor(0.03, 0.2, 1.0, 3500.0), 20.0)],
        kinetics: Kinetics {
            available_share: 0.9,
            rate_per_second: 3e-4,
        },
        kinetics_activation_k: 3000.0,
        reach_activation_k: 0.0,
        storage: Storage {
            // From memory: 1 to 2 % a month with a protection circuit.
            loss_per_year: 0.15,
            early_loss: 0.0,
            early_time: Time::from_days(10.0),
            activation_k: 4500.0,
            resistance_growth_per_year: 0.0,
        },
        // From memory (limits-048 to limits-052).
        charging: Some(Charging {
            efficiency: 0.99,
            coldest: Temperature::from_celsius(0.0),
            warmest: Temperature::from_celsius(45.0),
            limit: Voltage::from_volts(4.2),
            limit_per_k: 0.0,
            largest: Current::from_milliamperes(1500.0),
        }),
        // From memory.
        spread: 0.02,
        // No makes were measured side by side: resistances as alkaline makes, capacities by what is allowed
        // under a rating (judgement).
        makes: Makes {
            capacity: 0.04,
            resistance: 0.13,
            correlation: 0.0,
            open_circuit: Voltage::ZERO,
        },
        // From memory: the one cold series is of pulses with rests, which flatters.
        beyond_points: BeyondPoints {
            resistance: 0.2,
            reach: 0.2,
        },
        tested: NOT_YET_TESTED,
    }
}
