//! Where files are read from.

use std::collections::BTreeMap;
use std::path::{Component, Path, PathBuf};

/// Where files are read from: a file system, or names in memory.
pub trait Files: Sync {
    /// The whole of a file of at most `limit` bytes. A relative path starts where the caller is.
    ///
    /// # Errors
    /// [`Unread`].
    fn read(&self, path: &Path, limit: u64) -> Result<Vec<u8>, Unread>;
}

/// Why a file was not read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Unread {
    /// It cannot be opened or read, for this reason.
    Because(String),
    /// It is a folder.
    Folder,
    /// It has more bytes than it may have.
    TooLarge,
}

/// Files in memory: a page's, or a test's.
#[derive(Clone, Debug, Default)]
pub struct InMemory {
    files: BTreeMap<PathBuf, Vec<u8>>,
}

impl InMemory {
    /// The same files and one more, which takes the place of one with the same path.
    #[must_use]
    pub fn with(mut self, path: impl AsRef<Path>, bytes: impl Into<Vec<u8>>) -> Self {
        self.files.insert(tidy(path.as_ref()), bytes.into());
        self
    }
}

impl Files for InMemory {
    fn read(&self, path: &Path, limit: u64) -> Result<Vec<u8>, Unread> {
        let path = tidy(path);
        match self.files.get(&path) {
            Some(bytes) if bytes.len() as u64 > limit => Err(Unread::TooLarge),
            Some(bytes) => Ok(bytes.clone()),
            None if self.files.keys().any(|known| known.starts_with(&path)) => Err(Unread::Folder),
            None => Err(Unread::Because("there is no such file".to_owned())),
        }
    }
}

/// A path without the parts that lead nowhere: `a/../b` is `b`, `./b` too.
fn tidy(path: &Path) -> PathBuf {
    let mut tidy = PathBuf::new();
    for part in path.components() {
        match part {
            Component::CurDir => {}
            Component::ParentDir if tidy.file_name().is_some() => {
                tidy.pop();
            }
            other => tidy.push(other),
        }
    }
    tidy
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_file_in_memory_is_found_by_any_path_to_it() {
        let files = InMemory::default().with("a/b.txt", "four");
        for path in ["a/b.txt", "./a/b.txt", "a/./b.txt", "c/../a/b.txt"] {
            assert_eq!(
                files.read(Path::new(path), 4),
                Ok(b"four".to_vec()),
                "{path}"
            );
        }
        assert_eq!(files.read(Path::new("a/b.txt"), 3), Err(Unread::TooLarge));
        assert_eq!(files.read(Path::new("a"), 9), Err(Unread::Folder));
        let absent = files.read(Path::new("../a/b.txt"), 9);
        assert!(matches!(absent, Err(Unread::Because(_))));
    }
}
