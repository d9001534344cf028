//! What ends at a camera: along the expected path, and over sampled seasons.

use overwinter_model::season::{Cause, End, Ending, Outcome};
use overwinter_model::{Time, Voltage};

use crate::line::{Camera, Season, Supply};
use crate::odds::{Ends, Lost, Odds};
use crate::words::{self, temperature, volts};

/// Shares of the sampled seasons that have ended at the quantiles that are told.
pub(super) const TENTH: f64 = 0.1;
/// Half of them.
pub(super) const HALF: f64 = 0.5;
/// Nine in ten.
pub(super) const NINE_TENTHS: f64 = 0.9;

/// All that ended, the first first.
#[must_use]
pub fn ends(outcome: &Outcome) -> Vec<(Ending, &End)> {
    let mut ends: Vec<_> = outcome
        .ends
        .iter()
        .filter_map(|(ending, end)| Some((ending, end.as_ref()?)))
        // A store that runs empty ends nothing that the camera does.
        .filter(|(ending, _)| *ending != Ending::Store)
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

/// What a camera does of which it has come to its end: `loses its night pictures`.
#[must_use]
pub fn ended(ending: Ending) -> &'static str {
    match ending {
        Ending::NightPictures => "loses its night pictures",
        Ending::Uploads => "can no longer upload",
        Ending::CardRoom => "keeps no more pictures",
        Ending::Store => "has an empty store",
        _ => "is dead",
    }
}

/// The lowest voltage at which it goes on.
fn limit(ending: Ending, supply: &Supply) -> Voltage {
    match ending {
        Ending::NightPictures => supply.flash.max(supply.cut_off),
        Ending::Uploads => supply.upload.max(supply.cut_off),
        _ => supply.cut_off,
    }
}

/// Why something ended, for a person: `the flash pulls the pack under 8.00 V at -9.6 °C`.
#[must_use]
pub fn reason(ending: Ending, end: &End, supply: &Supply) -> String {
    let load = match end.cause {
        Cause::VoltageUnderFlash => "the flash",
        Cause::VoltageUnderUpload => "the modem",
        Cause::VoltageUnderPicture => "a picture",
        Cause::VoltageAsleep => "even the sleeping camera",
        Cause::WeakestCellEmpty => return "the weakest cell has nothing left in reach".to_owned(),
        Cause::CardFull => return "the memory card is full".to_owned(),
        Cause::StoreEmpty => return "the panel's store is empty".to_owned(),
        other => return other.key().to_owned(),
    };
    let cold = temperature(end.air);
    match end.voltage {
        Some(_) => {
            let limit = volts(limit(ending, supply));
            format!("{load} pulls the pack under {limit} at {cold}")
        }
        None => format!("{load} makes the voltage collapse at {cold}"),
    }
}

/// Why the first thing ends, in one phrase.
pub(super) fn first_reason(camera: &Camera, outcome: &Outcome) -> Option<String> {
    let ends = ends(outcome);
    let (ending, end) = ends.first()?;
    Some(reason(*ending, end, &camera.supply))
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
        Some(days) => words::date(season.last_good_day(Time::from_days(days))),
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

#[cfg(test)]
mod tests {
    use super::*;

    /// One that is new must not be told as another.
    #[test]
    fn every_ending_has_words_of_its_own() {
        let told = Ending::ALL.map(ended);
        for (at, words) in told.iter().enumerate() {
            assert!(!told[..at].contains(words), "{words}");
        }
    }
}
