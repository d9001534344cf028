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

/// Whether a figure is one of the cell that its table stands for.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Grade {
    /// It is: of the good common grade, or of the only one that the table knows.
    #[default]
    #[serde(rename = "")]
    Own,
    /// Of a lesser grade under the same name.
    Plain,
    /// Of a better one.
    Premium,
    /// At odds with several other sources; the note of the cell says how.
    Conflicting,
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
    /// Whether it is a figure of the very grade; a table without that column knows one grade.
    #[serde(default)]
    pub grade: Grade,
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

#[cfg(test)]
mod tests {
    use super::*;

    const HEAD: &str = "id,chemistry,size,quantity,condition_temp_C,condition_load,state,cutoff_V,\
                        value,unit,source_id,how,tol_pct,note";
    const ROW: &str = "a-1,alkaline,LR6,ocv_V,20,open,fresh,,1.6,V,SOURCE,seen,1,";

    fn read(text: &str) -> Result<Vec<Row>, csv::Error> {
        csv::Reader::from_reader(text.as_bytes())
            .deserialize()
            .collect()
    }

    #[test]
    fn a_table_without_grades_knows_one() {
        let rows = read(&format!("{HEAD}\n{ROW}\n")).unwrap();
        assert_eq!(rows[0].grade, Grade::Own);
    }

    #[test]
    fn grades_are_read_and_others_refused() {
        let grade = |word| read(&format!("{HEAD},grade\n{ROW},{word}\n"));
        for (word, expected) in [
            ("", Grade::Own),
            ("plain", Grade::Plain),
            ("premium", Grade::Premium),
            ("conflicting", Grade::Conflicting),
        ] {
            assert_eq!(grade(word).unwrap()[0].grade, expected);
        }
        assert!(grade("better").is_err());
    }
}
