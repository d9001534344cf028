//! Ranges that a parameter must keep to, so that the model stays one of a cell.

use std::ops::RangeInclusive;

pub(super) const CAPACITY_MAH: RangeInclusive<f64> = 1.0..=1e6;
pub(super) const MASS_G: RangeInclusive<f64> = 0.1..=1e6;
pub(super) const VOLTS: RangeInclusive<f64> = 0.1..=6.0;
pub(super) const VOLTS_PER_K: RangeInclusive<f64> = -0.01..=0.01;
pub(super) const OHMS: RangeInclusive<f64> = 1e-6..=100.0;
pub(super) const GROWTH: RangeInclusive<f64> = 0.0..=10_000.0;
pub(super) const ACTIVATION_K: RangeInclusive<f64> = 0.0..=20_000.0;
pub(super) const SECONDS: RangeInclusive<f64> = 0.01..=1e5;
pub(super) const SHARE: RangeInclusive<f64> = 0.01..=1.0;
pub(super) const RATE_PER_S: RangeInclusive<f64> = 1e-9..=1.0;
pub(super) const LOSS: RangeInclusive<f64> = 0.0..=10.0;
pub(super) const DAYS: RangeInclusive<f64> = 0.01..=10_000.0;
pub(super) const SPREAD: RangeInclusive<f64> = 0.0..=0.5;
pub(super) const UNCERTAINTY: RangeInclusive<f64> = 0.0..=1.0;
pub(super) const CELSIUS: RangeInclusive<f64> = -60.0..=80.0;
pub(super) const MILLIAMPERES: RangeInclusive<f64> = 0.0..=1e6;
