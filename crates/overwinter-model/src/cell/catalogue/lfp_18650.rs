//! `lfp-18650`: written by the fit (`overwinter-fit`), from `datasheets-notes/lfp-18650.md`. Not to be edited.

use crate::cell::{Cell, Charging, Chemistry, Kinetics, OpenCircuit, Resistor, Storage, Tested};
use crate::units::{Charge, Current, Resistance, Temperature, Time, Voltage};

pub(super) const CELL: Cell = Cell {
    chemistry: Chemistry::LithiumIronPhosphate,
    in_series: 1,
    capacity: Charge::from_milliampere_hours(1500.0),
    floor: Voltage::from_volts(2.0),
    open_circuit: OpenCircuit {
        volts: [
            3.458, 3.38, 3.359, 3.35, 3.334, 3.327, 3.316, 3.306, 3.292, 3.277, 3.237, 3.198,
            3.159, 3.056, 2.916, 2.453,
        ],
    },
    open_circuit_per_k: 0.0,
    ohmic: Resistor {
        fresh: Resistance::from_ohms(0.045),
        growth: 0.01,
        late_growth: 0.01,
        activation_k: 1960.0,
    },
    slow: Resistor {
        fresh: Resistance::from_ohms(0.0799),
        growth: 0.138,
        late_growth: 3.21,
        activation_k: 3360.0,
    },
    slow_time: Time::from_seconds(57.7),
    kinetics: Kinetics {
        available_share: 0.952,
        rate_per_second: 0.00032,
    },
    kinetics_activation_k: 3890.0,
    storage: Storage {
        loss_per_year: 0.0711,
        early_loss: 0.0,
        early_time: Time::from_days(10.0),
        activation_k: 4700.0,
        resistance_growth_per_year: 0.0,
    },
    charging: Some(Charging {
        efficiency: 0.9985,
        coldest: Temperature::from_celsius(0.0),
        warmest: Temperature::from_celsius(45.0),
        limit: Voltage::from_volts(3.65),
        limit_per_k: 0.0,
        largest: Current::from_milliamperes(1500.0),
    }),
    spread: 0.02,
    grade_spread: 0.0,
    cold_uncertainty: 0.2,
    tested: Tested {
        coldest: Temperature::from_celsius(-25.0),
        warmest: Temperature::from_celsius(50.0),
        heaviest: Current::from_milliamperes(1500.0),
        heaviest_in_frost: Current::from_milliamperes(750.0),
    },
};
