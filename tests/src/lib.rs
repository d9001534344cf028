//! What the outside checks share: reading a folder of reference tables, printing points.

pub mod points;
pub mod tables;
