//! Line files, weather files, chances and decisions around [`overwinter_model`].
//!
//! This library knows no terminal, no file system and no threads: whoever calls it gives them as a
//! [`host::Host`].

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
