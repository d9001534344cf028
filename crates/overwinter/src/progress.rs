//! How far a long piece of work has come, for somebody who waits for it.

use std::io::IsTerminal;
use std::time::{Duration, Instant};

use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};

/// Work that is done sooner shows nothing.
const QUICK: Duration = Duration::from_secs(1);

/// A bar on standard error that shows itself only on a terminal, and only where the work takes
/// longer than a second. It goes away when it is dropped.
pub struct Progress {
    bar: ProgressBar,
    began: Instant,
    terminal: bool,
}

impl Progress {
    /// A bar of `total` steps; `what` is done in them, as in `sampling`.
    #[must_use]
    pub fn new(total: u64, what: &'static str) -> Self {
        let bar = ProgressBar::with_draw_target(Some(total), ProgressDrawTarget::hidden());
        if let Ok(style) = ProgressStyle::with_template("{msg} {bar:30} {pos} of {len}, {eta} left")
        {
            bar.set_style(style);
        }
        bar.set_message(what);
        Self {
            bar,
            began: Instant::now(),
            terminal: std::io::stderr().is_terminal(),
        }
    }

    /// So many steps more are done.
    pub fn advance(&self, steps: u64) {
        self.bar.inc(steps);
        if self.terminal && self.bar.is_hidden() && self.began.elapsed() > QUICK {
            self.bar.set_draw_target(ProgressDrawTarget::stderr());
        }
    }
}

impl Drop for Progress {
    fn drop(&mut self) {
        self.bar.finish_and_clear();
    }
}
