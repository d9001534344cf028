//! What the library is given: the file system and all cores.

use std::fs::File;
use std::path::Path;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread;

use overwinter_line::host::{Files, Host, Unread, Unwatched, Workers};
use overwinter_line::points::{Row, read_rows};

/// The file system. The checks read their own files, so there is no limit.
pub struct Disk;

impl Files for Disk {
    fn read(&self, path: &Path, _: u64) -> Result<Vec<u8>, Unread> {
        std::fs::read(path).map_err(|why| Unread::Because(why.to_string()))
    }
}

/// A thread for each core.
struct Threads;

impl Workers for Threads {
    fn each(&self, parts: usize, work: &(dyn Fn(usize) + Sync)) {
        let next = AtomicUsize::new(0);
        let cores = thread::available_parallelism().map_or(1, Into::into);
        thread::scope(|scope| {
            for _ in 0..cores.min(parts) {
                scope.spawn(|| {
                    loop {
                        match next.fetch_add(1, Ordering::Relaxed) {
                            part if part < parts => work(part),
                            _ => break,
                        }
                    }
                });
            }
        });
    }
}

/// The file system and all cores.
#[must_use]
pub fn host() -> Host<'static> {
    Host {
        files: &Disk,
        workers: &Threads,
        watch: &Unwatched,
    }
}

/// The rows of a table of published points.
///
/// # Errors
/// If it cannot be read or is no table of points.
pub fn rows_of_points(path: &Path) -> Result<Vec<Row>, csv::Error> {
    read_rows(path, File::open(path)?)
}
