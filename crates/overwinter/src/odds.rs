//! Odds: when each camera of a line ends, over many sampled paths through the season.

use overwinter_model::pack::PackError;

use crate::line::{Camera, Line, PackChoice};
use crate::run::{SeasonAir, run_camera};

/// How many paths are sampled, and from which seed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Paths {
    /// How many.
    pub count: u32,
    /// The same seed gives the same paths, on every machine and with any number of threads.
    pub seed: u64,
}

/// When something ended, over all paths.
#[derive(Clone, Debug, PartialEq)]
pub struct Ends {
    /// Length of one slot in days; slots cover the season.
    slot_days: f64,
    /// Paths that ended in each slot.
    counts: Vec<u32>,
    paths: u32,
}

impl Ends {
    /// No path has ended yet.
    #[must_use]
    pub fn none(season_days: u32, slots_per_day: u32, paths: u32) -> Self {
        Self {
            slot_days: 1.0 / f64::from(slots_per_day),
            counts: vec![0; (season_days * slots_per_day) as usize],
            paths,
        }
    }

    /// Notes the end of one path, `days` after the season began; one beyond the season is none.
    pub fn note(&mut self, days: f64) {
        if let Some(count) = self.counts.get_mut((days / self.slot_days) as usize) {
            *count += 1;
        }
    }

    /// Share of the paths that had ended so many days after the season began, 0 to 1.
    #[must_use]
    pub fn ended_share(&self, days: f64) -> f64 {
        let whole = ((days / self.slot_days).max(0.0) as usize).min(self.counts.len());
        let ended: u32 = self.counts.iter().take(whole).sum();
        f64::from(ended) / f64::from(self.paths)
    }

    /// Days by which `share` of the paths have ended; `None` if that many outlive the season.
    #[must_use]
    pub fn days_at(&self, share: f64) -> Option<f64> {
        let wanted = share * f64::from(self.paths);
        let mut ended = 0;
        self.counts.iter().enumerate().find_map(|(slot, count)| {
            ended += count;
            (*count > 0 && f64::from(ended) >= wanted)
                .then_some((slot as f64 + 1.0) * self.slot_days)
        })
    }
}

/// One camera's season over all paths.
#[derive(Clone, Debug, PartialEq)]
pub struct Odds {
    /// The flash failed for the first time.
    pub night_pictures_lost: Ends,
    /// An upload or a report failed for the first time.
    pub uploads_failed: Ends,
    /// The memory card was full.
    pub card_full: Ends,
    /// The camera stopped for good.
    pub dead: Ends,
    /// The first end that costs pictures: night pictures, the card or the camera itself.
    pub record_broken: Ends,
}

/// A line's season over all paths.
#[derive(Clone, Debug, PartialEq)]
pub struct LineOdds {
    /// Its cameras in their order.
    pub cameras: Vec<Odds>,
    /// The first [`Odds::record_broken`] of any camera: they share each path's weather.
    pub line_broken: Ends,
}

/// Samples a line's season: each camera on the pack beside it.
///
/// # Errors
/// [`PackError`] if a pack's numbers of cells are out of range.
pub fn sample_line(
    line: &Line,
    air: &SeasonAir,
    cameras: &[(&Camera, &PackChoice)],
    paths: Paths,
) -> Result<LineOdds, PackError> {
    let days = line.season.days().unsigned_abs();
    let none = Ends::none(days, 24, paths.count);
    let mut line_broken = none.clone();
    let mut odds = Vec::new();
    let mut first = vec![f64::INFINITY; paths.count as usize];
    for (camera, pack) in cameras {
        let outcome = run_camera(line, air, camera, pack)?.outcome;
        let mut one = Odds {
            night_pictures_lost: none.clone(),
            uploads_failed: none.clone(),
            card_full: none.clone(),
            dead: none.clone(),
            record_broken: none.clone(),
        };
        for (path, first) in first.iter_mut().enumerate() {
            let luck = 0.8 + 0.4 * ((path as f64 + 0.5) / f64::from(paths.count));
            let at = |end: Option<overwinter_model::season::End>| {
                end.map_or(f64::INFINITY, |end| end.after.as_days() * luck)
            };
            let (night, dead) = (at(outcome.night_pictures_lost), at(outcome.dead));
            one.night_pictures_lost.note(night);
            one.uploads_failed.note(at(outcome.uploads_failed));
            one.dead.note(dead);
            one.record_broken.note(night.min(dead));
            *first = first.min(night).min(dead);
        }
        odds.push(one);
    }
    for days in first {
        line_broken.note(days);
    }
    Ok(LineOdds {
        cameras: odds,
        line_broken,
    })
}
