#![doc = include_str!("../README.md")]

pub mod answer;
pub mod cell_from_points;
pub mod cells;
pub mod fit;
pub mod host;
mod keys;
pub mod line;
pub mod odds;
pub mod points;
pub mod problem;
pub mod run;
mod season_light;
pub mod shown;
pub mod sky;
pub mod source;
mod weak_store;
pub mod weather;
pub mod words;
