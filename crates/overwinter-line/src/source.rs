//! Text files as input: read whole, within a limit, and refused with the place where they are not
//! text.

use std::path::Path;

use crate::host::{Files, Unread};
use crate::problem::{Failure, SourceText, place_after};
use crate::shown;

/// Reads a text file of at most `limit` bytes.
///
/// # Errors
/// [`Failure::Request`] if it is not there, too big, not readable or not text.
pub(crate) fn read_text(
    files: &dyn Files,
    path: &Path,
    what: &str,
    limit: u64,
) -> Result<SourceText, Failure> {
    let name = shown::path(path);
    let bytes = read_bytes(files, path, what, limit)?;
    if is_utf16(&bytes) {
        return Err(Failure::request(
            format!("{what} `{name}` is UTF-16, not UTF-8"),
            "open it in a text editor and save it with the encoding UTF-8",
        ));
    }
    if bytes.contains(&0) {
        return Err(Failure::request(
            format!("{what} `{name}` is binary, not text"),
            "is this the right file?",
        ));
    }
    match String::from_utf8(bytes) {
        Ok(mut text) => {
            // A byte order mark is none of the text, and would push the first line's columns on.
            if text.starts_with('\u{feff}') {
                text.remove(0);
            }
            Ok(SourceText { name, text })
        }
        Err(why) => {
            let (line, column) = place_after(&why.as_bytes()[..why.utf8_error().valid_up_to()]);
            Err(Failure::request(
                format!("{name}:{line}:{column}: this character is not UTF-8"),
                format!("save the {what} as UTF-8"),
            ))
        }
    }
}

/// Reads a file of at most `limit` bytes.
///
/// # Errors
/// [`Failure::Request`] if it is not there, too big or not readable.
pub(crate) fn read_bytes(
    files: &dyn Files,
    path: &Path,
    what: &str,
    limit: u64,
) -> Result<Vec<u8>, Failure> {
    files.read(path, limit).map_err(|why| {
        let name = shown::path(path);
        match why {
            Unread::Because(why) => Failure::request(
                format!("{what} `{name}` cannot be read: {why}"),
                "check the path; it is taken from the folder you are in",
            ),
            Unread::Folder => Failure::request(
                format!("{what} `{name}` is a folder"),
                "give the file in it",
            ),
            Unread::TooLarge => Failure::request(
                format!(
                    "{what} `{name}` has more than {} MB",
                    limit as f64 / 1_000_000.0
                ),
                "is this the right file?",
            ),
        }
    })
}

/// Whether bytes are text in UTF-16: they begin with its mark, or one byte of nearly every two is zero,
/// always on the same side.
pub(crate) fn is_utf16(bytes: &[u8]) -> bool {
    /// So much of a text is enough to see it.
    const LOOKED_AT: usize = 512;
    if bytes.starts_with(b"\xff\xfe") || bytes.starts_with(b"\xfe\xff") {
        return true;
    }
    let start = &bytes[..bytes.len().min(LOOKED_AT)];
    let pairs = start.chunks_exact(2);
    let most = pairs.len() * 9 / 10;
    let (first, second) = pairs.fold((0, 0), |(first, second), pair| match pair {
        [0, 1..=255] => (first + 1, second),
        [1..=255, 0] => (first, second + 1),
        _ => (first, second),
    });
    most > 0 && (first > most || second > most)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn utf_16_is_told_from_other_bytes() {
        let text = "[site]\nname = \"fj\u{e4}ll\"\n";
        let wide = |of: fn(u16) -> [u8; 2]| text.encode_utf16().flat_map(of).collect::<Vec<u8>>();
        for bytes in [wide(u16::to_le_bytes), wide(u16::to_be_bytes)] {
            assert!(is_utf16(&bytes));
        }
        assert!(is_utf16(b"\xff\xfe[\0"));
        let binary: Vec<u8> = (0..=255).cycle().take(600).collect();
        for bytes in [
            text.as_bytes(),
            &binary,
            &[0; 600],
            b"",
            b"\0",
            b"PK\x03\x04",
        ] {
            assert!(!is_utf16(bytes), "{bytes:?}");
        }
    }
}
