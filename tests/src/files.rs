//! Where reference tables lie: in the repository, or where an environment variable says.

use std::path::{Path, PathBuf};

/// The files to read: those at the place that `variable` names, else those of `default`, a folder
/// below `tests/data`. See [`files_at`].
///
/// # Panics
/// If the folder cannot be read: a test that finds nothing must not pass.
#[must_use]
pub fn reference_files(variable: &str, default: &str) -> Vec<PathBuf> {
    files_at(reference_place(variable, default))
}

/// The file or folder that `variable` names, else `default`, a folder below `tests/data`.
#[must_use]
pub fn reference_place(variable: &str, default: &str) -> PathBuf {
    std::env::var_os(variable).map_or_else(|| data(default), PathBuf::from)
}

/// The files of a folder, sorted by name, or the one file that `place` is.
///
/// # Panics
/// If the folder cannot be read.
#[must_use]
pub fn files_at(place: PathBuf) -> Vec<PathBuf> {
    if place.is_file() {
        return vec![place];
    }
    let entries = std::fs::read_dir(&place)
        .unwrap_or_else(|why| panic!("{} cannot be read: {why}", place.display()));
    let mut files: Vec<PathBuf> = entries
        .filter_map(|entry| entry.ok().map(|e| e.path()))
        .filter(|path| path.is_file())
        .collect();
    files.sort();
    files
}

/// A path below `tests/data`.
#[must_use]
pub fn data(relative: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("data")
        .join(relative)
}

/// A path in the folder of reference data that may lie beside the checkout, if it is there.
#[must_use]
pub fn beside_checkout(relative: &str) -> Option<PathBuf> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("../../shared/reference")
        .join(relative);
    path.exists().then_some(path)
}
