//! `lithium-aa`: written by the fit (`overwinter-fit`), from `datasheets-notes/lithium-aa.md`. Not to be edited.

use crate::cell::{Cell, Chemistry, Kinetics, OpenCircuit, Resistor, Storage, Tested};
use crate::units::{Charge, Current, Resistance, Temperature, Time, Voltage};

pub(super) const CELL: Cell = Cell {
    chemistry: Chemistry::LithiumIronDisulfide,
    in_series: 1,
    capacity: Charge::from_milliampere_hours(3070.0),
    floor: Voltage::from_volts(0.8),
    open_circuit: OpenCircuit {
        volts: [
            1.792, 1.617, 1.548, 1.537, 1.526, 1.519, 1.511, 1.502, 1.493, 1.488, 1.478, 1.467,
            1.45, 1.413, 1.345, 0.897,
        ],
    },
    open_circuit_per_k: 0.0,
    ohmic: Resistor {
        fresh: Resistance::from_ohms(0.202),
        growth: 0.116,
        late_growth: 0.202,
        activation_k: 921.0,
    },
    slow: Resistor {
        fresh: Resistance::from_ohms(0.0616),
        growth: 0.158,
        late_growth: 0.438,
        activation_k: 1600.0,
    },
    slow_time: Time::from_seconds(16.4),
    kinetics: Kinetics {
        available_share: 0.725,
        rate_per_second: 0.000562,
    },
    kinetics_activation_k: 3200.0,
    storage: Storage {
        loss_per_year: 0.022,
        early_loss: 0.0,
        early_time: Time::from_days(10.0),
        activation_k: 5000.0,
        resistance_growth_per_year: 0.0,
    },
    charging: None,
    spread: 0.02,
    grade_spread: 0.0,
    cold_uncertainty: 0.15,
    tested: Tested {
        coldest: Temperature::from_celsius(-16.1),
        warmest: Temperature::from_celsius(23.0),
        heaviest: Current::from_milliamperes(2000.0),
        heaviest_in_frost: Current::from_milliamperes(18.0),
    },
};
