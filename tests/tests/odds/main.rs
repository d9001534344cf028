//! That the odds mean what they say.
//!
//! Seeds are fixed, so a test passes for good or fails for good. Had they not been, one run of all in
//! eighteen thousand would fail in [`expect`] for nothing: each figure may be off by 5.5 standard errors,
//! which a normal one exceeds with 3.8e-8, and there are fewer than 1400 figures. Shares held by a band
//! say their own errors.

mod calibration;
mod counts;
mod dice;
mod end;
mod laws;
mod lines;
mod measuring;
mod middle;
mod truth;
mod weather;

use overwinter_model::paths::Drawn;
use overwinter_model::random::Key;

const STANDARD_ERRORS: f64 = 5.5;

/// What figures are drawn from.
const SEED: Key = Key(20_261_125);

/// Paths side by side, as the program takes them.
const LANES: usize = 16;

/// Groups of paths that are drawn from the same seed, the first paths first.
fn drawn(groups: u32) -> impl Iterator<Item = Drawn<LANES>> {
    (0..groups).map(|group| Drawn {
        key: SEED,
        paths: std::array::from_fn(|lane| group * LANES as u32 + lane as u32),
    })
}

/// Fails if a figure is further from what is expected than chance explains.
#[track_caller]
fn expect(what: &str, figure: f64, expected: f64, standard_error: f64) {
    let off = (figure - expected) / standard_error;
    assert!(
        off.abs() < STANDARD_ERRORS,
        "{what}: {figure} for {expected}, off by {off} standard errors"
    );
}

/// Sums of a sample and of its squares.
#[derive(Clone, Copy, Default)]
struct Sample {
    count: f64,
    sum: f64,
    squares: f64,
}

impl Sample {
    fn add(&mut self, value: f64) {
        self.count += 1.0;
        self.sum += value;
        self.squares += value * value;
    }

    fn of(values: impl IntoIterator<Item = f64>) -> Self {
        let mut sample = Self::default();
        values.into_iter().for_each(|value| sample.add(value));
        sample
    }

    fn mean(&self) -> f64 {
        self.sum / self.count
    }

    fn variance(&self) -> f64 {
        (self.squares - self.sum * self.mean()) / (self.count - 1.0)
    }
}
