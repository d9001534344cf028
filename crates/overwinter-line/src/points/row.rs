//! One row of a file of published points, as written.

use std::io::Read;
use std::path::Path;

use overwinter_model::cell::catalogue::{CatalogueCell, find};
use serde::{Deserialize, Deserializer};

/// How a figure came into the file.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum How {
    /// Read in the named source, or off its chart.
    Seen,
    /// Computed from something seen; the note says how.
    Derived,
    /// Recalled: decides nothing.
    Memory,
}

/// A published figure: what was measured, under which conditions, and where it stands.
#[derive(Clone, Debug, PartialEq, Deserialize)]
pub struct Row {
    /// Chemistry and running number, for example `alkaline-001`.
    pub id: String,
    /// For example `alkaline`.
    pub chemistry: String,
    /// For example `LR6`, or `12 V 7.2 Ah`.
    pub size: String,
    /// Quantity with its unit, for example `service_h`.
    pub quantity: String,
    /// Temperature in degrees Celsius.
    #[serde(rename = "condition_temp_C", deserialize_with = "number")]
    pub temp_c: Option<f64>,
    /// Load, as text.
    pub condition_load: String,
    /// State of the cell, as text.
    pub state: String,
    /// Cut-off voltage in volts.
    #[serde(rename = "cutoff_V", deserialize_with = "number")]
    pub cutoff_v: Option<f64>,
    /// The figure.
    pub value: f64,
    /// Its source.
    pub source_id: String,
    /// How it was got.
    pub how: How,
    /// How far off it may be, in per cent of the value.
    #[serde(deserialize_with = "number")]
    pub tol_pct: Option<f64>,
    /// Remarks.
    pub note: String,
    /// Of how many makes the figure is the median; a table without that column knows one.
    #[serde(default, deserialize_with = "number")]
    pub makes: Option<f64>,
    /// The catalogue cell after which its table is named, if it is.
    #[serde(skip)]
    pub table: Option<&'static CatalogueCell>,
}

impl Row {
    /// The running number at the end of the id.
    #[must_use]
    pub fn running_number(&self) -> Option<u32> {
        self.id.rsplit('-').next()?.parse().ok()
    }
}

/// An empty field is no number.
fn number<'de, D: Deserializer<'de>>(field: D) -> Result<Option<f64>, D::Error> {
    let text = String::deserialize(field)?;
    if text.is_empty() {
        return Ok(None);
    }
    text.parse().map(Some).map_err(serde::de::Error::custom)
}

/// The rows of a table that stands in the file `path`; those of `<cell>.csv` know that cell of the catalogue as
/// their table's.
///
/// # Errors
/// If the table cannot be read, is not a file of points (its header lacks a column), or a field is
/// not what its column asks for: `csv` names the line.
pub fn read_rows(path: &Path, table: impl Read) -> Result<Vec<Row>, csv::Error> {
    let cell = path.file_stem().and_then(|stem| find(stem.to_str()?));
    let rows = csv::Reader::from_reader(table).into_deserialize();
    rows.map(|row| row.map(|row| Row { table: cell, ..row }))
        .collect()
}
