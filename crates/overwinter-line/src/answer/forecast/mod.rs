//! `forecast`: how long each camera runs and takes night pictures, along the expected path and over sampled seasons.

mod camera;
mod course;
mod odds;
mod panel;

use serde::Serialize;
use time::Date;

pub use camera::{CameraDetails, CameraDocument};
pub use course::{CameraCourse, Course, SampledCourse};
pub use odds::{CameraOdds, OddsBy, Quantiles};
pub use panel::PanelDocument;

use super::document::Rounded;
use super::figures::{self, FigureRow, SignalRow};
use super::path::path_name;
use super::refused;
use super::request::LineRequest;
use super::warnings::{self, Told};
use crate::host::Host;
use crate::line::{Line, Season};
use crate::odds::{self as sampling, Kept, LineOdds, Paths, parts};
use crate::problem::Failure;
use crate::run::{CameraRun, SeasonAir, run_camera};

/// What is asked for.
#[derive(Clone, Debug, PartialEq)]
pub struct ForecastRequest {
    /// The line.
    pub line: LineRequest,
    /// Which seasons are sampled; the path alone if none are.
    pub paths: Option<Paths>,
    /// Days at whose end the odds are wanted, within the season.
    pub by: Vec<Date>,
    /// The season by its days is wanted too, of so many cameras at the most.
    pub course: Option<usize>,
}

/// The answer.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Forecast {
    /// What a script reads.
    pub document: ForecastDocument,
    /// What is said beyond that.
    pub details: ForecastDetails,
    /// The season by its days, if it was asked for.
    pub course: Option<Course>,
}

/// How long each camera runs, and why.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ForecastDocument {
    /// How many seasons were sampled.
    pub paths: Option<u32>,
    /// From which seed.
    pub seed: Option<u64>,
    /// What the site is called.
    pub site: String,
    /// From when to when.
    pub season: Season,
    /// Where the temperatures come from.
    pub weather: String,
    /// `replayed` where a file's hours are, else `expected`.
    pub path: &'static str,
    /// The cameras in their order.
    pub cameras: Vec<CameraDocument>,
    /// How much was followed.
    pub simulated_camera_years: Rounded<6>,
}

impl ForecastDocument {
    /// Whether a file's hours are replayed.
    #[must_use]
    pub fn replayed(&self) -> bool {
        self.path == "replayed"
    }

    /// Whether any camera has a panel.
    #[must_use]
    pub fn has_panels(&self) -> bool {
        self.cameras.iter().any(|camera| camera.panel.is_some())
    }
}

/// What is said beyond the document.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ForecastDetails {
    /// The cameras in their order.
    pub cameras: Vec<CameraDetails>,
    /// Whether any run asked its cells for more than their published points tell.
    pub beyond_points: bool,
    /// Doubts and warnings, each told once.
    pub warnings: Vec<Told>,
    /// The figures of draw that have an effect.
    pub figures: Vec<FigureRow>,
    /// What the signal makes of them, where anything is sent.
    pub signal: Option<SignalRow>,
}

/// Answers a request about a line that has been read.
///
/// # Errors
/// [`Failure::Request`] if a pack's numbers of cells are out of range, a date lies outside the season, or no
/// paths can be drawn.
pub fn answer(
    line: &Line,
    request: &ForecastRequest,
    host: &Host<'_>,
) -> Result<Forecast, Failure> {
    let runs = run(line)?;
    let shown = request.course.map(|most| course::shown(&runs, most));
    let kept = Kept {
        charge: shown.is_some(),
        sun: shown.is_some(),
        paths: false,
        cameras: shown.as_deref().unwrap_or(&[]),
    };
    let sampled = request
        .paths
        .map(|paths| sample(line, paths, request.by.clone(), kept, host));
    let sampled = sampled.transpose()?;
    let odds = sampled
        .as_ref()
        .map(|sampled| sampled.odds.cameras.as_slice());
    Ok(Forecast {
        document: document(line, &runs, sampled.as_ref()),
        details: details(line, &runs),
        course: shown.map(|shown| Course::of(line, &SeasonAir::new(line), &runs, odds, &shown)),
    })
}

fn document(line: &Line, runs: &[CameraRun], sampled: Option<&Sampled>) -> ForecastDocument {
    let cameras = line.cameras.iter().zip(runs).enumerate();
    let cameras = cameras.map(|(number, (camera, run))| {
        let odds = sampled.and_then(|sampled| {
            let odds = sampled.odds.cameras.get(number)?;
            Some(CameraOdds::of(&line.season, camera, odds, &sampled.by))
        });
        camera::document(line, camera, run, odds)
    });
    let expected: f64 = runs.iter().map(|run| run.outcome.followed.as_days()).sum();
    let days = expected + sampled.map_or(0.0, |sampled| sampled.odds.camera_days);
    ForecastDocument {
        paths: sampled.map(|sampled| sampled.paths.count),
        seed: sampled.map(|sampled| sampled.paths.seed),
        site: line.site.clone(),
        season: line.season,
        weather: line.climate.origin.to_string(),
        path: path_name(&line.climate.origin),
        cameras: cameras.collect(),
        simulated_camera_years: Rounded(days / 365.25),
    }
}

fn details(line: &Line, runs: &[CameraRun]) -> ForecastDetails {
    let pairs = || line.cameras.iter().zip(runs);
    ForecastDetails {
        cameras: pairs()
            .map(|(camera, run)| CameraDetails::of(line, camera, run))
            .collect(),
        beyond_points: runs.iter().any(|run| run.doubts().next().is_some()),
        warnings: warnings::of_runs(&line.season, pairs()),
        figures: figures::rows(line),
        signal: figures::signal(line),
    }
}

/// Sampled seasons of a line, and the dates that somebody asks about.
pub(super) struct Sampled {
    /// What became of its cameras.
    pub(super) odds: LineOdds,
    /// Which seasons.
    pub(super) paths: Paths,
    /// Days at whose end the odds are wanted, within the season.
    pub(super) by: Vec<Date>,
}

/// Runs every camera on its own cells.
///
/// # Errors
/// [`Failure::Request`] if a pack's numbers of cells are out of range.
pub(super) fn run(line: &Line) -> Result<Vec<CameraRun>, Failure> {
    let air = SeasonAir::new(line);
    let runs = line.cameras.iter();
    runs.map(|camera| run_camera(line, &air, camera, &camera.pack).map_err(refused))
        .collect()
}

/// Samples so many seasons of the line on its own cells, and keeps what is asked for.
///
/// # Errors
/// [`Failure::Request`] if a date in `by` lies outside the season, or no paths can be drawn.
pub(super) fn sample(
    line: &Line,
    paths: Paths,
    by: Vec<Date>,
    kept: Kept<'_>,
    host: &Host<'_>,
) -> Result<Sampled, Failure> {
    let Season { start, end } = line.season;
    if let Some(outside) = by.iter().find(|date| !(start..=end).contains(*date)) {
        return Err(Failure::request(
            format!("--by {outside} is not within the season"),
            format!("expected a date from {start} to {end}"),
        ));
    }
    let cameras: Vec<_> = line.cameras.iter().map(|c| (c, &c.pack)).collect();
    let _work = host.begin(Some(parts(cameras.len(), paths)), "parts of the seasons");
    let air = SeasonAir::new(line);
    let odds = sampling::sample(line, &air, &cameras, paths, kept, host).map_err(refused)?;
    Ok(Sampled { odds, paths, by })
}
