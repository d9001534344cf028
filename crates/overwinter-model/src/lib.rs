//! The physics of keeping an unattended camera alive: cells, cold, loads and daylight.
//!
//! Always `no_std`, no allocator, no unsafe code and no panics. The crate takes plain values and
//! gives plain values back; it never reads a file, a clock, a locale or the environment, and it
//! never prints.

#![no_std]

mod curve;
mod units;

pub use curve::{Curve, CurveError, MAX_POINTS};
pub use units::{Charge, Current, Energy, Power, Resistance, Temperature, Time, Voltage};
