//! The charge left by day, over many paths.

/// Charge left is counted in steps of a 200th.
const STEPS: usize = 200;

/// For each day of the season, how many paths had so much charge left at its end. A dead camera
/// keeps what it died with.
#[derive(Clone, Debug, PartialEq)]
pub struct ChargeFan(Vec<[u32; STEPS + 1]>);

impl ChargeFan {
    /// Nothing is counted yet.
    pub(super) fn new(days: u32) -> Self {
        Self(vec![[0; STEPS + 1]; days as usize])
    }

    /// Counts the paths of a group at the end of a day.
    #[inline(never)]
    pub(super) fn note(&mut self, day: u32, charge_left: &[f64]) {
        if let Some(counts) = self.0.get_mut(day as usize) {
            for left in charge_left {
                let step = (left.clamp(0.0, 1.0) * STEPS as f64).round() as usize;
                counts[step.min(STEPS)] += 1;
            }
        }
    }

    /// Counts the last charge of a group's paths for the days that it was not followed.
    pub(super) fn fill(&mut self, from_day: u32, charge_left: &[f64]) {
        for day in from_day..self.0.len() as u32 {
            self.note(day, charge_left);
        }
    }

    pub(super) fn add(&mut self, other: &Self) {
        for (counts, more) in self.0.iter_mut().zip(&other.0) {
            for (count, more) in counts.iter_mut().zip(more) {
                *count += more;
            }
        }
    }

    /// The charge left at the end of a day that `share` of the paths stay under or at, 0 to 1, to a
    /// 200th.
    #[must_use]
    pub fn at(&self, day: usize, share: f64) -> Option<f64> {
        let counts = self.0.get(day)?;
        let paths: u32 = counts.iter().sum();
        let wanted = share * f64::from(paths);
        let mut seen = 0;
        let step = counts.iter().position(|count| {
            seen += count;
            *count > 0 && f64::from(seen) >= wanted
        })?;
        Some(step as f64 / STEPS as f64)
    }
}
