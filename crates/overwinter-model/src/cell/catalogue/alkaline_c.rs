//! `alkaline-c`: written by the fit (`overwinter-fit`), from `datasheets-notes/alkaline-c.md`. Not to be edited.

use crate::cell::{Cell, Chemistry, Kinetics, OpenCircuit, Resistor, Storage, Tested};
use crate::units::{Charge, Current, Resistance, Temperature, Time, Voltage};

pub(super) const CELL: Cell = Cell {
    chemistry: Chemistry::Alkaline,
    in_series: 1,
    capacity: Charge::from_milliampere_hours(7260.0),
    floor: Voltage::from_volts(0.8),
    open_circuit: OpenCircuit {
        volts: [
            1.597, 1.576, 1.539, 1.483, 1.388, 1.332, 1.291, 1.258, 1.223, 1.181, 1.11, 1.046,
            0.995, 0.925, 0.856, 0.71,
        ],
    },
    open_circuit_per_k: 0.0,
    ohmic: Resistor {
        fresh: Resistance::from_ohms(0.221),
        growth: 0.438,
        late_growth: 2.87,
        activation_k: 2090.0,
    },
    slow: Resistor {
        fresh: Resistance::from_ohms(0.00925),
        growth: 0.735,
        late_growth: 1.07,
        activation_k: 2500.0,
    },
    slow_time: Time::from_seconds(102.0),
    kinetics: Kinetics {
        available_share: 0.584,
        rate_per_second: 0.000139,
    },
    kinetics_activation_k: 6360.0,
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
        coldest: Temperature::from_celsius(20.0),
        warmest: Temperature::from_celsius(20.0),
        heaviest: Current::from_milliamperes(400.0),
        heaviest_in_frost: Current::from_milliamperes(0.0),
    },
};
