//! `lead-acid-6v-4.5ah`: written by the fit (`overwinter-fit`), from `datasheets-notes/lead-acid-6v-4.5ah.md`. Not to be edited.

use crate::cell::{Cell, Chemistry, Kinetics, OpenCircuit, Resistor, Storage, Tested};
use crate::units::{Charge, Current, Resistance, Temperature, Time, Voltage};

pub(super) const CELL: Cell = Cell {
    chemistry: Chemistry::LeadAcid,
    in_series: 3,
    capacity: Charge::from_milliampere_hours(4782.0),
    floor: Voltage::from_volts(1.6),
    open_circuit: OpenCircuit {
        volts: [
            2.07, 2.065, 2.06, 2.051, 2.034, 2.018, 2.002, 1.986, 1.964, 1.943, 1.921, 1.898,
            1.882, 1.867, 1.857, 1.846,
        ],
    },
    open_circuit_per_k: 0.0002,
    ohmic: Resistor {
        fresh: Resistance::from_ohms(0.00684),
        growth: 0.288,
        late_growth: 0.947,
        activation_k: 1200.0,
    },
    slow: Resistor {
        fresh: Resistance::from_ohms(0.0109),
        growth: 0.801,
        late_growth: 1.79,
        activation_k: 2000.0,
    },
    slow_time: Time::from_seconds(37.5),
    kinetics: Kinetics {
        available_share: 0.505,
        rate_per_second: 0.000171,
    },
    kinetics_activation_k: 3000.0,
    storage: Storage {
        loss_per_year: 0.35,
        early_loss: 0.0,
        early_time: Time::from_days(10.0),
        activation_k: 4000.0,
        resistance_growth_per_year: 0.0,
    },
    spread: 0.03,
    cold_uncertainty: 0.15,
    tested: Tested {
        coldest: Temperature::from_celsius(20.0),
        warmest: Temperature::from_celsius(20.0),
        heaviest: Current::from_milliamperes(13500.0),
        heaviest_in_frost: Current::from_milliamperes(0.0),
    },
};
