//! Temporary files beside those that they become.
//!
//! Whoever writes one holds a lock on it. A run that is killed loses its lock and leaves its file, which the
//! next run that writes into that folder can therefore tell from one that is still being written.

use std::fs::{File, Permissions};
use std::io::{Error, Result, Write};
use std::path::Path;

use tempfile::NamedTempFile;

const BEGINS: &str = ".overwinter-";
const ENDS: &str = ".part";

/// Characters between the two.
const RANDOM: usize = 8;

/// A new file may lose its lock to somebody who clears up; not so often.
const MOST_TRIES: usize = 20;

/// Puts `bytes` in the place of `path` at one stroke, with the mode of the file that was there.
pub(super) fn replace(path: &Path, existing: Option<Permissions>, bytes: &[u8]) -> Result<()> {
    let mut file = beside(path)?;
    file.write_all(bytes)?;
    if let Some(mode) = existing {
        file.as_file().set_permissions(mode)?;
    }
    // The bytes must be on the disk before the name is: a power cut between the two would leave an empty file.
    file.as_file().sync_all()?;
    file.persist(path).map_err(|why| why.error)?;
    Ok(())
}

/// A locked temporary file in the folder of `path`, which is gone when it is dropped. What killed runs left
/// there is cleared up.
pub(super) fn beside(path: &Path) -> Result<NamedTempFile> {
    let folder = match path.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    };
    clear_up(folder);
    for _ in 0..MOST_TRIES {
        let file = created(folder)?;
        if held(file.as_file()) {
            return Ok(file);
        }
    }
    Err(Error::other("its temporary file is taken away"))
}

#[cfg(unix)]
fn created(folder: &Path) -> Result<NamedTempFile> {
    use std::os::unix::fs::PermissionsExt;
    // As for any new file; the system takes off what the umask says.
    builder()
        .permissions(Permissions::from_mode(0o666))
        .tempfile_in(folder)
}

#[cfg(not(unix))]
fn created(folder: &Path) -> Result<NamedTempFile> {
    builder().tempfile_in(folder)
}

fn builder() -> tempfile::Builder<'static, 'static> {
    let mut builder = tempfile::Builder::new();
    builder.prefix(BEGINS).suffix(ENDS).rand_bytes(RANDOM);
    builder
}

/// Locks a file that was just made; `false` if somebody who clears up was quicker. Some file systems have no
/// locks, and there nobody clears up.
fn held(file: &File) -> bool {
    match file.try_lock() {
        Ok(()) => is_named(file),
        Err(std::fs::TryLockError::WouldBlock) => false,
        Err(std::fs::TryLockError::Error(_)) => true,
    }
}

#[cfg(unix)]
fn is_named(file: &File) -> bool {
    use std::os::unix::fs::MetadataExt;
    file.metadata().is_ok_and(|meta| meta.nlink() > 0)
}

#[cfg(not(unix))]
fn is_named(_: &File) -> bool {
    true
}

/// Removes the temporary files in a folder that nobody writes any more, as far as that can be done: the file
/// that is to be written matters more.
fn clear_up(folder: &Path) {
    let Ok(entries) = std::fs::read_dir(folder) else {
        return;
    };
    for entry in entries.flatten() {
        let name = entry.file_name();
        let is_file = entry.file_type().is_ok_and(|kind| kind.is_file());
        if is_file && name.to_str().is_some_and(is_ours) {
            remove_if_left(&entry.path());
        }
    }
}

/// Removes a temporary file that nobody holds, under its lock, so that nobody takes it up meanwhile.
fn remove_if_left(path: &Path) {
    if let Ok(file) = File::open(path)
        && file.try_lock().is_ok()
    {
        // One that stays is met again by the next run.
        let _ = std::fs::remove_file(path);
    }
}

/// Whether a name is one that [`builder`] makes.
fn is_ours(name: &str) -> bool {
    let between = name
        .strip_prefix(BEGINS)
        .and_then(|name| name.strip_suffix(ENDS));
    between.is_some_and(|random| {
        random.len() == RANDOM && random.bytes().all(|byte| byte.is_ascii_alphanumeric())
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn names(folder: &Path) -> Vec<String> {
        let entries = std::fs::read_dir(folder).expect("a folder").flatten();
        let mut names: Vec<_> = entries
            .map(|entry| entry.file_name().into_string().expect("a name"))
            .collect();
        names.sort();
        names
    }

    #[test]
    fn what_a_killed_run_left_is_removed_and_what_is_being_written_is_not() {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("season.svg");
        let left = folder.path().join(".overwinter-Ab3dEf9h.part");
        std::fs::write(&left, "half").expect("a file");
        for strange in [".overwinter-notes.part", ".overwinter-Ab3dEf9h", "x.part"] {
            std::fs::write(folder.path().join(strange), "kept").expect("a file");
        }
        let other = beside(&path).expect("a temporary file");
        assert!(!left.exists());
        let written = replace(&path, None, b"whole");
        written.expect("a file");
        assert!(other.path().exists(), "another run's file is left alone");
        drop(other);
        assert_eq!(
            names(folder.path()),
            [
                ".overwinter-Ab3dEf9h",
                ".overwinter-notes.part",
                "season.svg",
                "x.part"
            ]
        );
    }
}
