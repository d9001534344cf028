//! `settings`: what each setting gains, as text, JSON and bars.

use overwinter_line::answer::budget;
use overwinter_line::answer::path::has_panels;
use overwinter_line::answer::settings::Tried;
use overwinter_line::line::Line;
use overwinter_model::season::Ending;

use crate::plot::{Budget, CameraBudget};

mod json;
mod text;

pub use json::json;
pub use text::text;

/// What uses the charge of each camera as it is set now, as a picture's bars.
#[must_use]
pub fn bars(line: &Line, tried: &[Tried<'_>]) -> Budget {
    let cameras = tried.iter().map(|one| CameraBudget {
        name: one.camera.name.clone(),
        days: one.run.outcome.followed.as_days(),
        outlives: one.run.outcome.ends[Ending::Camera].is_none(),
        parts: budget::Budget::of(&one.run.outcome.ledger).parts,
    });
    Budget {
        title: format!("{}: what uses the charge", line.site),
        panels: has_panels(line),
        cameras: cameras.collect(),
    }
}
