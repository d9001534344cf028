//! Lithium cells: iron disulfide, iron phosphate, layered oxides.

use overwinter_line::fit::{Knob, Weights};
use overwinter_model::cell::{Cell, Charging, Chemistry, Kinetics, OpenCircuit, Storage};
use overwinter_model::{Charge, Current, Temperature, Time, Voltage};

use super::{NOT_YET_TESTED, Recipe, Start, resistor};

pub(super) const IRON_DISULFIDE_AA: Recipe = Recipe {
    name: "lithium-aa",
    start: Start::Own(iron_disulfide_aa),
    free: &[
        (Knob::Capacity, 0.1),
        (Knob::OhmicFresh, 0.5),
        (Knob::OhmicGrowth, 1.0),
        (Knob::OhmicLateGrowth, 1.0),
        (Knob::OhmicActivation, 0.3),
        (Knob::SlowFresh, 0.7),
        (Knob::SlowGrowth, 1.0),
        (Knob::SlowLateGrowth, 1.0),
        (Knob::SlowActivation, 0.3),
        (Knob::SlowTime, 1.0),
        (Knob::AvailableShare, 0.3),
        (Knob::LevellingRate, 1.0),
        (Knob::LevellingActivation, 0.5),
    ],
    open_circuit: Some(0.8),
    // Below -17 °C, and in frost above 20 mA, there is nothing but memory.
    weights: Weights {
        grades: 0.02,
        from_memory: true,
    },
    common_points: false,
};

fn iron_disulfide_aa() -> Cell {
    Cell {
        chemistry: Chemistry::LithiumIronDisulfide,
        in_series: 1,
        capacity: Charge::from_milliampere_hours(3050.0),
        // From memory: below this the cell only falls off.
        floor: Voltage::from_volts(0.8),
        open_circuit: OpenCircuit {
            volts: [
                1.79, 1.66, 1.58, 1.565, 1.55, 1.54, 1.53, 1.52, 1.51, 1.505, 1.495, 1.485, 1.47,
                1.44, 1.38, 1.0,
            ],
        },
        open_circuit_per_k: 0.0,
        ohmic: resistor(0.11, 0.2, 0.3, 1500.0),
        slow: resistor(0.12, 0.2, 0.5, 2500.0),
        slow_time: Time::from_seconds(20.0),
        kinetics: Kinetics {
            available_share: 0.9,
            rate_per_second: 1e-4,
        },
        kinetics_activation_k: 2000.0,
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
        grade_spread: 0.0,
        // From memory: 85 % at 250 mA and 70 % at 1 A at -20 °C, each give or take a fifth.
        cold_uncertainty: 0.15,
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
        (Knob::SlowFresh, 0.7),
        (Knob::SlowGrowth, 1.0),
        (Knob::SlowLateGrowth, 1.0),
        (Knob::SlowActivation, 0.4),
        (Knob::SlowTime, 1.0),
        (Knob::AvailableShare, 0.3),
        (Knob::LevellingRate, 1.0),
        (Knob::LevellingActivation, 0.5),
        (Knob::LossPerYear, 0.5),
        (Knob::StorageActivation, 0.3),
    ],
    open_circuit: Some(0.4),
    weights: Weights {
        grades: 0.0,
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
        slow: resistor(0.07, 0.2, 1.0, 3500.0),
        slow_time: Time::from_seconds(60.0),
        kinetics: Kinetics {
            available_share: 0.9,
            rate_per_second: 3e-4,
        },
        kinetics_activation_k: 3000.0,
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
        grade_spread: 0.0,
        // From memory.
        cold_uncertainty: 0.2,
        tested: NOT_YET_TESTED,
    }
}

pub(super) const ION_18650: Recipe = Recipe {
    name: "lithium-ion-18650",
    start: Start::Own(ion_18650),
    free: &[
        (Knob::Capacity, 0.1),
        (Knob::OhmicFresh, 0.3),
        (Knob::SlowFresh, 0.3),
        (Knob::SlowActivation, 0.3),
        (Knob::AvailableShare, 0.3),
        (Knob::LevellingRate, 1.0),
        (Knob::LevellingActivation, 0.5),
    ],
    open_circuit: Some(0.4),
    weights: Weights {
        grades: 0.03,
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
        slow: resistor(0.03, 0.2, 1.0, 3500.0),
        slow_time: Time::from_seconds(20.0),
        kinetics: Kinetics {
            available_share: 0.9,
            rate_per_second: 3e-4,
        },
        kinetics_activation_k: 3000.0,
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
        grade_spread: 0.0,
        // From memory: the one cold series is of pulses with rests, which flatters.
        cold_uncertainty: 0.2,
        tested: NOT_YET_TESTED,
    }
}
