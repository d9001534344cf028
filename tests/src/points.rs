//! Collects what a reference test compared, prints it, and knows its quantiles.

use std::fmt::Write as _;

/// How the distance of two numbers is judged.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Measure {
    /// Relative to the reference.
    Relative,
    /// Relative to the reference, or to this where the reference is smaller.
    RelativeAbove(f64),
    /// In the quantity's own unit: voltages, angles, temperatures.
    Absolute,
}

/// One reference value beside ours.
#[derive(Clone, Debug, PartialEq)]
pub struct Point {
    /// Which row.
    pub id: String,
    /// Which quantity of it, with its unit.
    pub quantity: String,
    /// The published value.
    pub reference: f64,
    /// Ours.
    pub ours: f64,
    /// The distance, never negative: relative or in the quantity's unit.
    pub error: f64,
}

/// The points of one test.
#[derive(Clone, Debug, Default)]
pub struct Points {
    compared: Vec<Point>,
    skipped: Vec<(String, String)>,
}

impl Points {
    /// Adds a comparison.
    pub fn compare(&mut self, id: &str, quantity: &str, reference: f64, ours: f64, by: Measure) {
        let distance = (ours - reference).abs();
        let error = match by {
            Measure::Relative => distance / reference.abs(),
            Measure::RelativeAbove(least) => distance / reference.abs().max(least),
            Measure::Absolute => distance,
        };
        self.compared.push(Point {
            id: id.to_owned(),
            quantity: quantity.to_owned(),
            reference,
            ours,
            error,
        });
    }

    /// Notes a row that could not be compared, and why.
    pub fn skip(&mut self, id: &str, reason: &str) {
        self.skipped.push((id.to_owned(), reason.to_owned()));
    }

    /// What was compared.
    #[must_use]
    pub fn compared(&self) -> &[Point] {
        &self.compared
    }

    /// How many rows were skipped.
    #[must_use]
    pub fn skipped(&self) -> usize {
        self.skipped.len()
    }

    /// The points that `keep` keeps.
    #[must_use]
    pub fn only(&self, keep: impl Fn(&Point) -> bool) -> Self {
        Self {
            compared: self.compared.iter().filter(|p| keep(p)).cloned().collect(),
            skipped: Vec::new(),
        }
    }

    /// The error that `share` of the points keep below (0.5 the median, 1 the worst); a NaN
    /// counts as the worst there is. `None` without points.
    #[must_use]
    pub fn quantile(&self, share: f64) -> Option<f64> {
        let mut errors: Vec<f64> = self.compared.iter().map(|p| p.error).collect();
        errors.sort_by(f64::total_cmp);
        let last = errors.len().checked_sub(1)?;
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "a rank of a list that is in memory"
        )]
        let rank = (share * last as f64).round() as usize;
        errors.get(rank).copied()
    }

    /// One tab-separated line per point, the skips, and a last line of quantiles.
    #[must_use]
    pub fn report(&self) -> String {
        let mut text = String::new();
        for p in &self.compared {
            // Writing to a String cannot fail.
            let _ = writeln!(
                text,
                "POINT\t{}\t{}\t{:.6}\t{:.6}\t{:.6}",
                p.id, p.quantity, p.reference, p.ours, p.error
            );
        }
        for (id, reason) in &self.skipped {
            let _ = writeln!(text, "SKIP\t{id}\t{reason}");
        }
        let quantile = |share| self.quantile(share).unwrap_or(f64::NAN);
        let _ = writeln!(text, "SKIPPED\t{}", self.skipped.len());
        let _ = writeln!(
            text,
            "SUMMARY\t{}\t{:.6}\t{:.6}\t{:.6}",
            self.compared.len(),
            quantile(0.5),
            quantile(0.9),
            quantile(1.0)
        );
        text
    }
}
