//! What the surroundings give to this library: files, threads, and somebody who waits.

mod files;
mod watch;
mod workers;

pub use files::{Files, InMemory, Unread};
pub use watch::{Unwatched, Watch, Work};
pub use workers::{OneByOne, Workers, gather};

/// What the surroundings give.
#[derive(Clone, Copy)]
pub struct Host<'a> {
    /// Where files are read from.
    pub files: &'a dyn Files,
    /// Who works on the parts of a long piece of work.
    pub workers: &'a dyn Workers,
    /// Who is told how far it has come.
    pub watch: &'a dyn Watch,
}

impl<'a> Host<'a> {
    /// Nothing but files: work is done part by part on the caller's thread, and nobody is told.
    #[must_use]
    pub fn alone(files: &'a dyn Files) -> Self {
        Self {
            files,
            workers: &OneByOne,
            watch: &Unwatched,
        }
    }

    /// The same surroundings for a part of a piece of work whose steps the caller counts itself.
    #[must_use]
    pub fn unwatched(&self) -> Self {
        Self {
            watch: &Unwatched,
            ..*self
        }
    }

    /// Begins a piece of work of `steps` steps, or of a number that nobody knows beforehand; each is one
    /// of `what`.
    #[must_use]
    pub fn begin(&self, steps: Option<usize>, what: &str) -> Work<'a> {
        Work::begin(self.watch, steps, what)
    }
}
