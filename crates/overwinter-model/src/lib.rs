#![doc = include_str!("../README.md")]
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

#[cfg(any(test, feature = "std"))]
extern crate std;

mod activity;
mod arithmetic;
pub mod bench;
#[cfg(feature = "blob")]
pub mod blob;
pub mod cell;
mod circuit;
mod day;
#[cfg(feature = "serde")]
mod decimal;
pub mod draw;
#[cfg(feature = "blob")]
mod envelope;
#[cfg(feature = "gauge")]
pub mod gauge;
pub mod harvest;
pub mod installation;
pub mod lanes;
mod number;
pub mod pack;
pub mod paths;
mod place;
pub mod random;
#[cfg(feature = "blob")]
mod range;
#[cfg(feature = "blob")]
mod reader;
pub mod season;
mod sun;
mod units;
mod weather;

pub use activity::{Activity, ActivityError, Counts, HourRate, Pattern};
pub use circuit::{BRANCHES, Carried, Circuit, Decay, Drawn, Load, Overpotential, Polarisation};
pub use day::Day;
#[cfg(feature = "blob")]
pub use envelope::EnvelopeError;
pub use number::{Mask, Number};
pub use place::{Place, PlaceError};
pub use sun::{
    CIVIL_TWILIGHT_ALTITUDE_DEG, Direction, SUNRISE_ALTITUDE_DEG, SunAbove, SunDay, SunPosition,
    share_below, sun_position,
};
pub use units::{
    Charge, Current, Energy, Irradiance, Power, Resistance, Temperature, Time, Voltage,
};
pub use weather::{
    AirOfDay, HOURS_OF_YEAR, HourlyYear, HourlyYearError, MonthNormals, MonthSpread, Normals,
    NormalsError, Spread, SpreadError, SpreadQuantity, Weather,
};
