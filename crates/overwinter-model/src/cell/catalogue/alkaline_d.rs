//! `alkaline-d`: written by the fit (`overwinter-fit`), from `datasheets-notes/alkaline-d.md`. Not to be edited.

use crate::cell::{Cell, Chemistry, Kinetics, OpenCircuit, Resistor, Storage, Tested};
use crate::units::{Charge, Current, Resistance, Temperature, Time, Voltage};

pub(super) const CELL: Cell = Cell {
    chemistry: Chemistry::Alkaline,
    in_series: 1,
    capacity: Charge::from_milliampere_hours(16650.0),
    floor: Voltage::from_volts(0.8),
    open_circuit: OpenCircuit {
        volts: [
            1.611, 1.582, 1.532, 1.464, 1.362, 1.304, 1.264, 1.232, 1.2, 1.16, 1.099, 1.045, 0.985,
            0.904, 0.825, 0.66,
        ],
    },
    open_circuit_per_k: 0.0,
    ohmic: Resistor {
        fresh: Resistance::from_ohms(0.0977),
        growth: 2.79,
        late_growth: 14.4,
        activation_k: 2060.0,
    },
    slow: Resistor {
        fresh: Resistance::from_ohms(0.00182),
        growth: 0.938,
        late_growth: 2.94,
        activation_k: 4010.0,
    },
    slow_time: Time::from_seconds(1210.0),
    kinetics: Kinetics {
        available_share: 0.31,
        rate_per_second: 5.46e-5,
    },
    kinetics_activation_k: 6240.0,
    storage: Storage {
        loss_per_year: 0.025,
        early_loss: 0.0,
        early_time: Time::from_days(10.0),
        activation_k: 5500.0,
        resistance_growth_per_year: 0.11,
    },
    charging: None,
    spread: 0.12,
    cold_uncertainty: 0.4,
    tested: Tested {
        coldest: Temperature::from_celsius(20.0),
        warmest: Temperature::from_celsius(20.0),
        heaviest: Current::from_milliamperes(1000.0),
        heaviest_in_frost: Current::from_milliamperes(0.0),
    },
};
