//! Nickel and metal hydride, of low self-discharge.

use overwinter_line::fit::{Knob, Weights};
use overwinter_model::cell::{Cell, Charging, Chemistry, Kinetics, OpenCircuit, Storage};
use overwinter_model::{Charge, Current, Temperature, Time, Voltage};

use super::{NOT_YET_TESTED, Recipe, Start, resistor};

pub(super) const AA: Recipe = Recipe {
    name: "nimh-aa",
    start: Start::Own(aa),
    free: &[
        (Knob::Capacity, 0.05),
        (Knob::OhmicFresh, 0.3),
        (Knob::SlowFresh, 0.5),
        (Knob::SlowActivation, 0.3),
        (Knob::AvailableShare, 0.5),
        (Knob::LevellingRate, 1.0),
        (Knob::LevellingActivation, 0.5),
        (Knob::LossPerYear, 0.7),
        (Knob::EarlyLoss, 0.5),
        (Knob::EarlyTime, 0.7),
    ],
    open_circuit: Some(0.5),
    // No AA figure in the cold states both load and cut-off, nor does any open-circuit voltage:
    // there the memory rows stand in.
    weights: Weights {
        grades: 0.03,
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
        ohmic: resistor(0.03, 0.01, 0.3, 1800.0),
        slow: resistor(0.04, 0.2, 1.0, 3500.0),
        slow_time: Time::from_seconds(60.0),
        kinetics: Kinetics {
            available_share: 0.85,
            rate_per_second: 2e-4,
        },
        kinetics_activation_k: 4000.0,
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
        grade_spread: 0.0,
        // Between 88 % and 17 % at -20 °C by rate (NIMH-D2004, ENELOOP-2010), neither with load
        // and cut-off.
        cold_uncertainty: 0.3,
        tested: NOT_YET_TESTED,
    }
}
