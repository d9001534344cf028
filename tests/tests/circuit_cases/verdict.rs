//! The points compared so far, and those that are further off than they may be.

use overwinter_tests::points::{Measure, Points};

/// Collects comparisons and judges them.
#[derive(Debug, Default)]
pub(crate) struct Verdict {
    /// Everything compared.
    pub(crate) points: Points,
    /// One line for each comparison out of tolerance.
    pub(crate) failures: Vec<String>,
}

impl Verdict {
    /// Compares relative to the reference.
    pub(crate) fn relative(
        &mut self,
        case: &str,
        quantity: &str,
        reference: f64,
        ours: f64,
        allowed: f64,
    ) {
        self.points
            .compare(case, quantity, reference, ours, Measure::Relative);
        self.judge(case, quantity, reference, ours, allowed * reference.abs());
    }

    /// Compares in the quantity's own unit.
    pub(crate) fn absolute(
        &mut self,
        case: &str,
        quantity: &str,
        reference: f64,
        ours: f64,
        allowed: f64,
    ) {
        self.points
            .compare(case, quantity, reference, ours, Measure::Absolute);
        self.judge(case, quantity, reference, ours, allowed);
    }

    /// Compares words.
    pub(crate) fn same(&mut self, case: &str, quantity: &str, reference: &str, ours: &str) {
        if reference != ours {
            self.failures
                .push(format!("{case}: {quantity} {ours}, should be {reference}"));
        }
    }

    fn judge(&mut self, case: &str, quantity: &str, reference: f64, ours: f64, allowed: f64) {
        let off = (ours - reference).abs();
        // A NaN is no distance, and so not within one.
        if off.is_nan() || off > allowed {
            self.failures.push(format!(
                "{case}: {quantity} {ours}, should be {reference} within {allowed}"
            ));
        }
    }
}
