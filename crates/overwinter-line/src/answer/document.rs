//! What the documents of answers are made of.

use serde::{Serialize, Serializer};
use time::Date;

/// A number that a document gives to so many decimals: no digits beyond what the model can know. The answer
/// itself keeps all of them.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rounded<const DECIMALS: i32>(pub f64);

impl<const DECIMALS: i32> Serialize for Rounded<DECIMALS> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let scale = 10_f64.powi(DECIMALS);
        // A rounded zero keeps no sign.
        serializer.serialize_f64((self.0 * scale).round() / scale + 0.0)
    }
}

/// A date that a document gives as `2026-11-01`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct IsoDate(pub Date);

impl Serialize for IsoDate {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(&self.0)
    }
}

/// A doubt or a warning.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct WarningDocument {
    /// Its name.
    pub kind: &'static str,
    /// For a person.
    pub text: String,
}

/// The cells of a camera.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct SetDocument {
    /// Their name.
    pub cell: String,
    /// In series.
    pub series: u8,
    /// In parallel.
    pub parallel: u8,
}

impl From<&crate::line::PackChoice> for SetDocument {
    fn from(pack: &crate::line::PackChoice) -> Self {
        Self {
            cell: pack.cell.name.clone(),
            series: pack.series,
            parallel: pack.parallel,
        }
    }
}
