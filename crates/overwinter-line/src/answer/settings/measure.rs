//! What came of a camera, in the numbers by which changes are ranked.

use overwinter_model::season::{End, Ending, Outcome};

use crate::answer::compare::alive_at_end;
use crate::answer::ends::HALF;
use crate::line::{Camera, Line};
use crate::odds::{Lost, Odds};

/// What came of a camera along the expected path.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Ends {
    /// Days to its end or to the season's.
    pub(super) alive_days: f64,
    /// Days to the first loss of pictures (the flash fails, the card is full, the camera is dead)
    /// or to the season's end.
    pub(super) all_kept_days: f64,
    /// Share of the charge left at the end.
    pub(super) charge_left: f64,
}

/// What came of it.
#[must_use]
pub(super) fn ends_of(outcome: &Outcome) -> Ends {
    let followed = outcome.followed.as_days();
    let losses = [
        outcome.ends[Ending::NightPictures],
        outcome.ends[Ending::CardRoom],
    ];
    let days = |end: &End| end.after.as_days();
    Ends {
        alive_days: followed,
        all_kept_days: losses.iter().flatten().map(days).fold(followed, f64::min),
        charge_left: outcome.charge_left,
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
        Self {
            days_p50: odds.lost[Lost::Camera].days_at(HALF),
            all_kept_days_p50: odds.lost[Lost::Record].days_at(HALF),
            alive_at_end: alive_at_end(line, odds),
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

    /// What is gained over `now`: days alive, days without a loss, odds alive at the end,
    /// charge left, pictures kept.
    /// A season that is outlived counts as its own length.
    pub(super) fn gain_over(&self, now: &Self, season_days: f64) -> [f64; 5] {
        let days = |days: Option<f64>| days.unwrap_or(season_days);
        [
            days(self.days_p50) - days(now.days_p50),
            days(self.all_kept_days_p50) - days(now.all_kept_days_p50),
            self.alive_at_end - now.alive_at_end,
            self.charge_left - now.charge_left,
            self.pictures_kept - now.pictures_kept,
        ]
    }
    /// The expected path ends before the middle one of the sampled seasons.
    pub(super) fn path_ends_early(&self, season_days: f64) -> bool {
        self.days_expected < self.days_p50.unwrap_or(season_days)
    }
}
