//! Who is told how far a long piece of work has come.

/// Somebody who waits for a long piece of work; told from any thread.
pub trait Watch: Sync {
    /// A piece of work begins: so many steps, or a number that nobody knows beforehand, each one of `what`.
    fn begin(&self, steps: Option<usize>, what: &str);
    /// So many steps more are done.
    fn advance(&self, steps: usize);
    /// The piece of work is over.
    fn end(&self);
}

/// Nobody waits.
#[derive(Clone, Copy, Debug, Default)]
pub struct Unwatched;

impl Watch for Unwatched {
    fn begin(&self, _: Option<usize>, _: &str) {}
    fn advance(&self, _: usize) {}
    fn end(&self) {}
}

/// A piece of work on its way; it is over when this is dropped.
pub struct Work<'a> {
    watch: &'a dyn Watch,
}

impl<'a> Work<'a> {
    pub(super) fn begin(watch: &'a dyn Watch, steps: Option<usize>, what: &str) -> Self {
        watch.begin(steps, what);
        Self { watch }
    }

    /// So many steps more are done.
    pub fn advance(&self, steps: usize) {
        self.watch.advance(steps);
    }
}

impl Drop for Work<'_> {
    fn drop(&mut self) {
        self.watch.end();
    }
}
