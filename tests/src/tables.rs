//! Reads reference tables whose columns are known by name.

use std::collections::HashMap;
use std::path::{Path, PathBuf};

/// The name of a file for a person.
#[must_use]
pub fn file_name(path: &Path) -> String {
    path.file_name()
        .map_or_else(String::new, |name| name.to_string_lossy().into_owned())
}

/// One line of a table, its fields by column name.
#[derive(Clone, Debug)]
pub struct Row(HashMap<String, String>);

impl Row {
    /// The text of a column; empty where the table has none of that name.
    #[must_use]
    pub fn text(&self, column: &str) -> &str {
        self.0.get(column).map_or("", String::as_str)
    }

    /// A column as a number; `None` where it is empty or something else.
    #[must_use]
    pub fn number(&self, column: &str) -> Option<f64> {
        self.text(column).parse().ok()
    }
}

/// A table with a header line.
#[derive(Clone, Debug)]
pub struct Table {
    /// Where it was read from.
    pub path: PathBuf,
    /// Column names, by which its kind is known.
    pub columns: Vec<String>,
    /// Its lines in order.
    pub rows: Vec<Row>,
}

impl Table {
    /// Reads a table of comma-separated values; `None` if the file is not one.
    #[must_use]
    pub fn read(path: &Path) -> Option<Self> {
        Self::of(path, csv::Reader::from_path(path).ok()?)
    }

    /// A table out of a reader, said to lie at `path`; `None` if it is not one.
    #[must_use]
    pub fn of(path: &Path, mut reader: csv::Reader<impl std::io::Read>) -> Option<Self> {
        let columns: Vec<String> = reader.headers().ok()?.iter().map(str::to_owned).collect();
        let row = |record: csv::StringRecord| {
            let fields = record.iter().map(str::to_owned);
            Row(columns.iter().cloned().zip(fields).collect())
        };
        let rows = reader
            .records()
            .map(|record| record.map(row))
            .collect::<Result<_, _>>()
            .ok()?;
        Some(Self {
            path: path.to_owned(),
            columns,
            rows,
        })
    }

    /// Whether it has all these columns.
    #[must_use]
    pub fn has(&self, columns: &[&str]) -> bool {
        columns
            .iter()
            .all(|name| self.columns.iter().any(|column| column == name))
    }
}
