//! What came of a camera, in the numbers by which changes are ranked.

use overwinter_model::season::Outcome;

use crate::answer::compare::alive_at_end;
use crate::answer::ends::{HALF, NINE_TENTHS, TENTH};
use crate::line::{Camera, Line};
use crate::odds::{Lost, Odds, PathEnds};

/// How a camera does over some of the sampled seasons. Days beyond the season count as its length.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Spread {
    /// Share of them in which no picture is lost.
    pub(super) whole: f64,
    /// Share of them that it outlives.
    pub(super) alive: f64,
    /// Days to the first loss of pictures: a tenth of the seasons, half and nine tenths see it by then.
    pub(super) quantiles: [f64; 3],
    /// Mean of those days.
    days: f64,
    /// Variance of their mean.
    variance: f64,
    seasons: f64,
}

impl Spread {
    /// Over these seasons.
    pub(super) fn of<'a>(paths: impl Iterator<Item = &'a PathEnds>, season_days: f64) -> Self {
        let paths: Vec<&PathEnds> = paths.collect();
        let seasons = paths.len() as f64;
        let share = |of: fn(&PathEnds) -> f64| {
            let beyond = paths.iter().filter(|ends| of(ends) >= season_days);
            beyond.count() as f64 / seasons
        };
        let mut days: Vec<f64> = paths
            .iter()
            .map(|ends| ends.record.min(season_days))
            .collect();
        days.sort_by(f64::total_cmp);
        let at = |share: f64| {
            let place = (share * seasons) as usize;
            days.get(place).copied().unwrap_or(season_days)
        };
        let mean = days.iter().sum::<f64>() / seasons;
        let squares: f64 = days.iter().map(|days| (days - mean).powi(2)).sum();
        Self {
            whole: share(|ends| ends.record),
            alive: share(|ends| ends.camera),
            quantiles: [TENTH, HALF, NINE_TENTHS].map(at),
            days: mean,
            variance: squares / seasons / seasons,
            seasons,
        }
    }

    /// Days between a tenth and nine tenths.
    pub(super) fn band(&self) -> f64 {
        let [low, _, high] = self.quantiles;
        high - low
    }

    /// Whether the chance of losing nothing, or the mean of the days, differs from that of other seasons by
    /// more than so many of its standard deviations.
    pub(super) fn differs_from(&self, other: &Self, deviations: f64) -> bool {
        let share_variance = |of: &Self| of.whole * (1.0 - of.whole) / of.seasons;
        let shares = share_variance(self) + share_variance(other);
        let days = self.variance + other.variance;
        let beyond = |apart: f64, variance: f64| apart.abs() > deviations * variance.sqrt();
        beyond(self.whole - other.whole, shares) || beyond(self.days - other.days, days)
    }
}

/// What a change gains through the same seasons, and one standard deviation of it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Gain {
    /// The mean of what is gained.
    pub(super) mean: f64,
    /// How well that is known.
    pub(super) sd: f64,
}

impl Gain {
    /// What `of` each season gains.
    fn of(now: &[PathEnds], then: &[PathEnds], of: impl Fn(&PathEnds) -> f64) -> Self {
        let seasons = now.len() as f64;
        let gains: Vec<f64> = now
            .iter()
            .zip(then)
            .map(|(now, then)| of(then) - of(now))
            .collect();
        let mean = gains.iter().sum::<f64>() / seasons;
        let squares: f64 = gains.iter().map(|gain| (gain - mean).powi(2)).sum();
        Self {
            mean,
            sd: squares.sqrt() / seasons,
        }
    }

    /// More than its sampling error, twice its standard deviation.
    fn tells(&self) -> bool {
        self.mean.abs() > 2.0 * self.sd
    }
}

/// What a change gains.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Gains {
    /// Of the chance that no picture is lost.
    pub(super) whole: Gain,
    /// Of the chance to be alive at the season's end.
    pub(super) alive: Gain,
    /// Of the days to the first loss of pictures.
    pub(super) record_days: Gain,
    /// Of the days alive.
    pub(super) alive_days: Gain,
}

impl Gains {
    /// Through the same seasons.
    pub(super) fn of(now: &[PathEnds], then: &[PathEnds], season_days: f64) -> Self {
        let lasts = |days: f64| if days >= season_days { 1.0 } else { 0.0 };
        Self {
            whole: Gain::of(now, then, |ends| lasts(ends.record)),
            alive: Gain::of(now, then, |ends| lasts(ends.camera)),
            record_days: Gain::of(now, then, |ends| ends.record.min(season_days)),
            alive_days: Gain::of(now, then, |ends| ends.camera.min(season_days)),
        }
    }

    /// Whether any of it is more than its sampling error.
    pub(super) fn tell(&self) -> bool {
        [self.whole, self.alive, self.record_days, self.alive_days]
            .iter()
            .any(Gain::tells)
    }

    /// What changes are ranked by: the chances first, then the days.
    pub(super) fn rank(&self) -> [f64; 4] {
        [self.whole, self.alive, self.record_days, self.alive_days].map(|gain| gain.mean)
    }
}

/// A camera with some settings: half of its paths do better than the days given.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Measure {
    /// Days to its end; `None` if most paths outlive the season.
    pub(super) days_p50: Option<f64>,
    /// Days to the first loss of pictures; `None` if most paths lose none in the season.
    pub(super) all_kept_days_p50: Option<f64>,
    /// Share of the seasons that it outlives, 0 to 1.
    pub(super) alive_at_end: f64,
    /// Share of the seasons in which no picture is lost.
    pub(super) whole_at_end: f64,
    /// Share of the pack's charge left at the end, the mean over the paths; of a dead camera what it
    /// died with.
    pub(super) charge_left: f64,
    /// Days to its end or to the season's, on the expected path.
    pub(super) days_expected: f64,
    /// Pictures and videos that it takes a day while it is alive, on the expected path.
    pub(super) pictures_per_day: f64,
    /// Pictures and videos of the season that were kept, on the expected path.
    pub(super) pictures_kept: f64,
}

impl Measure {
    /// Out of the expected path, and of the odds.
    pub(super) fn new(line: &Line, camera: &Camera, outcome: &Outcome, odds: &Odds) -> Self {
        let settings = &camera.settings;
        let videos = f64::from(u8::from(settings.video_s > 0.0));
        let per_trigger = f64::from(settings.shots) + videos;
        let days = outcome.followed.as_days();
        let season_days = f64::from(line.season.days());
        Self {
            days_p50: odds.lost[Lost::Camera].days_at(HALF),
            all_kept_days_p50: odds.lost[Lost::Record].days_at(HALF),
            alive_at_end: alive_at_end(line, odds),
            whole_at_end: 1.0 - odds.lost[Lost::Record].ended_share(season_days),
            charge_left: odds.mean.charge_left,
            days_expected: days,
            pictures_per_day: if days > 0.0 {
                outcome.triggers * per_trigger / days
            } else {
                0.0
            },
            pictures_kept: outcome.kept * per_trigger,
        }
    }

    /// The expected path ends before the middle one of the sampled seasons.
    pub(super) fn path_ends_early(&self, season_days: f64) -> bool {
        self.days_expected < self.days_p50.unwrap_or(season_days)
    }
}
