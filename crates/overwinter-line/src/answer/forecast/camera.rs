//! One camera of a forecast.

use overwinter_model::Time;
use overwinter_model::season::{End, Ending, Outcome};
use serde::Serialize;

use super::odds::CameraOdds;
use super::panel::PanelDocument;
use crate::answer::budget::Budget;
use crate::answer::document::{IsoDate, Rounded, SetDocument, WarningDocument};
use crate::answer::ends::{first_reason, night_end};
use crate::answer::figures::{self, FigureDocument};
use crate::answer::warnings;
use crate::line::{Camera, Line, Supply};
use crate::run::CameraRun;
use crate::weak_store;

/// What a camera does along the path, and over sampled seasons if they were asked for.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct CameraDocument {
    /// Its name.
    pub name: String,
    /// What it can do.
    pub kind: &'static str,
    /// Its cells.
    #[serde(flatten)]
    pub set: SetDocument,
    /// Days to its end or to the season's.
    pub days_expected: Rounded<3>,
    /// Whether it is alive at the season's end.
    pub outlives_season: bool,
    /// When it loses its night pictures, at the latest with the camera.
    pub night_pictures_lost_on: Option<IsoDate>,
    /// Days to that.
    pub night_pictures_days: Option<Rounded<3>>,
    /// Why.
    pub night_pictures_reason: Option<&'static str>,
    /// Share of the charge left then.
    pub charge_left_at_night_pictures_lost: Option<Rounded<4>>,
    /// When uploads fail.
    pub uploads_failed_on: Option<IsoDate>,
    /// When the card is full.
    pub card_full_on: Option<IsoDate>,
    /// When it is dead.
    pub dead_on: Option<IsoDate>,
    /// Why it ends, `season-end` if it does not.
    pub end_reason: &'static str,
    /// Why the first thing ends, in words.
    pub first_end: Option<String>,
    /// Share of the charge left at the end.
    pub charge_left_fraction: Rounded<4>,
    /// Triggers answered.
    pub triggers: Rounded<1>,
    /// Of them those that found too dim a flash.
    pub triggers_without_flash: Rounded<1>,
    /// Watt-hours in the cells, and in a store, at the start.
    pub energy_wh: Rounded<3>,
    /// Its panel and what that brought.
    pub panel: Option<PanelDocument>,
    /// What the energy went for, watt-hours.
    pub budget_wh: Budget,
    /// The figures that it rests on.
    pub assumed: Vec<FigureDocument>,
    /// Doubts and warnings.
    pub warnings: Vec<WarningDocument>,
    /// What the sampled seasons say.
    #[serde(flatten)]
    pub odds: Option<CameraOdds>,
}

/// What is said of a camera beyond its document.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct CameraDetails {
    /// What became of it along the path.
    pub outcome: Outcome,
    /// Its battery input.
    pub supply: Supply,
    /// Whether it has a flash.
    pub lit: bool,
    /// Whether it sends anything.
    pub sends: bool,
    /// Whether room on its card is counted.
    pub counts_card: bool,
    /// What is to be minded of a store that is weak in frost.
    pub weak_store: Option<String>,
}

impl CameraDetails {
    pub(super) fn of(line: &Line, camera: &Camera, run: &CameraRun) -> Self {
        Self {
            outcome: run.outcome,
            supply: camera.supply,
            lit: camera.draw.night_trigger.is_lit(),
            sends: camera.sends(),
            counts_card: camera.draw.card.is_some(),
            weak_store: weak_store::caution(line, camera),
        }
    }

    /// When night pictures end: with the flash, or with the camera; never where there is no flash.
    #[must_use]
    pub fn night_end(&self) -> Option<&End> {
        let end = self.outcome.ends[Ending::NightPictures].as_ref();
        end.or(self.outcome.ends[Ending::Camera].as_ref())
            .filter(|_| self.lit)
    }

    /// What is in the cells at the start and what came from a panel, watt-hours.
    #[must_use]
    pub fn came_wh(&self) -> f64 {
        let ledger = &self.outcome.ledger;
        (ledger.put_in + ledger.panel.stored()).as_watt_hours()
    }
}

/// A camera's document.
pub(super) fn document(
    line: &Line,
    camera: &Camera,
    run: &CameraRun,
    odds: Option<CameraOdds>,
) -> CameraDocument {
    let outcome = &run.outcome;
    let on = |end: Option<&End>| end.map(|end| IsoDate(line.season.date(end.after)));
    let days = |after: Time| Rounded(after.as_days());
    let reason = |end: Option<&End>| end.map(|end| end.cause.key());
    let night = night_end(camera, outcome);
    let dead = outcome.ends[Ending::Camera].as_ref();
    CameraDocument {
        name: camera.name.clone(),
        kind: camera.kind.name(),
        set: (&run.pack).into(),
        days_expected: days(outcome.followed),
        outlives_season: dead.is_none(),
        night_pictures_lost_on: on(night),
        night_pictures_days: night.map(|end| days(end.after)),
        night_pictures_reason: reason(night),
        charge_left_at_night_pictures_lost: night.map(|end| Rounded(end.charge_left)),
        uploads_failed_on: on(outcome.ends[Ending::Uploads].as_ref()),
        card_full_on: on(outcome.ends[Ending::CardRoom].as_ref()),
        dead_on: on(dead),
        end_reason: reason(dead).unwrap_or("season-end"),
        first_end: first_reason(camera, outcome),
        charge_left_fraction: Rounded(outcome.charge_left),
        triggers: Rounded(outcome.triggers),
        triggers_without_flash: Rounded(outcome.dark_triggers),
        energy_wh: Rounded(outcome.ledger.put_in.as_watt_hours()),
        panel: PanelDocument::of(camera, run),
        budget_wh: Budget::of(&outcome.ledger),
        assumed: figures::documents(camera),
        warnings: warnings::documents(&line.season, run),
        odds,
    }
}
