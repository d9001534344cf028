//! `alkaline-aa`: written by the fit (`overwinter-fit`), from `datasheets-notes/alkaline-aa.md`. Not to be edited.

use crate::cell::{Cell, Chemistry, Kinetics, OpenCircuit, Resistor, Storage, Tested};
use crate::units::{Charge, Current, Resistance, Temperature, Time, Voltage};

pub(super) const CELL: Cell = Cell {
    chemistry: Chemistry::Alkaline,
    in_series: 1,
    capacity: Charge::from_milliampere_hours(3041.0),
    floor: Voltage::from_volts(0.8),
    open_circuit: OpenCircuit {
        volts: [
            1.608, 1.585, 1.547, 1.485, 1.395, 1.347, 1.312, 1.284, 1.256, 1.22, 1.163, 1.11,
            1.053, 0.972, 0.894, 0.733,
        ],
    },
    open_circuit_per_k: 0.0,
    ohmic: Resistor {
        fresh: Resistance::from_ohms(0.152),
        growth: 2.85,
        late_growth: 10.7,
        activation_k: 2070.0,
    },
    slow: Resistor {
        fresh: Resistance::from_ohms(0.00997),
        growth: 0.937,
        late_growth: 2.95,
        activation_k: 4010.0,
    },
    slow_time: Time::from_seconds(1340.0),
    kinetics: Kinetics {
        available_share: 0.365,
        rate_per_second: 0.000124,
    },
    kinetics_activation_k: 6370.0,
    storage: Storage {
        loss_per_year: 0.025,
        early_loss: 0.0,
        early_time: Time::from_days(10.0),
        activation_k: 5500.0,
        resistance_growth_per_year: 0.11,
    },
    spread: 0.12,
    cold_uncertainty: 0.4,
    tested: Tested {
        coldest: Temperature::from_celsius(-16.1),
        warmest: Temperature::from_celsius(22.0),
        heaviest: Current::from_milliamperes(2000.0),
        heaviest_in_frost: Current::from_milliamperes(100.0),
    },
};
