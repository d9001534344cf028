//! How far a long piece of work has come, for somebody who waits for it.

use std::fmt::Write;
use std::io::IsTerminal;
use std::time::{Duration, Instant};

use indicatif::{HumanDuration, ProgressBar, ProgressDrawTarget, ProgressState, ProgressStyle};

/// Work that is done sooner shows nothing.
const QUICK: Duration = Duration::from_secs(1);

/// Share of the work that has to be done before the time left is guessed from it.
const TELLING: f32 = 0.1;

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
        let template = format!("{{bar:30}} {{pos}} of {{len}} {what}{{left}}");
        if let Ok(style) = ProgressStyle::with_template(&template) {
            bar.set_style(style.with_key("left", write_left));
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

/// `, 4s left`, as if the rest went like all before; the last steps alone may be quick or slow ones.
fn write_left(state: &ProgressState, text: &mut dyn Write) {
    let done = state.fraction();
    if done >= TELLING {
        let left = state.elapsed().mul_f32((1.0 - done) / done);
        // What fails here is seen when the line as a whole is written.
        let _ = write!(text, ", {:#} left", HumanDuration(left));
    }
}

impl Drop for Progress {
    fn drop(&mut self) {
        self.bar.finish_and_clear();
    }
}
