//! How far a long run is, for somebody who waits at a terminal.

use std::io::IsTerminal;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::{Duration, Instant};

use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};

/// A run quicker than this shows nothing.
const QUICK: Duration = Duration::from_secs(1);

/// A bar on standard error with the time that is left: only on a terminal, and only for a run that
/// takes its time.
pub struct Progress {
    bar: ProgressBar,
    began: Instant,
    /// It is to be shown as soon as the run turns out not to be quick.
    waits: AtomicBool,
}

impl Progress {
    /// For so many steps, each one of `what`.
    #[must_use]
    pub fn new(steps: usize, what: &str) -> Self {
        // A count of things in memory fits.
        let bar = ProgressBar::with_draw_target(Some(steps as u64), ProgressDrawTarget::hidden());
        let template = format!("{{bar:30}} {{pos}} of {{len}} {what}, {{eta}} left");
        if let Ok(style) = ProgressStyle::with_template(&template) {
            bar.set_style(style);
        }
        Self {
            bar,
            began: Instant::now(),
            waits: AtomicBool::new(std::io::stderr().is_terminal()),
        }
    }

    /// One step is done; from any thread.
    pub fn step(&self) {
        self.bar.inc(1);
        if self.began.elapsed() > QUICK && self.waits.swap(false, Ordering::Relaxed) {
            self.bar.set_draw_target(ProgressDrawTarget::stderr());
        }
    }

    /// Takes the bar away.
    pub fn end(&self) {
        self.bar.finish_and_clear();
    }
}
