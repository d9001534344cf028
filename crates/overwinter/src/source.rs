//! Text files as input: read whole, within a limit, and refused with the place where they are not
//! text.

use std::fs::{File, Metadata};
use std::io::Read;
use std::path::Path;

use crate::output::note_input;
use crate::problem::Failure;
use crate::shown;

/// A file's name as the user gave it, and its text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SourceText {
    /// Name to show.
    pub name: String,
    /// Whole text.
    pub text: String,
}

/// Reads a text file of at most `limit` bytes.
///
/// # Errors
/// [`Failure::Request`] if it is not there, too big, not readable or not text.
pub fn read_text(path: &Path, what: &str, limit: u64) -> Result<SourceText, Failure> {
    let name = shown::path(path);
    let bytes = read_bytes(path, what, limit)?;
    if bytes.contains(&0) {
        return Err(Failure::request(
            format!("{what} `{name}` is binary, not text"),
            "is this the right file?",
        ));
    }
    match String::from_utf8(bytes) {
        Ok(text) => Ok(SourceText { name, text }),
        Err(why) => {
            let (line, column) = place_after(&why.as_bytes()[..why.utf8_error().valid_up_to()]);
            Err(Failure::request(
                format!("{name}:{line}:{column}: this character is not UTF-8"),
                format!("save the {what} as UTF-8"),
            ))
        }
    }
}

/// Opens a file that is read, and remembers it, so that no output replaces it: every input comes by here.
///
/// # Errors
/// That of the system.
pub(crate) fn open_input(path: &Path) -> std::io::Result<(File, Metadata)> {
    let file = File::open(path)?;
    let meta = file.metadata()?;
    note_input(path, &meta);
    Ok((file, meta))
}

/// Reads a file of at most `limit` bytes.
///
/// # Errors
/// [`Failure::Request`] if it is not there, too big or not readable.
pub(crate) fn read_bytes(path: &Path, what: &str, limit: u64) -> Result<Vec<u8>, Failure> {
    let name = shown::path(path);
    let cannot = |why: std::io::Error| {
        Failure::request(
            format!("{what} `{name}` cannot be read: {why}"),
            "check the path; it is taken from the folder you are in",
        )
    };
    let (file, meta) = open_input(path).map_err(cannot)?;
    if meta.is_dir() {
        return Err(Failure::request(
            format!("{what} `{name}` is a folder"),
            "give the file in it",
        ));
    }
    let mut bytes = Vec::new();
    if meta.len() <= limit {
        // A pipe or a device has no length beforehand.
        file.take(limit + 1)
            .read_to_end(&mut bytes)
            .map_err(cannot)?;
    }
    if meta.len().max(bytes.len() as u64) > limit {
        return Err(Failure::request(
            format!(
                "{what} `{name}` has more than {} MB",
                limit as f64 / 1_000_000.0
            ),
            "is this the right file?",
        ));
    }
    Ok(bytes)
}

/// Line and column, in characters from 1, of what follows `before`.
pub(crate) fn place_after(before: &[u8]) -> (usize, usize) {
    let before = String::from_utf8_lossy(before);
    let line = before.matches('\n').count() + 1;
    let start = before.rfind('\n').map_or(0, |end| end + 1);
    (line, before[start..].chars().count() + 1)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn places_are_counted_in_characters_from_one() {
        assert_eq!(place_after(b""), (1, 1));
        assert_eq!(place_after("a\nfjäll".as_bytes()), (2, 6));
        assert_eq!(place_after(b"a\n\n"), (3, 1));
    }
}
