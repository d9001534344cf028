//! Line files, weather files, decisions and rendering around [`overwinter_model`].

pub mod cells;
pub mod cli;
pub mod command;
pub mod fit;
mod keys;
mod light;
pub mod line;
pub mod notice;
pub mod odds;
pub mod output;
pub mod own;
pub mod plot;
pub mod points;
pub mod problem;
pub mod progress;
pub mod run;
pub mod shown;
pub mod sky;
pub mod source;
pub mod table;
mod weak_store;
pub mod weather;
pub mod words;
