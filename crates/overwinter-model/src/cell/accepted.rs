//! Ranges that a cell's parameters must keep to, so that the model stays one of a cell. Whatever
//! reads a cell from outside holds it against these.

use core::ops::RangeInclusive;

/// Capacity, milliampere-hours.
pub const CAPACITY_MAH: RangeInclusive<f64> = 1.0..=1e6;
/// Any voltage of one cell, volts.
pub const VOLTS: RangeInclusive<f64> = 0.1..=6.0;
/// Change of a voltage with temperature, volts per kelvin.
pub const VOLTS_PER_K: RangeInclusive<f64> = -0.01..=0.01;
/// Resistance of a fresh cell, ohms.
pub const OHMS: RangeInclusive<f64> = 1e-6..=100.0;
/// Either growth of a resistance with depth.
pub const GROWTH: RangeInclusive<f64> = 0.0..=10_000.0;
/// Any activation, kelvin.
pub const ACTIVATION_K: RangeInclusive<f64> = 0.0..=20_000.0;
/// Resistance of a branch of a fresh cell, ohms: 0 if the cell has no such branch.
pub const BRANCH_OHMS: RangeInclusive<f64> = 0.0..=100.0;
/// What an overpotential costs at most, volts: 0 if it does not bend.
pub const OVERPOTENTIAL: RangeInclusive<f64> = 0.0..=2.0;
/// The current that costs half of an overpotential, milliamperes.
pub const HALF_AT_MA: RangeInclusive<f64> = 1e-3..=1e6;
/// Time constant of a branch, seconds.
pub const SECONDS: RangeInclusive<f64> = 0.01..=1e5;
/// Share of the available well.
pub const SHARE: RangeInclusive<f64> = 0.01..=1.0;
/// How fast the wells level out, per second.
pub const RATE_PER_S: RangeInclusive<f64> = 1e-9..=1.0;
/// Losses in storage and the growth of resistance, as rates by the year.
pub const LOSS: RangeInclusive<f64> = 0.0..=10.0;
/// Time constant of the early loss, days.
pub const DAYS: RangeInclusive<f64> = 0.01..=10_000.0;
/// A spread between cells or makes, relative or of a logarithm.
pub const SPREAD: RangeInclusive<f64> = 0.0..=0.5;
/// How capacity and resistance of makes go together.
pub const CORRELATION: RangeInclusive<f64> = -1.0..=1.0;
/// Spread of the open-circuit voltage between makes, volts.
pub const MAKE_VOLTS: RangeInclusive<f64> = 0.0..=0.1;
/// How far off a cell may be a step beyond its points, of a logarithm.
pub const UNCERTAINTY: RangeInclusive<f64> = 0.0..=1.0;
/// Any temperature, degrees Celsius.
pub const CELSIUS: RangeInclusive<f64> = -60.0..=80.0;
/// Any current, milliamperes.
pub const MILLIAMPERES: RangeInclusive<f64> = 0.0..=1e6;
/// Cells in a case.
pub const IN_SERIES: RangeInclusive<u8> = 1..=24;
/// Charge kept of the charge put in. A cell that keeps less than half is broken.
pub const EFFICIENCY: RangeInclusive<f64> = 0.5..=1.0;
/// Largest charging current, milliamperes. No cell is charged with less.
pub const LARGEST_CHARGING_MA: RangeInclusive<f64> = 0.1..=1e6;
