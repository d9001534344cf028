//! The files that this process has read. They are told apart by what they are, not by their paths: a
//! link, another spelling or another folder's name leads to the same file.

use std::fs::Metadata;
use std::path::Path;
use std::sync::{Mutex, PoisonError};

/// What a file is, whatever it is called.
#[cfg(unix)]
type Identity = (u64, u64);

/// What a file is, where the system has no numbers for it: its path without links.
#[cfg(not(unix))]
type Identity = std::path::PathBuf;

static READ: Mutex<Vec<Identity>> = Mutex::new(Vec::new());

/// Device and number of a file.
#[cfg(unix)]
pub(crate) fn identity(_: &Path, meta: &Metadata) -> Option<Identity> {
    use std::os::unix::fs::MetadataExt;
    Some((meta.dev(), meta.ino()))
}

/// The path of a file without links.
#[cfg(not(unix))]
pub(crate) fn identity(path: &Path, _: &Metadata) -> Option<Identity> {
    path.canonicalize().ok()
}

/// Remembers a file that is read, so that no output replaces it. Whatever reads files calls this: a list
/// handed along would miss the one that somebody forgets.
pub(super) fn note_input(path: &Path, meta: &Metadata) {
    let mut read = READ.lock().unwrap_or_else(PoisonError::into_inner);
    if let Some(file) = identity(path, meta)
        && !read.contains(&file)
    {
        read.push(file);
    }
}

/// Whether a file has been read by this process.
pub(crate) fn is_input(path: &Path) -> bool {
    let file = std::fs::metadata(path)
        .ok()
        .and_then(|meta| identity(path, &meta));
    let read = READ.lock().unwrap_or_else(PoisonError::into_inner);
    file.is_some_and(|file| read.contains(&file))
}
