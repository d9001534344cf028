//! `lithium-aa`: written by the fit (`overwinter-fit`), from `datasheets-notes/lithium-aa.md`. Not to be edited.

use crate::cell::{Cell, Chemistry, Kinetics, OpenCircuit, Resistor, Storage, Tested};
use crate::units::{Charge, Current, Resistance, Temperature, Time, Voltage};

pub(super) const CELL: Cell = Cell {
    chemistry: Chemistry::LithiumIronDisulfide,
    in_series: 1,
    capacity: Charge::from_milliampere_hours(3076.0),
    floor: Voltage::from_volts(0.8),
    open_circuit: OpenCircuit {
        volts: [
            1.787, 1.615, 1.548, 1.536, 1.525, 1.518, 1.51, 1.501, 1.492, 1.487, 1.477, 1.466,
            1.448, 1.413, 1.349, 0.923,
        ],
    },
    open_circuit_per_k: 0.0,
    ohmic: Resistor {
        fresh: Resistance::from_ohms(0.203),
        growth: 0.107,
        late_growth: 0.207,
        activation_k: 899.0,
    },
    slow: Resistor {
        fresh: Resistance::from_ohms(0.0583),
        growth: 0.164,
        late_growth: 0.441,
        activation_k: 1650.0,
    },
    slow_time: Time::from_seconds(17.8),
    kinetics: Kinetics {
        available_share: 0.64,
        rate_per_second: 0.000791,
    },
    kinetics_activation_k: 4580.0,
    storage: Storage {
        loss_per_year: 0.022,
        early_loss: 0.0,
        early_time: Time::from_days(10.0),
        activation_k: 5000.0,
        resistance_growth_per_year: 0.0,
    },
    spread: 0.02,
    cold_uncertainty: 0.15,
    tested: Tested {
        coldest: Temperature::from_celsius(-16.1),
        warmest: Temperature::from_celsius(23.0),
        heaviest: Current::from_milliamperes(2000.0),
        heaviest_in_frost: Current::from_milliamperes(18.0),
    },
};
