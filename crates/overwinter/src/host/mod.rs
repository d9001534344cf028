//! What this program gives the library: the file system, all cores, and a bar for somebody who waits.

mod disk;
mod inputs;
mod progress;
mod threads;

use overwinter_line::host::Host;

pub(crate) use disk::Disk;
pub(crate) use inputs::{identity, is_input};
use progress::Progress;
use threads::Threads;

static PROGRESS: Progress = Progress::new();

/// The surroundings of this process.
#[must_use]
pub fn host() -> Host<'static> {
    Host {
        files: &Disk,
        workers: &Threads,
        watch: &PROGRESS,
    }
}
