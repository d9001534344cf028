//! Files written whole or not at all.

use std::io::{ErrorKind, Write};
use std::path::Path;

use tempfile::NamedTempFile;

use crate::problem::Failure;

/// Whether a file can be written there, as far as that shows beforehand: for commands that compute
/// for minutes before they write.
///
/// # Errors
/// As [`write_whole`].
pub fn check_place(path: &Path) -> Result<(), Failure> {
    temporary_beside(path).map(|_| ())
}

/// Writes `bytes` to `path` by way of a temporary file beside it and a rename, so that a reader
/// never meets half a file and a failure leaves what was there before.
///
/// # Errors
/// [`Failure::Run`] if the folder is not there or may not be written to.
pub fn write_whole(path: &Path, bytes: &[u8]) -> Result<(), Failure> {
    let failed = |why| cannot_be_written(path, &why);
    let mut file = temporary_beside(path)?;
    file.write_all(bytes).map_err(failed)?;
    readable_by_all(&file).map_err(failed)?;
    file.persist(path).map_err(|why| failed(why.error))?;
    Ok(())
}

/// A temporary file, which is gone when it is dropped.
fn temporary_beside(path: &Path) -> Result<NamedTempFile, Failure> {
    let folder = match path.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    };
    tempfile::Builder::new()
        .prefix(".overwinter-")
        .tempfile_in(folder)
        .map_err(|why| cannot_be_written(path, &why))
}

fn cannot_be_written(path: &Path, why: &std::io::Error) -> Failure {
    // The error's own words name the temporary file, which the user never heard of.
    let why = match why.kind() {
        ErrorKind::NotFound => "its folder is not there".to_owned(),
        ErrorKind::NotADirectory => "a part of its path is not a folder".to_owned(),
        ErrorKind::PermissionDenied => "its folder may not be written to".to_owned(),
        other => other.to_string(),
    };
    Failure::Run(format!("`{}` cannot be written: {why}", path.display()))
}

/// A temporary file is its owner's alone; a picture is for everybody who may see the folder.
#[cfg(unix)]
fn readable_by_all(file: &NamedTempFile) -> std::io::Result<()> {
    use std::os::unix::fs::PermissionsExt;
    file.as_file()
        .set_permissions(std::fs::Permissions::from_mode(0o644))
}

#[cfg(not(unix))]
fn readable_by_all(_: &NamedTempFile) -> std::io::Result<()> {
    Ok(())
}
