//! `settings`: what each setting costs in days, what uses the charge, and which unknown matters.

mod candidates;
mod document;
mod measure;
mod unknowns;

use std::cmp::Ordering;
use std::iter;

pub use document::{
    AlsoChanged, CameraSettings, CameraSettingsDetails, MeasureDocument, SettingValue,
    SettingsAnswer, SettingsDetails, SettingsDocument, TrialDocument, UnknownDocument,
};

use candidates::Change;
use measure::{Gains, Measure};
use unknowns::Telling;

use super::refused;
use super::request::LineRequest;
use crate::host::{Host, Work};
use crate::line::{Camera, Line};
use crate::odds::{Kept, OddsError, Paths, drawn_once, sample};
use crate::problem::Failure;
use crate::run::{CameraRun, SeasonAir, run_camera};

/// What is asked for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SettingsRequest {
    /// The line.
    pub line: LineRequest,
    /// Which seasons are sampled.
    pub paths: Paths,
}

/// One camera with every change that was tried of it.
struct Tried<'a> {
    /// The camera.
    camera: &'a Camera,
    /// The expected path as it is set now.
    run: CameraRun,
    /// How it does as it is set now.
    now: Measure,
    /// Pictures kept on the expected path are worth telling: not so where mean weather, without a
    /// thaw, ends a camera with a panel before the middle one of the sampled seasons does.
    pictures_tell: bool,
    /// The changes, the best first.
    trials: Vec<Trial>,
    /// What is not known about it and moves the result, the most telling first.
    unknowns: Vec<Telling>,
}

/// A change and what comes of it.
struct Trial {
    /// The change.
    change: Change,
    /// How the camera does with it.
    measure: Measure,
    /// What is gained.
    gains: Gains,
    /// Pictures kept that are gained, on the expected path.
    pictures_gained: f64,
    /// Its place, from 1, among the camera's changes by pictures kept.
    place_by_pictures: usize,
}

/// Tries one change after another on every camera. All are sampled from the same seed, and so meet
/// the same weather, traffic and cells.
///
/// # Errors
/// [`Failure::Request`] if the line cannot be sampled.
pub fn answer(line: &Line, paths: Paths, host: &Host<'_>) -> Result<SettingsAnswer, Failure> {
    run(line, paths, host).map(|tried| SettingsAnswer::of(line, &tried, paths))
}

fn run<'a>(line: &'a Line, paths: Paths, host: &Host<'_>) -> Result<Vec<Tried<'a>>, Failure> {
    let air = SeasonAir::new(line);
    let changes: Vec<Vec<Change>> = line.cameras.iter().map(candidates::changes).collect();
    let runs: usize = changes.iter().map(|changes| changes.len() + 1).sum();
    let work = host.begin(Some(runs), "settings tried");
    let host = host.unwatched();
    let sampler = Sampler {
        line,
        air: &air,
        paths,
        host: &host,
        work: &work,
    };
    let cameras = line.cameras.iter().zip(changes);
    let tried =
        cameras.map(|(camera, changes)| try_camera(&sampler, camera, changes).map_err(refused));
    tried.collect()
}

/// What changes are tried with.
struct Sampler<'a> {
    line: &'a Line,
    air: &'a SeasonAir,
    paths: Paths,
    host: &'a Host<'a>,
    work: &'a Work<'a>,
}

fn try_camera<'a>(
    sampler: &Sampler<'_>,
    camera: &'a Camera,
    changes: Vec<Change>,
) -> Result<Tried<'a>, OddsError> {
    let (line, air) = (sampler.line, sampler.air);
    let measure = |camera: &Camera| -> Result<_, OddsError> {
        let run = run_camera(line, air, camera, &camera.pack)?;
        // Alone in its line in every trial: so each meets the same luck.
        let kept = Kept {
            paths: true,
            cameras: &[0],
            ..Kept::default()
        };
        let cameras = [(camera, &camera.pack)];
        let mut sampled = sample(line, air, &cameras, sampler.paths, kept, sampler.host)?;
        sampler.work.advance(1);
        let odds = sampled.cameras.swap_remove(0);
        let measure = Measure::new(line, camera, &run.outcome, &odds);
        Ok((run, measure, odds.paths))
    };
    let (run, now, seasons) = measure(camera)?;
    let season_days = f64::from(line.season.days());
    let mut trials = Vec::with_capacity(changes.len());
    for change in changes {
        let (_, measure, then) = measure(&change.camera)?;
        trials.push(Trial {
            gains: Gains::of(&seasons, &then, season_days),
            pictures_gained: measure.pictures_kept - now.pictures_kept,
            change,
            measure,
            place_by_pictures: 0,
        });
    }
    trials.sort_by(|a, b| b.measure.pictures_kept.total_cmp(&a.measure.pictures_kept));
    for (trial, place) in trials.iter_mut().zip(1..) {
        trial.place_by_pictures = place;
    }
    trials.sort_by(|a, b| descending(&a.gains.rank(), &b.gains.rank()));
    let mut measures = iter::once(&now).chain(trials.iter().map(|trial| &trial.measure));
    let pictures_tell =
        camera.panel.is_none() || !measures.any(|measure| measure.path_ends_early(season_days));
    let drawn = drawn_once(line, camera, &camera.pack, sampler.paths)?;
    Ok(Tried {
        unknowns: unknowns::telling(&drawn, &seasons, season_days),
        camera,
        run,
        now,
        pictures_tell,
        trials,
    })
}

/// The larger first number first; of equal ones the larger second, and so on.
fn descending<const N: usize>(a: &[f64; N], b: &[f64; N]) -> Ordering {
    let orders = a.iter().zip(b).map(|(a, b)| b.total_cmp(a));
    orders.fold(Ordering::Equal, Ordering::then)
}
