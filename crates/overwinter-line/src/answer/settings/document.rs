//! The answer: what each setting gains, and which unknown matters.

use overwinter_model::season::Ending;
use serde::{Serialize, Serializer};

use super::candidates::{Change, FALSE_TRIGGERS, NewValue};
use super::measure::{Gains, Measure};
use super::unknowns::{self, Telling};
use super::{Trial, Tried};
use crate::answer::budget::Budget;
use crate::answer::document::{Rounded, SetDocument};
use crate::answer::path::{has_panels, path_name};
use crate::line::{Camera, Line, Season};
use crate::odds::Paths;

/// The answer.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SettingsAnswer {
    /// What a script reads.
    pub document: SettingsDocument,
    /// What is said beyond that.
    pub details: SettingsDetails,
}

/// What uses the charge, the changes of each camera, and what is not known.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SettingsDocument {
    /// What the site is called.
    pub site: String,
    /// Length of the season.
    pub season_days: i32,
    /// `replayed` where a file's hours are, else `expected`.
    pub path: &'static str,
    /// How many seasons were sampled.
    pub paths: u32,
    /// From which seed.
    pub seed: u64,
    /// The cameras in their order.
    pub cameras: Vec<CameraSettings>,
}

/// One camera with every change that was tried of it.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct CameraSettings {
    /// Its name.
    pub name: String,
    /// Its cells' name.
    pub cell: String,
    /// Watt-hours in the cells, and in a store, at the start.
    pub energy_wh: Rounded<3>,
    /// What its panel stored, if it has one.
    pub panel_stored_wh: Option<Rounded<3>>,
    /// What the energy went for, watt-hours.
    pub budget_wh: Budget,
    /// How it does as it is set now.
    pub now: MeasureDocument,
    /// The changes, the best first.
    pub settings: Vec<TrialDocument>,
    /// What is not known about it, that which matters most first.
    pub unknowns: Vec<UnknownDocument>,
}

/// How a camera does.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct MeasureDocument {
    /// Days to its end; none if most seasons are outlived.
    pub days_p50: Option<Rounded<3>>,
    /// Days to the first loss of pictures; none if most seasons see none.
    pub all_kept_days_p50: Option<Rounded<3>>,
    /// Share of the seasons in which no picture is lost.
    pub odds_record_whole_at_end: Rounded<4>,
    /// Share of the seasons that it outlives.
    pub odds_alive_at_end: Rounded<4>,
    /// Share of the charge left at the end, mean.
    pub mean_charge_left_fraction: Rounded<4>,
    /// Days to its end or to the season's, on the expected path.
    pub days_expected: Rounded<3>,
    /// Pictures and videos a day while it is alive.
    pub pictures_per_day: Rounded<3>,
    /// Pictures and videos that were kept; none where that would mislead.
    pub pictures_kept: Option<Rounded<1>>,
}

/// A change and what comes of it.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct TrialDocument {
    /// The key of the line file that is changed.
    pub key: &'static str,
    /// Its value now.
    pub from: SettingValue,
    /// The one that was tried.
    pub to: SettingValue,
    /// Whether any of the gains is more than its sampling error.
    pub moves_result: bool,
    /// Of the chance that no picture is lost, through the same seasons.
    pub odds_record_whole_gained: Rounded<4>,
    /// One standard deviation of that.
    pub odds_record_whole_gained_sd: Rounded<4>,
    /// Of the chance to be alive at the end.
    pub odds_alive_at_end_gained: Rounded<4>,
    /// Of the days to the first loss of pictures, those beyond the season not counted; mean.
    pub all_kept_days_gained: Rounded<3>,
    /// One standard deviation of that.
    pub all_kept_days_gained_sd: Rounded<3>,
    /// Of the days alive.
    pub days_gained: Rounded<3>,
    /// Pictures gained; none where that would mislead.
    pub pictures_kept_gained: Option<Rounded<1>>,
    /// Its place among the changes by pictures kept; none where that would mislead.
    pub place_by_pictures: Option<usize>,
    /// How the camera does with it.
    #[serde(flatten)]
    pub measure: MeasureDocument,
    /// Another key that has to be changed too, if there is one.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub with: Option<AlsoChanged>,
}

/// A key that is multiplied.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct AlsoChanged {
    /// The key.
    pub key: &'static str,
    /// By how much.
    pub times: Rounded<9>,
}

/// A value of a setting.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum SettingValue {
    /// Any number.
    Number(f64),
    /// A share, which takes more digits.
    Share(f64),
    /// A word.
    Name(&'static str),
}

impl Serialize for SettingValue {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        match self {
            Self::Number(number) => Rounded::<6>(*number).serialize(serializer),
            Self::Share(share) => Rounded::<9>(*share).serialize(serializer),
            Self::Name(name) => serializer.serialize_str(name),
        }
    }
}

/// Something that is not known beforehand and moves the result, and how the camera does in the fifth of the
/// seasons where it is lowest and where it is highest.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct UnknownDocument {
    /// A key of the line file where there is one.
    pub unknown: &'static str,
    /// What it is.
    pub what: String,
    /// Its middle value in the lowest fifth, in words.
    pub low: String,
    /// In the highest fifth.
    pub high: String,
    /// Share of the seasons in which nothing is lost.
    pub odds_record_whole_low: Rounded<4>,
    /// The same in the highest fifth.
    pub odds_record_whole_high: Rounded<4>,
    /// Share of the seasons that the camera outlives.
    pub odds_alive_at_end_low: Rounded<4>,
    /// The same in the highest fifth.
    pub odds_alive_at_end_high: Rounded<4>,
    /// Days to the first loss of pictures or to the season's end, middle season.
    pub all_kept_days_p50_low: Rounded<3>,
    /// The same in the highest fifth.
    pub all_kept_days_p50_high: Rounded<3>,
    /// What the days from p10 to p90 of the first loss would narrow to if it were known, over what they are.
    pub band_if_known_fraction: Rounded<3>,
    /// How to find out; none where nobody can before the season.
    pub measure: Option<&'static str>,
}

/// What is said beyond the document.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SettingsDetails {
    /// From when to when.
    pub season: Season,
    /// Where the temperatures come from.
    pub weather: String,
    /// Whether any camera has a panel.
    pub has_panels: bool,
    /// The cameras in their order.
    pub cameras: Vec<CameraSettingsDetails>,
}

/// What is said of a camera beyond its document.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct CameraSettingsDetails {
    /// Its cells.
    pub set: SetDocument,
    /// Whether it is alive at the end of the expected path.
    pub outlives: bool,
    /// What was in the cells at the start and came from a panel, watt-hours.
    pub came_wh: f64,
    /// Each change in words: the key, from and to.
    pub changes: Vec<[String; 3]>,
}

impl SettingsAnswer {
    pub(super) fn of(line: &Line, tried: &[Tried<'_>], paths: Paths) -> Self {
        Self {
            document: SettingsDocument {
                site: line.site.clone(),
                season_days: line.season.days(),
                path: path_name(&line.climate.origin),
                paths: paths.count,
                seed: paths.seed,
                cameras: tried.iter().map(camera_document).collect(),
            },
            details: SettingsDetails {
                season: line.season,
                weather: line.climate.origin.to_string(),
                has_panels: has_panels(line),
                cameras: tried.iter().map(camera_details).collect(),
            },
        }
    }
}

fn camera_document(one: &Tried<'_>) -> CameraSettings {
    let ledger = &one.run.outcome.ledger;
    let panel = one.camera.panel.as_ref();
    CameraSettings {
        name: one.camera.name.clone(),
        cell: one.run.pack.cell.name.clone(),
        energy_wh: Rounded(ledger.put_in.as_watt_hours()),
        panel_stored_wh: panel.map(|_| Rounded(ledger.panel.stored().as_watt_hours())),
        budget_wh: Budget::of(ledger),
        now: measure_document(one, &one.now),
        settings: one
            .trials
            .iter()
            .map(|trial| trial_document(one, trial))
            .collect(),
        unknowns: one
            .unknowns
            .iter()
            .map(|telling| unknown_document(one.camera, telling))
            .collect(),
    }
}

fn measure_document(one: &Tried<'_>, measure: &Measure) -> MeasureDocument {
    MeasureDocument {
        days_p50: measure.days_p50.map(Rounded),
        all_kept_days_p50: measure.all_kept_days_p50.map(Rounded),
        odds_record_whole_at_end: Rounded(measure.whole_at_end),
        odds_alive_at_end: Rounded(measure.alive_at_end),
        mean_charge_left_fraction: Rounded(measure.charge_left),
        days_expected: Rounded(measure.days_expected),
        pictures_per_day: Rounded(measure.pictures_per_day),
        pictures_kept: one.pictures_tell.then_some(Rounded(measure.pictures_kept)),
    }
}

fn trial_document(one: &Tried<'_>, trial: &Trial) -> TrialDocument {
    let (key, from, to) = changed(one.camera, &trial.change);
    let Gains {
        whole,
        alive,
        record_days,
        alive_days,
    } = trial.gains;
    TrialDocument {
        key,
        from,
        to,
        moves_result: trial.gains.tell(),
        odds_record_whole_gained: Rounded(whole.mean),
        odds_record_whole_gained_sd: Rounded(whole.sd),
        odds_alive_at_end_gained: Rounded(alive.mean),
        all_kept_days_gained: Rounded(record_days.mean),
        all_kept_days_gained_sd: Rounded(record_days.sd),
        days_gained: Rounded(alive_days.mean),
        pictures_kept_gained: one.pictures_tell.then_some(Rounded(trial.pictures_gained)),
        place_by_pictures: one.pictures_tell.then_some(trial.place_by_pictures),
        measure: measure_document(one, &trial.measure),
        with: (trial.change.key == FALSE_TRIGGERS).then(|| {
            // With a smaller share of as many triggers, more animals would pass.
            let [before, after] = [one.camera, &trial.change.camera].map(rate);
            AlsoChanged {
                key: "triggers_per_day",
                times: Rounded(after / before),
            }
        }),
    }
}

/// The key of the line file that is changed, and its values.
fn changed(camera: &Camera, change: &Change) -> (&'static str, SettingValue, SettingValue) {
    if change.key != FALSE_TRIGGERS {
        return (change.key, (&change.from).into(), (&change.to).into());
    }
    let share = |camera: &Camera| SettingValue::Share(camera.activity.counts().false_share);
    ("false_share", share(camera), share(&change.camera))
}

/// Triggers a day, summed over the months.
fn rate(camera: &Camera) -> f64 {
    camera.activity.triggers_per_day().iter().sum()
}

impl From<&NewValue> for SettingValue {
    fn from(value: &NewValue) -> Self {
        match value {
            NewValue::Number(number) => Self::Number(*number),
            NewValue::Name(name) => Self::Name(name),
        }
    }
}

fn unknown_document(camera: &Camera, telling: &Telling) -> UnknownDocument {
    let unknown = telling.unknown;
    let [low, high] = &telling.sides;
    let [low_value, high_value] = telling.values.map(|value| unknowns::value(unknown, value));
    let [[_, low_days, _], [_, high_days, _]] = [low.quantiles, high.quantiles];
    UnknownDocument {
        unknown: unknowns::key(unknown),
        what: unknowns::name(camera, unknown),
        low: low_value,
        high: high_value,
        odds_record_whole_low: Rounded(low.whole),
        odds_record_whole_high: Rounded(high.whole),
        odds_alive_at_end_low: Rounded(low.alive),
        odds_alive_at_end_high: Rounded(high.alive),
        all_kept_days_p50_low: Rounded(low_days),
        all_kept_days_p50_high: Rounded(high_days),
        band_if_known_fraction: Rounded(telling.narrows_to),
        measure: unknowns::how_to_measure(unknown),
    }
}

fn camera_details(one: &Tried<'_>) -> CameraSettingsDetails {
    let outcome = &one.run.outcome;
    let ledger = &outcome.ledger;
    let changes = one.trials.iter().map(|trial| {
        let Change { key, from, to, .. } = &trial.change;
        [(*key).to_owned(), from.to_string(), to.to_string()]
    });
    CameraSettingsDetails {
        set: (&one.run.pack).into(),
        outlives: outcome.ends[Ending::Camera].is_none(),
        came_wh: (ledger.put_in + ledger.panel.stored()).as_watt_hours(),
        changes: changes.collect(),
    }
}
