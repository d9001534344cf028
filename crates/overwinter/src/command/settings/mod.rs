//! `settings`: what each setting gains, as text, JSON and bars.

mod text;

use overwinter_line::answer::settings::SettingsAnswer;

pub use text::text;

use super::json_text;
use crate::plot::{Budget, CameraBudget};

/// The answer for a script.
#[must_use]
pub fn json(answer: &SettingsAnswer) -> String {
    json_text(&answer.document)
}

/// What uses the charge of each camera as it is set now, as a picture's bars.
#[must_use]
pub fn bars(answer: &SettingsAnswer) -> Budget {
    let (document, details) = (&answer.document, &answer.details);
    let cameras = document.cameras.iter().zip(&details.cameras);
    let cameras = cameras.map(|(camera, details)| CameraBudget {
        name: camera.name.clone(),
        days: camera.now.days_expected.0,
        outlives: details.outlives,
        parts: camera.budget_wh.parts.clone(),
    });
    Budget {
        title: format!("{}: what uses the charge", document.site),
        panels: details.has_panels,
        cameras: cameras.collect(),
    }
}
