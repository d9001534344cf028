//! How far a long piece of work has come, for somebody who waits for it.

use std::fmt::Write;
use std::io::IsTerminal;
use std::sync::{Mutex, PoisonError};
use std::time::{Duration, Instant};

use indicatif::{HumanDuration, ProgressBar, ProgressDrawTarget, ProgressState, ProgressStyle};
use overwinter_line::host::Watch;

/// Work that is done sooner shows nothing.
const QUICK: Duration = Duration::from_secs(1);

/// Share of the work that has to be done before the time left is guessed from it.
const TELLING: f32 = 0.1;

/// A bar on standard error that shows itself only on a terminal, and only where the work takes
/// longer than a second. It goes away when the work is over.
pub(super) struct Progress {
    bar: Mutex<Option<Bar>>,
}

struct Bar {
    bar: ProgressBar,
    began: Instant,
}

impl Progress {
    pub(super) const fn new() -> Self {
        Self {
            bar: Mutex::new(None),
        }
    }

    fn put(&self, bar: Option<Bar>) {
        let mut shown = self.bar.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(before) = shown.take() {
            before.bar.finish_and_clear();
        }
        *shown = bar;
    }
}

impl Watch for Progress {
    fn begin(&self, steps: Option<usize>, what: &str) {
        // Standard error that is no terminal never shows a bar.
        if !std::io::stderr().is_terminal() {
            return;
        }
        // A count of things in memory fits.
        let steps = steps.map(|steps| steps as u64);
        let template = match steps {
            Some(_) => format!("{{bar:30}} {{pos}} of {{len}} {what}{{left}}"),
            None => format!("{{spinner}} {{pos}} {what}, {{elapsed}}"),
        };
        let bar = ProgressBar::with_draw_target(steps, ProgressDrawTarget::hidden());
        if let Ok(style) = ProgressStyle::with_template(&template) {
            bar.set_style(style.with_key("left", write_left));
        }
        let began = Instant::now();
        self.put(Some(Bar { bar, began }));
    }

    fn advance(&self, steps: usize) {
        let shown = self.bar.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(Bar { bar, began }) = &*shown {
            bar.inc(steps as u64);
            if bar.is_hidden() && began.elapsed() > QUICK {
                bar.set_draw_target(ProgressDrawTarget::stderr());
            }
        }
    }

    fn end(&self) {
        self.put(None);
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
