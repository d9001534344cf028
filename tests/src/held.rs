//! Points of which each has its own tolerance, in the quantity's unit.

use std::collections::BTreeSet;

use crate::points::{Measure, Points};

/// Comparisons, and those of them that went too far.
#[derive(Clone, Debug, Default)]
pub struct Held {
    /// All comparisons and skips.
    pub points: Points,
    misses: Vec<String>,
}

impl Held {
    /// Compares in the quantity's own unit; further apart than `tolerance`, or not a number, is a miss.
    pub fn within(&mut self, id: &str, quantity: &str, reference: f64, ours: f64, tolerance: f64) {
        self.points
            .compare(id, quantity, reference, ours, Measure::Absolute);
        let held = (ours - reference).abs() <= tolerance;
        if !held {
            let miss = format!("{id} {quantity}: {ours} for {reference}, allowed {tolerance}");
            self.misses.push(miss);
        }
    }

    /// Compares relative to the reference; further apart than `share` of it, or not a number, is a
    /// miss. A reference below `least` counts as `least`: there a share says nothing.
    pub fn near(
        &mut self,
        id: &str,
        quantity: &str,
        (reference, ours): (f64, f64),
        share: f64,
        least: f64,
    ) {
        let measure = Measure::RelativeAbove(least);
        self.points.compare(id, quantity, reference, ours, measure);
        let allowed = share * reference.abs().max(least);
        let held = (ours - reference).abs() <= allowed;
        if !held {
            let miss = format!("{id} {quantity}: {ours} for {reference}, allowed {allowed}");
            self.misses.push(miss);
        }
    }

    /// Prints one line `QUANTITY n median p90 worst` for each quantity, then the whole report.
    pub fn print(&self) {
        let names = self
            .points
            .compared()
            .iter()
            .map(|point| point.quantity.as_str());
        for name in names.collect::<BTreeSet<_>>() {
            let only = self.points.only(|point| point.quantity == name);
            let error = |share| only.quantile(share).unwrap_or(f64::NAN);
            let (median, p90, worst) = (error(0.5), error(0.9), error(1.0));
            let n = only.compared().len();
            println!("QUANTITY\t{name}\t{n}\t{median:.6}\t{p90:.6}\t{worst:.6}");
        }
        print!("{}", self.points.report());
    }

    /// Fails the test if a point is a miss, or if nothing was compared at all.
    ///
    /// # Panics
    /// In those two cases, naming the points.
    pub fn assert_held(&self) {
        assert!(!self.points.compared().is_empty(), "nothing was compared");
        let n = self.misses.len();
        assert!(
            n == 0,
            "{n} points out of tolerance:\n{}",
            self.misses.join("\n")
        );
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn near_values_hold() {
        let mut held = Held::default();
        held.within("row", "volts", 1.50, 1.49, 0.02);
        held.assert_held();
    }

    #[test]
    fn a_small_reference_is_held_by_the_least() {
        let mut held = Held::default();
        held.near("row", "watts", (0.0, 0.4), 0.005, 100.0);
        held.near("row", "watts", (200.0, 200.9), 0.005, 100.0);
        held.assert_held();
        assert!((held.points.compared()[0].error - 0.004).abs() < 1e-12);
    }

    #[test]
    #[should_panic(expected = "out of tolerance")]
    fn a_value_that_is_not_a_number_is_a_miss() {
        let mut held = Held::default();
        held.within("row", "volts", 1.5, f64::NAN, 10.0);
        held.assert_held();
    }

    #[test]
    #[should_panic(expected = "nothing was compared")]
    fn no_points_are_no_success() {
        Held::default().assert_held();
    }
}
