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
    /// A bar of `total` steps, each of them one of `what`.
    #[must_use]
    pub fn new(total: usize, what: &str) -> Self {
        // A count of things in memory fits.
        let bar = ProgressBar::with_draw_target(Some(total as u64), ProgressDrawTarget::hidden());
        let template = format!("{{bar:30}} {{pos}} of {{len}} {what}, {{eta}} left");
        if let Ok(style) = ProgressStyle::with_template(&template) {
            bar.set_style(style);
        }
        Self {
            bar,
            began: Instant::now(),
            terminal: std::io::stderr().is_terminal(),
        }
    }

    /// So many steps more are done; from any thread.
    pub fn advance(&self, steps: usize) {
        self.bar.inc(steps as u64);
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
