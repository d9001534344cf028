//! `compare`: the same line on other cells, side by side.

mod document;
mod pairs;

pub use document::{
    ComparedDocument, Comparison, ComparisonDetails, ComparisonDocument, FaredDocument,
    RunDocument, TryDocument, TryOdds,
};
pub use pairs::PairDocument;

use super::refused;
use super::request::LineRequest;
use crate::cells::{self, SharedCell};
use crate::host::{Files, Host};
use crate::line::{Camera, Line, Misfit, PackChoice, misfit};
use crate::odds::{Kept, Lost, Odds, Paths, parts, sample};
use crate::problem::Failure;
use crate::run::{CameraRun, SeasonAir, run_camera};

/// What is asked for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CompareRequest {
    /// The line.
    pub line: LineRequest,
    /// Names of cells, or of cell files.
    pub cells: Vec<String>,
    /// Which seasons are sampled.
    pub paths: Paths,
}

/// A line on each of the cells.
struct Compared<'a> {
    /// Its cameras in their order.
    cameras: Vec<ComparedCamera<'a>>,
    /// Which seasons were sampled: the same for every cell.
    paths: Paths,
}

/// One camera on each of the cells.
struct ComparedCamera<'a> {
    /// The camera.
    camera: &'a Camera,
    /// What came of each of the cells, in the order in which they were asked for.
    tries: Vec<Try>,
}

/// One camera on one kind of cell.
struct Try {
    /// The pack.
    pack: PackChoice,
    /// How it went, or why the camera does not run on it.
    fared: Result<Fared, Misfit>,
}

/// How a camera fares on a pack.
struct Fared {
    /// On the expected path.
    run: CameraRun,
    /// Over the sampled seasons.
    odds: Odds,
}

/// The cells by their names, or out of their files, each once.
///
/// # Errors
/// What [`cells::named`] gives for one that is not known; [`Failure::Request`] for two different
/// cells of one name.
pub fn find_cells(names: &[String], files: &dyn Files) -> Result<Vec<SharedCell>, Failure> {
    let mut found: Vec<SharedCell> = Vec::new();
    for name in names {
        let cell = cells::named(files, name.trim())?;
        match found.iter().find(|known| known.name == cell.name) {
            None => found.push(cell),
            Some(known) if *known == cell => {}
            Some(_) => {
                return Err(Failure::request(
                    format!("two different cells are called `{}`", cell.name),
                    "give one of them another `name` in its file",
                ));
            }
        }
    }
    Ok(found)
}

/// Answers about a line on `cells`, which were found before.
///
/// # Errors
/// [`Failure::Request`] if a pack's numbers of cells are out of range, or no paths can be drawn.
pub fn answer(
    line: &Line,
    cells: &[SharedCell],
    paths: Paths,
    host: &Host<'_>,
) -> Result<Comparison, Failure> {
    let compared = run(line, cells, paths, host)?;
    Ok(Comparison::of(line, &compared))
}

/// Follows every camera on each of `cells`: along the expected path, and over sampled seasons.
///
/// A season's weather and a camera's triggers depend on the seed and on the camera's name alone, so
/// that cells are told apart by nothing else.
///
/// # Errors
/// [`Failure::Request`] if a pack's numbers of cells are out of range, or no paths can be drawn.
fn run<'a>(
    line: &'a Line,
    cells: &[SharedCell],
    paths: Paths,
    host: &Host<'_>,
) -> Result<Compared<'a>, Failure> {
    let packs_of = |camera: &'a Camera| {
        let packs = cells.iter().map(|cell| {
            let pack = camera.pack.with_cell(cell, &camera.supply);
            let misfit = misfit(camera, &pack);
            (pack, misfit)
        });
        (camera, packs.collect::<Vec<_>>())
    };
    let packs: Vec<_> = line.cameras.iter().map(packs_of).collect();
    let air = SeasonAir::new(line);
    let fitting: Vec<(&Camera, &PackChoice)> = packs
        .iter()
        .flat_map(|(camera, packs)| {
            packs
                .iter()
                .map(move |(pack, misfit)| (*camera, pack, misfit))
        })
        .filter_map(|(camera, pack, misfit)| misfit.is_none().then_some((camera, pack)))
        .collect();
    let work = host.begin(Some(parts(fitting.len(), paths)), "parts of the seasons");
    let all: Vec<usize> = (0..fitting.len()).collect();
    let kept = Kept {
        paths: true,
        cameras: &all,
        ..Kept::default()
    };
    let sampled = sample(line, &air, &fitting, paths, kept, host).map_err(refused)?;
    drop(work);
    let runs = fitting
        .iter()
        .map(|(camera, pack)| run_camera(line, &air, camera, pack).map_err(refused))
        .collect::<Result<Vec<_>, _>>()?;
    let fared = runs.into_iter().zip(sampled.cameras);
    // One for each pack that fits, in their order.
    let mut fared = fared.map(|(run, odds)| Fared { run, odds });
    let cameras = packs.into_iter().map(|(camera, packs)| ComparedCamera {
        camera,
        tries: packs
            .into_iter()
            .filter_map(|(pack, misfit)| {
                let fared = match misfit {
                    Some(misfit) => Err(misfit),
                    None => Ok(fared.next()?),
                };
                Some(Try { pack, fared })
            })
            .collect(),
    });
    Ok(Compared {
        cameras: cameras.collect(),
        paths,
    })
}

/// What a set of cells costs, as far as the line file says.
fn cost(line: &Line, pack: &PackChoice) -> Option<f64> {
    line.prices.of(&pack.cell.name, pack.count())
}

/// Share of the seasons that a camera outlives, 0 to 1.
#[must_use]
pub(super) fn alive_at_end(line: &Line, odds: &Odds) -> f64 {
    1.0 - odds.lost[Lost::Camera].ended_share(f64::from(line.season.days()))
}
