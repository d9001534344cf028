//! The physics of keeping an unattended camera alive: cells, cold, loads and daylight.
//!
//! Always `no_std`, no allocator, no unsafe code and no panics. The crate takes plain values and
//! gives plain values back; it never reads a file, a clock, a locale or the environment, and it
//! never prints.

#![no_std]
#![cfg_attr(
    not(test),
    warn(
        clippy::indexing_slicing,
        clippy::unwrap_used,
        clippy::expect_used,
        clippy::panic,
        clippy::unreachable
    )
)]

#[cfg(test)]
extern crate std;

pub mod bench;
pub mod cell;
mod circuit;
pub mod draw;
pub mod pack;
pub mod season;
mod units;

pub use circuit::{Circuit, Load};
pub use units::{Charge, Current, Energy, Power, Resistance, Temperature, Time, Voltage};
