//! Doubts and warnings about runs, each told once.

use serde::Serialize;

use super::document::WarningDocument;
use crate::line::{Camera, Season};
use crate::run::CameraRun;
use crate::words;

/// A doubt or a warning that several runs may share, at its worst.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Told {
    /// The cell that it is about.
    pub cell: String,
    /// As the worst run has it.
    pub warning: Warning,
    /// The cameras that have it.
    pub cameras: Vec<String>,
}

/// Warnings by camera and cell, each told once.
pub(super) fn told_once<'a>(
    warnings: impl Iterator<Item = (&'a str, &'a str, Warning)>,
) -> Vec<Told> {
    let mut all: Vec<Told> = Vec::new();
    for (camera, cell, warning) in warnings {
        let same =
            |told: &&mut Told| (told.warning.kind, told.cell.as_str()) == (warning.kind, cell);
        match all.iter_mut().find(same) {
            Some(told) => {
                if !told.cameras.iter().any(|known| known == camera) {
                    told.cameras.push(camera.to_owned());
                }
                if warning.weight > told.warning.weight {
                    told.warning = warning;
                }
            }
            None => all.push(Told {
                cell: cell.to_owned(),
                warning,
                cameras: vec![camera.to_owned()],
            }),
        }
    }
    all
}

/// Every doubt by cell, at its worst, and every warning of some runs, with the cameras that have them.
pub(super) fn of_runs<'a>(
    season: &Season,
    runs: impl Iterator<Item = (&'a Camera, &'a CameraRun)>,
) -> Vec<Told> {
    told_once(runs.flat_map(|(camera, run)| {
        let warnings = warnings(season, run).into_iter();
        warnings.map(|warning| (camera.name.as_str(), run.pack.cell.name.as_str(), warning))
    }))
}

/// The warnings of one run for a document.
pub(super) fn documents(season: &Season, run: &CameraRun) -> Vec<WarningDocument> {
    let warnings = warnings(season, run).into_iter();
    warnings
        .map(|Warning { kind, text, .. }| WarningDocument { kind, text })
        .collect()
}

/// A doubt or a warning about one run.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Warning {
    /// Its name in JSON.
    pub kind: &'static str,
    /// Of two of one kind, the heavier is told.
    weight: f64,
    /// For a person.
    pub text: String,
}

/// Doubts and warnings of one run.
pub(super) fn warnings(season: &Season, run: &CameraRun) -> Vec<Warning> {
    let cell = &run.pack.cell.cell;
    let asked = run.outcome.asked.iter();
    let mut warnings: Vec<Warning> = asked
        .flat_map(|asked| words::beyond_points(cell, asked))
        .map(|(doubt, text)| Warning {
            kind: words::doubt(&doubt).0,
            weight: words::how_far(&doubt),
            text,
        })
        .collect();
    if let Some(after) = run.outcome.under_floor {
        let on = words::date(season.date(after));
        let text = format!(
            "from {on} the weakest cell is pulled under {}, where it may leak or reverse; take \
             spent cells out",
            words::volts(cell.floor)
        );
        warnings.push(Warning {
            kind: "cell-under-floor",
            weight: -after.as_days(),
            text,
        });
    }
    warnings
}
