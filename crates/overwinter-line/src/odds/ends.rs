//! When something ended, over many paths.

use serde::Serialize;

/// Ends are counted by the hour.
const SLOTS_PER_DAY: u32 = 24;

/// When something ended, over all paths, while they are followed: a count for each hour of the season.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct EndCounts {
    counts: Vec<u32>,
    paths: u32,
}

impl EndCounts {
    /// None of so many paths has ended yet, in a season of so many days.
    pub(crate) fn none(season_days: u32, paths: u32) -> Self {
        Self {
            counts: vec![0; (season_days * SLOTS_PER_DAY) as usize],
            paths,
        }
    }

    /// Notes the end of one path, so many days after the season began; one beyond it is none.
    pub(crate) fn note(&mut self, days: f64) {
        let slot = (days * f64::from(SLOTS_PER_DAY)) as usize;
        if let Some(count) = self.counts.get_mut(slot) {
            *count += 1;
        }
    }

    /// Adds the counts of other paths.
    pub(super) fn add(&mut self, other: &Self) {
        for (count, more) in self.counts.iter_mut().zip(&other.counts) {
            *count += more;
        }
    }

    /// What is kept of them when all paths have been followed.
    pub(crate) fn finished(&self) -> Ends {
        let mut ended = 0;
        let hours = (0_u32..).zip(&self.counts);
        let steps = hours.filter(|(_, count)| **count > 0);
        Ends {
            steps: steps
                .map(|(slot, count)| {
                    ended += count;
                    (slot, ended)
                })
                .collect(),
            paths: self.paths,
        }
    }
}

/// When something ended, over all paths: in room that grows with how many hours saw an end.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Ends {
    /// Hours of the season in which paths ended, with how many had ended when they were over.
    steps: Box<[(u32, u32)]>,
    paths: u32,
}

impl Ends {
    /// How many paths, ended or not.
    #[must_use]
    pub fn paths(&self) -> u32 {
        self.paths
    }

    /// Share of the paths that had ended so many days after the season began, 0 to 1.
    #[must_use]
    pub fn ended_share(&self, days: f64) -> f64 {
        let begun = (days.max(0.0) * f64::from(SLOTS_PER_DAY)).ceil();
        let before = self
            .steps
            .partition_point(|(slot, _)| f64::from(*slot) < begun);
        let last = before.checked_sub(1).and_then(|last| self.steps.get(last));
        let ended = last.map_or(0, |(_, ended)| *ended);
        f64::from(ended) / f64::from(self.paths)
    }

    /// Days at which more than `share` of the paths have ended, to the hour before; `None` if no more
    /// than that end within the season.
    #[must_use]
    pub fn days_at(&self, share: f64) -> Option<f64> {
        let wanted = share * f64::from(self.paths);
        let enough = |(_, ended): &&(u32, u32)| f64::from(*ended) > wanted + 1e-9;
        let (slot, _) = self.steps.iter().find(enough)?;
        Some(f64::from(*slot) / f64::from(SLOTS_PER_DAY))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn shares_and_days_belong_together() {
        let mut counts = EndCounts::none(10, 4);
        for days in [1.5, 2.0, 2.0, f64::INFINITY] {
            counts.note(days);
        }
        let ends = counts.finished();
        assert_eq!(ends.days_at(0.2), Some(1.5));
        assert_eq!(ends.days_at(0.25), Some(2.0));
        assert_eq!(ends.days_at(0.5), Some(2.0));
        assert_eq!(ends.days_at(0.75), None);
        for (days, share) in [(1.5, 0.0), (1.6, 0.25), (2.1, 0.75), (10.0, 0.75)] {
            assert!((ends.ended_share(days) - share).abs() < 1e-12, "{days}");
        }
    }
}
