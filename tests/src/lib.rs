//! What the outside checks share: finding reference tables, collecting and printing points.

pub mod files;
pub mod held;
pub mod points;
pub mod surroundings;
pub mod tables;

/// The examples of the project's README.
#[cfg(doctest)]
#[doc = include_str!("../../README.md")]
struct Readme;
