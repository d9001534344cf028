//! Where reference tables lie: in the repository, or where an environment variable says.

use std::path::{Path, PathBuf};

/// The files to read: those of the folder that `variable` names (or that one file), else those of
/// `default`, a folder below `tests/data`. Sorted by name.
///
/// # Panics
/// If the folder cannot be read: a test that finds nothing must not pass.
#[must_use]
pub fn reference_files(variable: &str, default: &str) -> Vec<PathBuf> {
    let place = std::env::var_os(variable).map_or_else(|| data(default), PathBuf::from);
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
