//! What ends at a camera: along the expected path, and over sampled seasons.

use overwinter_model::Time;
use overwinter_model::season::{End, Ending, Outcome};

use crate::line::{Camera, Season};
use crate::odds::{Ends, Lost, Odds};
use crate::words::{self, What};

/// Shares of the sampled seasons that have ended at the quantiles that are told.
pub(super) const TENTH: f64 = 0.1;
/// Half of them.
pub(super) const HALF: f64 = 0.5;
/// Nine in ten.
pub(super) const NINE_TENTHS: f64 = 0.9;

/// All that ended, the first first.
#[must_use]
pub fn ends(outcome: &Outcome) -> Vec<(What, &End)> {
    let night = outcome.ends[Ending::NightPictures].as_ref();
    let uploads = outcome.ends[Ending::Uploads].as_ref();
    let all = [
        (What::NightPictures, night),
        (What::Uploads, uploads),
        (What::Card, outcome.ends[Ending::CardRoom].as_ref()),
        (What::Camera, outcome.ends[Ending::Camera].as_ref()),
    ];
    let mut ends: Vec<_> = all
        .into_iter()
        .filter_map(|(what, end)| Some((what, end?)))
        .collect();
    // A stable sort: of two at the same time the lesser stays first.
    ends.sort_by(|a, b| a.1.after.as_seconds().total_cmp(&b.1.after.as_seconds()));
    ends
}

/// When night pictures end: with the flash, or with the camera; never where there is no flash.
pub(super) fn night_end<'a>(camera: &Camera, outcome: &'a Outcome) -> Option<&'a End> {
    let end = outcome.ends[Ending::NightPictures].as_ref();
    end.or(outcome.ends[Ending::Camera].as_ref())
        .filter(|_| camera.draw.night_trigger.is_lit())
}

/// Why the first thing ends, in one phrase.
pub(super) fn first_reason(camera: &Camera, outcome: &Outcome) -> Option<String> {
    let ends = ends(outcome);
    let (what, end) = ends.first()?;
    Some(words::reason(*what, end, &camera.supply))
}

/// The last good day before a share of the seasons has ended.
pub(super) fn until(season: &Season, ends: &Ends, share: f64) -> String {
    last_day(season, ends.days_at(share))
}

/// The last good day before so many days have gone by.
#[must_use]
pub fn last_day(season: &Season, days: Option<f64>) -> String {
    match days {
        None => "season's end".to_owned(),
        Some(days) if days < 1.0 => "not one day".to_owned(),
        Some(days) => words::date(words::last_good_day(season, Time::from_days(days))),
    }
}

/// A share in whole percent: `35 %`.
#[must_use]
pub fn percent(share: f64) -> String {
    format!("{:.0} %", 100.0 * share)
}

/// When night pictures end, where there is a flash: a dead camera takes none either.
pub(super) fn night_ends<'a>(camera: &Camera, odds: &'a Odds) -> Option<&'a Ends> {
    camera
        .draw
        .night_trigger
        .is_lit()
        .then_some(&odds.lost[Lost::NightPictures])
}

/// When uploads end, where there are any: a dead camera sends none either.
pub(super) fn upload_ends<'a>(camera: &Camera, odds: &'a Odds) -> Option<&'a Ends> {
    camera.sends().then_some(&odds.lost[Lost::Uploads])
}
