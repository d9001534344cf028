//! `alkaline-c`: written by the fit (`overwinter-fit`), from `datasheets-notes/alkaline-c.md`. Not to be edited.

use crate::cell::{Cell, Chemistry, Kinetics, OpenCircuit, Resistor, Storage, Tested};
use crate::units::{Charge, Current, Resistance, Temperature, Time, Voltage};

pub(super) const CELL: Cell = Cell {
    chemistry: Chemistry::Alkaline,
    in_series: 1,
    capacity: Charge::from_milliampere_hours(8533.0),
    floor: Voltage::from_volts(0.8),
    open_circuit: OpenCircuit {
        volts: [
            1.612, 1.586, 1.545, 1.493, 1.42, 1.374, 1.342, 1.318, 1.293, 1.259, 1.205, 1.153,
            1.094, 1.011, 0.931, 0.765,
        ],
    },
    open_circuit_per_k: 0.0,
    ohmic: Resistor {
        fresh: Resistance::from_ohms(0.201),
        growth: 2.79,
        late_growth: 14.4,
        activation_k: 2060.0,
    },
    slow: Resistor {
        fresh: Resistance::from_ohms(0.00413),
        growth: 0.932,
        late_growth: 2.94,
        activation_k: 4010.0,
    },
    slow_time: Time::from_seconds(1210.0),
    kinetics: Kinetics {
        available_share: 0.409,
        rate_per_second: 0.000173,
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
        heaviest: Current::from_milliamperes(400.0),
        heaviest_in_frost: Current::from_milliamperes(0.0),
    },
};
