//! Line files, weather files, decisions and rendering around [`overwinter_model`].

pub mod points;
