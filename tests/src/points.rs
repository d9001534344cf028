//! Compares values with a reference, prints each comparison, and sums them up.
//!
//! ```text
//! POINT       id  quantity  reference  ours  error
//! SKIP        id  reason
//! QUANTITY    quantity  n  median  p90  worst
//! SKIPPED     count
//! SUMMARY     n  median  p90  worst
//! ```
//!
//! separated by tabs, the summary last. An error is relative, or in the quantity's own unit for
//! voltages, angles, times and temperatures; the test chooses.

use std::collections::BTreeMap;

/// Collects comparisons and prints them as they come.
#[derive(Debug, Default)]
pub struct Points {
    /// Sizes of the errors, by quantity.
    errors: BTreeMap<String, Vec<f64>>,
    skipped: usize,
    misses: Vec<String>,
}

/// How large a set of errors is.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Spread {
    /// How many there are.
    pub n: usize,
    /// Half of them are no larger.
    pub median: f64,
    /// Nine in ten are no larger.
    pub p90: f64,
    /// The largest.
    pub worst: f64,
}

/// What [`Points`] came to.
#[derive(Clone, Debug, PartialEq)]
pub struct Summary {
    /// All errors together.
    pub all: Spread,
    /// The errors of each quantity.
    pub by_quantity: BTreeMap<String, Spread>,
    /// Rows that the program cannot represent.
    pub skipped: usize,
    /// The points beyond their tolerance, in words.
    pub misses: Vec<String>,
}

impl Points {
    /// Nothing compared yet.
    #[must_use]
    pub fn new() -> Self {
        Self::default()
    }

    /// Compares by the difference, in the quantity's own unit; gives the error back.
    pub fn absolute(&mut self, id: &str, quantity: &str, reference: f64, ours: f64) -> f64 {
        self.record(id, quantity, reference, ours, ours - reference)
    }

    /// Compares by the difference over the reference; gives the error back.
    pub fn relative(&mut self, id: &str, quantity: &str, reference: f64, ours: f64) -> f64 {
        let error = (ours - reference) / reference;
        self.record(id, quantity, reference, ours, error)
    }

    /// Notes an error that the last comparison must not exceed; a value that is not a number does.
    pub fn hold(&mut self, id: &str, quantity: &str, error: f64, tolerance: f64) {
        let held = error.abs() <= tolerance;
        if !held {
            self.misses.push(format!(
                "{id} {quantity}: off by {error:.6}, allowed {tolerance}"
            ));
        }
    }

    /// A row that the program cannot represent.
    pub fn skip(&mut self, id: &str, reason: &str) {
        println!("SKIP\t{id}\t{reason}");
        self.skipped += 1;
    }

    fn record(&mut self, id: &str, quantity: &str, reference: f64, ours: f64, error: f64) -> f64 {
        println!("POINT\t{id}\t{quantity}\t{reference}\t{ours:.6}\t{error:.6}");
        self.errors
            .entry(quantity.to_owned())
            .or_default()
            .push(error.abs());
        error
    }

    /// Prints the sums and gives them back.
    #[must_use]
    pub fn finish(self) -> Summary {
        let mut all = Vec::new();
        let mut by_quantity = BTreeMap::new();
        for (quantity, errors) in self.errors {
            all.extend_from_slice(&errors);
            let spread = Spread::of(errors);
            println!("QUANTITY\t{quantity}\t{spread}");
            by_quantity.insert(quantity, spread);
        }
        let all = Spread::of(all);
        println!("SKIPPED\t{}\nSUMMARY\t{all}", self.skipped);
        Summary {
            all,
            by_quantity,
            skipped: self.skipped,
            misses: self.misses,
        }
    }
}

impl Summary {
    /// Fails the test if a point went beyond its tolerance, or if nothing was compared at all.
    ///
    /// # Panics
    /// In those two cases, naming the points.
    pub fn assert_held(&self) {
        assert!(self.all.n > 0, "no table was found, so nothing was checked");
        let n = self.misses.len();
        assert!(
            n == 0,
            "{n} points beyond tolerance:\n{}",
            self.misses.join("\n")
        );
    }
}

impl Spread {
    /// Of the sizes of some errors; what is not a number counts as the largest.
    fn of(mut sizes: Vec<f64>) -> Self {
        sizes.sort_by(f64::total_cmp);
        // The smallest size that at least this part of all do not exceed.
        let quantile = |part: f64| {
            let rank = (part * sizes.len() as f64).ceil() as usize;
            sizes.get(rank.max(1) - 1).copied().unwrap_or(0.0)
        };
        Self {
            n: sizes.len(),
            median: quantile(0.5),
            p90: quantile(0.9),
            worst: quantile(1.0),
        }
    }
}

impl std::fmt::Display for Spread {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let Self {
            n,
            median,
            p90,
            worst,
        } = self;
        write!(f, "{n}\t{median:.6}\t{p90:.6}\t{worst:.6}")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_summary_counts_sizes_and_misses() {
        let mut points = Points::new();
        for size in 1..=10 {
            let ours = 100.0 - f64::from(size);
            let error = points.relative("row", "hours", 100.0, ours);
            points.hold("row", "hours", error, 0.095);
        }
        points.skip("other", "no such cell");
        let summary = points.finish();
        assert_eq!(
            (summary.all.n, summary.skipped, summary.misses.len()),
            (10, 1, 1)
        );
        assert!((summary.all.median - 0.05).abs() < 1e-12);
        assert!((summary.all.p90 - 0.09).abs() < 1e-12);
        assert!((summary.all.worst - 0.10).abs() < 1e-12);
    }

    #[test]
    #[should_panic(expected = "beyond tolerance")]
    fn a_value_that_is_not_a_number_is_a_miss() {
        let mut points = Points::new();
        let error = points.absolute("row", "volts", 1.5, f64::NAN);
        points.hold("row", "volts", error, 10.0);
        points.finish().assert_held();
    }
}
