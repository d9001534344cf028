//! Line files, weather files, chances and decisions around [`overwinter_model`].
//!
//! This library knows no terminal, no file system and no threads: whoever calls it gives them as a
//! [`host::Host`].

pub mod answer;
pub mod cells;
pub mod fit;
pub mod host;
mod keys;
mod light;
pub mod line;
pub mod odds;
pub mod own;
pub mod points;
pub mod problem;
pub mod run;
pub mod shown;
pub mod sky;
pub mod source;
pub mod weak_store;
pub mod weather;
pub mod words;
