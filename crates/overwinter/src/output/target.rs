//! What is at a path, found out without opening it: to open a pipe is to wait for its other end.

use std::fs::{Metadata, Permissions};
use std::io::{Error, ErrorKind, Result};
use std::path::{Path, PathBuf};

use crate::host::identity;

/// Where bytes go.
pub(super) enum Target {
    /// Where the answer goes, too.
    StandardOutput,
    /// A pipe or a device that takes bytes one after the other.
    Stream,
    /// A file, there already or not.
    File {
        /// Its path with all links followed.
        real: PathBuf,
        /// The mode of the file that is there.
        existing: Option<Permissions>,
    },
}

/// More links than this lead in a circle.
const MOST_LINKS: usize = 40;

/// What is at `path`.
pub(super) fn of(path: &Path) -> Result<Target> {
    if path == Path::new("-") {
        return Ok(Target::StandardOutput);
    }
    let meta = match std::fs::metadata(path) {
        Ok(meta) => meta,
        Err(why) if why.kind() == ErrorKind::NotFound => return new_file(path),
        Err(why) => return Err(why),
    };
    if is_standard_output(path, &meta) {
        return Ok(Target::StandardOutput);
    }
    if meta.is_dir() {
        return Err(ErrorKind::IsADirectory.into());
    }
    if meta.is_file() {
        return Ok(Target::File {
            real: followed(path)?,
            existing: Some(meta.permissions()),
        });
    }
    if is_stream(&meta) {
        Ok(Target::Stream)
    } else {
        Err(Error::other("it is a disk or a socket"))
    }
}

/// A file that is not there yet, perhaps at the end of a link.
fn new_file(path: &Path) -> Result<Target> {
    Ok(Target::File {
        real: followed(path)?,
        existing: None,
    })
}

/// A path with the links at its end followed.
fn followed(path: &Path) -> Result<PathBuf> {
    let mut path = path.to_owned();
    for _ in 0..MOST_LINKS {
        match std::fs::read_link(&path) {
            Ok(target) => path = path.parent().unwrap_or(Path::new("")).join(target),
            // Not a link, or nothing there.
            Err(_) => return Ok(path),
        }
    }
    Err(Error::other("its links lead in a circle"))
}

/// A file's path from the root, its folder without links; `None` where its folder is not there.
pub(super) fn absolute(real: &Path) -> Option<PathBuf> {
    let folder = match real.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    };
    Some(folder.canonicalize().ok()?.join(real.file_name()?))
}

#[cfg(unix)]
fn is_stream(meta: &Metadata) -> bool {
    use std::os::unix::fs::FileTypeExt;
    let kind = meta.file_type();
    kind.is_fifo() || kind.is_char_device()
}

#[cfg(not(unix))]
fn is_stream(_: &Metadata) -> bool {
    true
}

/// Whether a path leads to where this process's standard output goes.
#[cfg(unix)]
fn is_standard_output(path: &Path, meta: &Metadata) -> bool {
    use std::os::fd::AsFd;
    let own = std::io::stdout().as_fd().try_clone_to_owned();
    let own = own.and_then(|own| std::fs::File::from(own).metadata());
    let own = own.ok().and_then(|own| identity(path, &own));
    own.is_some() && own == identity(path, meta)
}

#[cfg(not(unix))]
fn is_standard_output(_: &Path, _: &Metadata) -> bool {
    false
}
