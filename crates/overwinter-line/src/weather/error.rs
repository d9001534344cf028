//! What is wrong with a weather file, and where.

use std::path::{Path, PathBuf};

/// Why a weather file could not be used: where, what, and what was expected instead.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct WeatherFileError {
    file: PathBuf,
    line: Option<u64>,
    column: Option<usize>,
    message: String,
    expected: String,
}

impl WeatherFileError {
    /// An error about the file as a whole.
    pub(super) fn new(message: impl Into<String>, expected: impl Into<String>) -> Self {
        Self {
            file: PathBuf::new(),
            line: None,
            column: None,
            message: message.into(),
            expected: expected.into(),
        }
    }

    pub(super) fn at_line(self, line: u64) -> Self {
        Self {
            line: Some(line),
            ..self
        }
    }

    pub(super) fn at_column(self, column: usize) -> Self {
        Self {
            column: Some(column),
            ..self
        }
    }

    pub(super) fn in_file(self, file: &Path) -> Self {
        Self {
            file: file.to_owned(),
            ..self
        }
    }

    /// The file as it was named by the caller.
    #[must_use]
    pub fn file(&self) -> &Path {
        &self.file
    }

    /// The line, from 1, where one is to blame.
    #[must_use]
    pub fn line(&self) -> Option<u64> {
        self.line
    }

    /// The column at which the field starts, in bytes from 1, where one is to blame.
    #[must_use]
    pub fn column(&self) -> Option<usize> {
        self.column
    }

    /// The place to show: `file`, `file:line` or `file:line:column`.
    #[must_use]
    pub fn place(&self) -> String {
        let mut place = crate::shown::path(&self.file);
        if let Some(line) = self.line {
            place += &format!(":{line}");
        }
        if let Some(column) = self.column {
            place += &format!(":{column}");
        }
        place
    }

    /// What is wrong.
    #[must_use]
    pub fn message(&self) -> &str {
        &self.message
    }

    /// What was expected instead, or what to do.
    #[must_use]
    pub fn expected(&self) -> &str {
        &self.expected
    }
}

impl std::fmt::Display for WeatherFileError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let Self {
            message, expected, ..
        } = self;
        write!(f, "{}: {message}; expected {expected}", self.place())
    }
}

impl std::error::Error for WeatherFileError {}
