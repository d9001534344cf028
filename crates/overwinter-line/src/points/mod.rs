//! Published points: reads the long-format tables of `datasheets-notes/`, repeats each test with a
//! catalogue cell, and gives the model's figure for the published one.
//!
//! Service times count time under load only, as the standards do.

mod condition;
mod evaluate;
mod load;
mod mark;
mod profile;
mod resistance;
mod row;
mod state;
mod subject;
mod trial;

use std::fmt;

pub use condition::Condition;
pub use evaluate::{Measure, Modelled, evaluate};
pub(crate) use load::pulse;
pub use load::{changes_more_often, heaviest_current, load_span};
pub use profile::{ProfileError, parse_load, parse_profile, parse_span, parse_temperatures};
pub use row::{How, Row, read_rows};
pub use state::{Mark, State};
pub use subject::{RatedCell, entry_for};

/// Why a row cannot be repeated with a catalogue cell.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Skip(String);

impl Skip {
    pub(crate) fn new(reason: impl Into<String>) -> Self {
        Self(reason.into())
    }
}

impl fmt::Display for Skip {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

impl std::error::Error for Skip {}

#[cfg(test)]
mod tests;
