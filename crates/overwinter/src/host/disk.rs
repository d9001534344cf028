//! Files of the file system as inputs.

use std::fs::File;
use std::io::{Error, Read};
use std::path::Path;

use overwinter_line::host::{Files, Unread};

use super::inputs::note_input;

/// The file system. It remembers each file that it reads, so that no output replaces it: every input of a
/// command comes by here.
pub(crate) struct Disk;

impl Files for Disk {
    fn read(&self, path: &Path, limit: u64) -> Result<Vec<u8>, Unread> {
        let because = |why: Error| Unread::Because(why.to_string());
        let file = File::open(path).map_err(because)?;
        let meta = file.metadata().map_err(because)?;
        note_input(path, &meta);
        if meta.is_dir() {
            return Err(Unread::Folder);
        }
        if meta.len() > limit {
            return Err(Unread::TooLarge);
        }
        // A pipe, a device or a growing file has no length beforehand.
        let mut bytes = Vec::new();
        file.take(limit.saturating_add(1))
            .read_to_end(&mut bytes)
            .map_err(because)?;
        if bytes.len() as u64 > limit {
            return Err(Unread::TooLarge);
        }
        Ok(bytes)
    }
}
