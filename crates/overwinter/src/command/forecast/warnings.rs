//! Doubts and warnings, each told once.

use serde_json::{Value, json};

use crate::command::assumptions;
use overwinter_line::line::{Camera, Season};
use overwinter_line::run::CameraRun;
use overwinter_line::words;

/// Every doubt by cell, at its worst, and every warning, with the cameras that it is about.
pub(in crate::command) fn doubts<'a>(
    season: &Season,
    runs: impl Iterator<Item = (&'a Camera, &'a CameraRun)>,
) -> String {
    let warnings = runs.flat_map(|(camera, run)| {
        let warnings = warnings(season, run).into_iter();
        warnings.map(|warning| (camera.name.as_str(), run.pack.cell.name.as_str(), warning))
    });
    notes(&told_once(warnings))
}

/// What the odds leave out, where any of the runs asked its cells for more than their published points
/// tell; else nothing. `whose` says of which cells `settings` knows.
pub(in crate::command) fn left_out<'a>(
    mut runs: impl Iterator<Item = &'a CameraRun>,
    whose: &str,
) -> String {
    if !runs.any(|run| run.doubts().next().is_some()) {
        return String::new();
    }
    format!(
        " How far cells may be off beyond their published points, as noted below, is not in the odds; \
         `settings` shows what it moves{whose}."
    )
}

/// A doubt or a warning that several runs may share, at its worst.
pub(in crate::command) struct Told<'a> {
    /// The cell that it is about.
    pub(in crate::command) cell: &'a str,
    /// As the worst run has it.
    pub(in crate::command) warning: Warning,
    /// The cameras that have it.
    pub(in crate::command) cameras: Vec<&'a str>,
}

/// Warnings by camera and cell, each told once.
pub(in crate::command) fn told_once<'a>(
    warnings: impl Iterator<Item = (&'a str, &'a str, Warning)>,
) -> Vec<Told<'a>> {
    let mut all: Vec<Told<'a>> = Vec::new();
    for (camera, cell, warning) in warnings {
        let same = |told: &&mut Told<'_>| (told.warning.kind, told.cell) == (warning.kind, cell);
        match all.iter_mut().find(same) {
            Some(told) => {
                if !told.cameras.contains(&camera) {
                    told.cameras.push(camera);
                }
                if warning.weight > told.warning.weight {
                    told.warning = warning;
                }
            }
            None => all.push(Told {
                cell,
                warning,
                cameras: vec![camera],
            }),
        }
    }
    all
}

/// What is told once, as lines for a person.
pub(in crate::command) fn notes(told: &[Told<'_>]) -> String {
    let lines = told.iter().map(|told| {
        let (cell, cameras, text) = (told.cell, told.cameras.join(", "), &told.warning.text);
        assumptions::wrap(&format!("Note on {cell} ({cameras}): {text}.")) + "\n"
    });
    let text: String = lines.collect();
    if text.is_empty() { text } else { text + "\n" }
}

/// A doubt or a warning about one run.
#[derive(Clone)]
pub(in crate::command) struct Warning {
    /// Its name in JSON.
    pub(in crate::command) kind: &'static str,
    /// Of two of one kind, the heavier is told.
    weight: f64,
    /// For a person.
    pub(in crate::command) text: String,
}

/// Doubts and warnings of one run.
pub(in crate::command) fn warnings(season: &Season, run: &CameraRun) -> Vec<Warning> {
    let cell = &run.pack.cell.cell;
    let mut warnings: Vec<Warning> = run
        .doubts()
        .map(|doubt| {
            let (kind, text) = words::doubt(&doubt);
            let uncertainty = 100.0 * cell.cold_uncertainty;
            Warning {
                kind,
                weight: words::how_far(&doubt),
                text: format!("{text}, perhaps {uncertainty:.0} % off"),
            }
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

/// Warnings for JSON.
pub(in crate::command) fn warnings_json(season: &Season, run: &CameraRun) -> Value {
    let warnings = warnings(season, run);
    warnings
        .into_iter()
        .map(|w| json!({ "kind": w.kind, "text": w.text }))
        .collect()
}
