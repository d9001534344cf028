//! `lead-acid-12v-7.2ah`: written by the fit (`overwinter-fit`), from `datasheets-notes/lead-acid-12v-7.2ah.md`. Not to be edited.

use crate::cell::{Cell, Chemistry, Kinetics, OpenCircuit, Resistor, Storage, Tested};
use crate::units::{Charge, Current, Resistance, Temperature, Time, Voltage};

pub(super) const CELL: Cell = Cell {
    chemistry: Chemistry::LeadAcid,
    in_series: 6,
    capacity: Charge::from_milliampere_hours(8354.0),
    floor: Voltage::from_volts(1.6),
    open_circuit: OpenCircuit {
        volts: [
            2.113, 2.108, 2.103, 2.095, 2.077, 2.061, 2.046, 2.03, 2.008, 1.986, 1.963, 1.939,
            1.923, 1.908, 1.898, 1.888,
        ],
    },
    open_circuit_per_k: 0.0002,
    ohmic: Resistor {
        fresh: Resistance::from_ohms(0.00314),
        growth: 0.313,
        late_growth: 1.08,
        activation_k: 1200.0,
    },
    slow: Resistor {
        fresh: Resistance::from_ohms(0.00716),
        growth: 1.89,
        late_growth: 2.85,
        activation_k: 2000.0,
    },
    slow_time: Time::from_seconds(54.6),
    kinetics: Kinetics {
        available_share: 0.418,
        rate_per_second: 0.00019,
    },
    kinetics_activation_k: 2790.0,
    storage: Storage {
        loss_per_year: 0.442,
        early_loss: 0.0,
        early_time: Time::from_days(10.0),
        activation_k: 5260.0,
        resistance_growth_per_year: 0.0,
    },
    spread: 0.03,
    cold_uncertainty: 0.15,
    tested: Tested {
        coldest: Temperature::from_celsius(20.0),
        warmest: Temperature::from_celsius(20.0),
        heaviest: Current::from_milliamperes(14600.0),
        heaviest_in_frost: Current::from_milliamperes(0.0),
    },
};
