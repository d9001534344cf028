//! Finds and reads the tables of a reference test.

use std::collections::HashMap;
use std::path::{Path, PathBuf};

/// This package's folder of reference data.
#[must_use]
pub fn data(folder: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("data")
        .join(folder)
}

/// A folder of raw reference files that may stand beside the checkout; they are too large or not free
/// enough to be kept in it.
#[must_use]
pub fn beside_checkout(folder: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("../../shared/reference")
        .join(folder)
}

/// The files of a test in order of name: those of the folder (or the one file) that the environment
/// variable names, else those of this package's own folder.
///
/// # Panics
/// If the folder cannot be read: a test that finds nothing must not pass.
#[must_use]
pub fn files(variable: &str, folder: &str) -> Vec<PathBuf> {
    let root = std::env::var_os(variable).map_or_else(|| data(folder), PathBuf::from);
    if root.is_file() {
        return vec![root];
    }
    let entries = root
        .read_dir()
        .unwrap_or_else(|error| panic!("{}: {error}", root.display()));
    let mut files: Vec<PathBuf> = entries
        .filter_map(|entry| Some(entry.ok()?.path()))
        .filter(|path| path.is_file())
        .collect();
    files.sort();
    files
}

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
        let mut reader = csv::Reader::from_path(path).ok()?;
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
