//! The digits with which a fitted cell is written down.

use overwinter_model::cell::{Cell, Charging, Resistor};
use overwinter_model::{Charge, Current, Overpotential, Resistance, Temperature, Time, Voltage};

use crate::words::to_digits;

/// To three digits: no point decides more.
fn three(value: f64) -> f64 {
    to_digits(value, 3)
}

/// To the millivolt.
fn millivolts(value: f64) -> f64 {
    (value * 1e3).round() / 1e3
}

/// The cell with the digits that its file will hold, so that every figure reported is that of
/// the file.
#[must_use]
pub fn rounded(cell: &Cell) -> Cell {
    let resistor = |r: Resistor| Resistor {
        fresh: Resistance::from_ohms(three(r.fresh.as_ohms())),
        growth: three(r.growth),
        late_growth: three(r.late_growth),
        activation_k: three(r.activation_k),
    };
    let mut new = *cell;
    new.capacity =
        Charge::from_milliampere_hours(to_digits(cell.capacity.as_milliampere_hours(), 4));
    new.floor = Voltage::from_volts(millivolts(cell.floor.as_volts()));
    new.open_circuit.volts = cell.open_circuit.volts.map(millivolts);
    new.ohmic = resistor(cell.ohmic);
    for branch in &mut new.branches {
        branch.resistor = resistor(branch.resistor);
        branch.time = Time::from_seconds(three(branch.time.as_seconds()));
    }
    let overpotential = &mut new.overpotential;
    overpotential.most = Voltage::from_volts(millivolts(overpotential.most.as_volts()));
    let half_at = three(overpotential.half_at.as_milliamperes());
    overpotential.half_at = Current::from_milliamperes(half_at);
    // Nothing is half of nothing.
    if overpotential.most <= Voltage::ZERO {
        *overpotential = Overpotential::NONE;
    }
    new.kinetics.available_share = three(cell.kinetics.available_share);
    new.kinetics.rate_per_second = three(cell.kinetics.rate_per_second);
    new.kinetics_activation_k = three(cell.kinetics_activation_k);
    new.reach_activation_k = three(cell.reach_activation_k);
    new.storage.loss_per_year = three(cell.storage.loss_per_year);
    new.storage.early_loss = three(cell.storage.early_loss);
    new.storage.early_time = Time::from_days(three(cell.storage.early_time.as_days()));
    new.storage.activation_k = three(cell.storage.activation_k);
    new.charging = cell.charging.map(|charging| Charging {
        limit: Voltage::from_volts(millivolts(charging.limit.as_volts())),
        largest: Current::from_milliamperes(three(charging.largest.as_milliamperes())),
        ..charging
    });
    new.beyond_points.resistance = three(cell.beyond_points.resistance);
    let tested = &mut new.tested;
    for t in [&mut tested.coldest, &mut tested.warmest] {
        *t = Temperature::from_celsius(three(t.as_celsius()));
    }
    for i in [&mut tested.heaviest, &mut tested.heaviest_in_frost] {
        *i = Current::from_milliamperes(three(i.as_milliamperes()));
    }
    new
}

/// A number without the last digits that a change of unit leaves behind.
#[must_use]
pub fn clean(value: f64) -> f64 {
    to_digits(value, 9)
}
