//! Doubts and warnings, each told once.

use overwinter_line::answer::warnings::{Told, told_once, warnings};
use overwinter_line::line::{Camera, Season};
use overwinter_line::run::CameraRun;
use serde_json::{Value, json};

use crate::command::assumptions;

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

/// What is told once, as lines for a person.
pub(in crate::command) fn notes(told: &[Told<'_>]) -> String {
    let lines = told.iter().map(|told| {
        let (cell, cameras, text) = (told.cell, told.cameras.join(", "), &told.warning.text);
        assumptions::wrap(&format!("Note on {cell} ({cameras}): {text}.")) + "\n"
    });
    let text: String = lines.collect();
    if text.is_empty() { text } else { text + "\n" }
}

/// Warnings for JSON.
pub(in crate::command) fn warnings_json(season: &Season, run: &CameraRun) -> Value {
    let warnings = warnings(season, run);
    warnings
        .into_iter()
        .map(|w| json!({ "kind": w.kind, "text": w.text }))
        .collect()
}
