//! The answer of a comparison.

use overwinter_model::season::{Cause, Ending};
use serde::Serialize;

use super::pairs::{PairDocument, pairs};
use super::{Compared, ComparedCamera, Fared, Try, alive_at_end, cost};
use crate::answer::document::{Rounded, SetDocument, WarningDocument};
use crate::answer::ends::{HALF, NINE_TENTHS, TENTH, ends, first_reason, night_end, night_ends};
use crate::answer::path::{has_panels, path_name};
use crate::answer::warnings::{self, Told};
use crate::line::{Camera, Line, Misfit, Season};
use crate::odds::{Ends, Lost, Odds};
use crate::run::CameraRun;

/// The answer.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Comparison {
    /// What a script reads.
    pub document: ComparisonDocument,
    /// What is said beyond that.
    pub details: ComparisonDetails,
}

/// A line on several kinds of cells.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ComparisonDocument {
    /// What the site is called.
    pub site: String,
    /// Length of the season.
    pub season_days: i32,
    /// What stands behind an amount.
    pub currency: String,
    /// How many seasons were sampled.
    pub paths: u32,
    /// From which seed.
    pub seed: u64,
    /// `replayed` where a file's hours are, else `expected`.
    pub path: &'static str,
    /// The cameras in their order.
    pub cameras: Vec<ComparedDocument>,
}

/// A camera on each of the cells.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ComparedDocument {
    /// Its name.
    pub name: String,
    /// The cells in the order in which they were asked for.
    pub cells: Vec<TryDocument>,
    /// Every two of them that fit: which keeps all pictures longer.
    pub pairs: Vec<PairDocument>,
}

/// A camera on one kind of cell.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct TryDocument {
    /// The set.
    #[serde(flatten)]
    pub set: SetDocument,
    /// What it costs, if that is known.
    pub cost: Option<Rounded<2>>,
    /// Its mass in grams.
    pub mass_g: Rounded<1>,
    /// Whether the camera runs on it.
    pub fits: bool,
    /// Along the path, or why it does not run.
    #[serde(flatten)]
    pub fared: FaredDocument,
    /// Over the sampled seasons.
    #[serde(flatten)]
    pub odds: TryOdds,
}

/// How a camera fares along the path, or why it does not run.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(untagged)]
pub enum FaredDocument {
    /// It runs.
    Runs(RunDocument),
    /// It does not.
    DoesNotFit {
        /// Never.
        days_expected: Option<Rounded<3>>,
        /// Why, and what was expected.
        misfit: String,
    },
}

/// A camera along the path.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct RunDocument {
    /// Days to its end or to the season's.
    pub days_expected: Rounded<3>,
    /// Whether it is alive at the season's end.
    pub outlives_season: bool,
    /// Days to the end of night pictures.
    pub night_pictures_days: Option<Rounded<3>>,
    /// Why it ends, `season-end` if it does not.
    pub end_reason: &'static str,
    /// Why the first thing ends, in words.
    pub first_end: Option<String>,
    /// Share of the charge left at the end.
    pub charge_left_fraction: Rounded<4>,
    /// Lost by lying there.
    pub self_discharge_wh: Rounded<5>,
    /// Doubts and warnings.
    pub warnings: Vec<WarningDocument>,
}

/// What the sampled seasons say; nothing where a set does not fit, or where fewer seasons have ended.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
pub struct TryOdds {
    /// Days by which a tenth of the seasons have seen the camera's end.
    pub days_p10: Option<Rounded<3>>,
    /// Half of them.
    pub days_p50: Option<Rounded<3>>,
    /// Nine tenths.
    pub days_p90: Option<Rounded<3>>,
    /// Days by which a tenth have seen the end of night pictures.
    pub night_pictures_days_p10: Option<Rounded<3>>,
    /// Half of them.
    pub night_pictures_days_p50: Option<Rounded<3>>,
    /// Share that it outlives.
    pub odds_alive_at_end: Option<Rounded<4>>,
}

/// What is said beyond the document.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ComparisonDetails {
    /// From when to when.
    pub season: Season,
    /// Where the temperatures come from.
    pub weather: String,
    /// Whether any camera has a panel.
    pub has_panels: bool,
    /// Whether any cell has a price.
    pub priced: bool,
    /// Whether any run asked its cells for more than their published points tell.
    pub beyond_points: bool,
    /// Doubts and warnings, each told once.
    pub warnings: Vec<Told>,
    /// Of each camera: whether it has a flash.
    pub lit: Vec<bool>,
    /// Of each camera on each of the cells: why the first thing fails along the path.
    pub first_causes: Vec<Vec<Option<Cause>>>,
}

impl Comparison {
    pub(super) fn of(line: &Line, compared: &Compared<'_>) -> Self {
        Self {
            document: document(line, compared),
            details: details(line, compared),
        }
    }
}

fn document(line: &Line, compared: &Compared<'_>) -> ComparisonDocument {
    let cameras = compared.cameras.iter().map(|one| ComparedDocument {
        name: one.camera.name.clone(),
        cells: one
            .tries
            .iter()
            .map(|tried| try_document(line, one.camera, tried))
            .collect(),
        pairs: pairs(one, f64::from(line.season.days())),
    });
    ComparisonDocument {
        site: line.site.clone(),
        season_days: line.season.days(),
        currency: line.prices.currency.clone(),
        paths: compared.paths.count,
        seed: compared.paths.seed,
        path: path_name(&line.climate.origin),
        cameras: cameras.collect(),
    }
}

fn try_document(line: &Line, camera: &Camera, tried: &Try) -> TryDocument {
    let pack = &tried.pack;
    let odds = tried.fared.as_ref().ok().map(|fared| &fared.odds);
    TryDocument {
        set: pack.into(),
        cost: cost(line, pack).map(Rounded),
        mass_g: Rounded(pack.cell.mass_g * f64::from(pack.count())),
        fits: tried.fared.is_ok(),
        fared: match &tried.fared {
            Ok(fared) => FaredDocument::Runs(run_document(&line.season, camera, &fared.run)),
            Err(Misfit { what, expected }) => FaredDocument::DoesNotFit {
                days_expected: None,
                misfit: format!("{what} (expected {expected})"),
            },
        },
        odds: odds.map_or_else(TryOdds::default, |odds| try_odds(line, camera, odds)),
    }
}

fn run_document(season: &Season, camera: &Camera, run: &CameraRun) -> RunDocument {
    let outcome = &run.outcome;
    let dead = outcome.ends[Ending::Camera].as_ref();
    let night = night_end(camera, outcome);
    RunDocument {
        days_expected: Rounded(outcome.followed.as_days()),
        outlives_season: dead.is_none(),
        night_pictures_days: night.map(|end| Rounded(end.after.as_days())),
        end_reason: dead.map_or("season-end", |end| end.cause.key()),
        first_end: first_reason(camera, outcome),
        charge_left_fraction: Rounded(outcome.charge_left),
        self_discharge_wh: Rounded(outcome.ledger.self_discharge.as_watt_hours()),
        warnings: warnings::documents(season, run),
    }
}

fn try_odds(line: &Line, camera: &Camera, odds: &Odds) -> TryOdds {
    let days = |ends: &Ends, share: f64| ends.days_at(share).map(Rounded);
    let night = night_ends(camera, odds);
    TryOdds {
        days_p10: days(&odds.lost[Lost::Camera], TENTH),
        days_p50: days(&odds.lost[Lost::Camera], HALF),
        days_p90: days(&odds.lost[Lost::Camera], NINE_TENTHS),
        night_pictures_days_p10: night.and_then(|ends| days(ends, TENTH)),
        night_pictures_days_p50: night.and_then(|ends| days(ends, HALF)),
        odds_alive_at_end: Some(Rounded(alive_at_end(line, odds))),
    }
}

/// Every camera on every cell that fits it.
fn runs<'a>(compared: &'a Compared<'_>) -> impl Iterator<Item = (&'a Camera, &'a CameraRun)> {
    compared.cameras.iter().flat_map(|one| {
        let tries = one.tries.iter();
        let fared = tries.filter_map(|tried| tried.fared.as_ref().ok());
        fared.map(|fared| (one.camera, &fared.run))
    })
}

fn details(line: &Line, compared: &Compared<'_>) -> ComparisonDetails {
    let first_cause = |fared: &Fared| {
        let ends = ends(&fared.run.outcome);
        ends.first().map(|(_, end)| end.cause)
    };
    let first_causes = |one: &ComparedCamera<'_>| {
        let tries = one.tries.iter();
        tries
            .map(|tried| tried.fared.as_ref().ok().and_then(first_cause))
            .collect()
    };
    ComparisonDetails {
        season: line.season,
        weather: line.climate.origin.to_string(),
        has_panels: has_panels(line),
        priced: !line.prices.per_cell.is_empty(),
        beyond_points: runs(compared).any(|(_, run)| run.doubts().next().is_some()),
        warnings: warnings::of_runs(&line.season, runs(compared)),
        lit: compared
            .cameras
            .iter()
            .map(|one| one.camera.draw.night_trigger.is_lit())
            .collect(),
        first_causes: compared.cameras.iter().map(first_causes).collect(),
    }
}
