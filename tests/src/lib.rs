//! What the outside checks share: finding reference tables, collecting and printing points.

pub mod files;
pub mod held;
pub mod points;
pub mod surroundings;
pub mod tables;
