//! `revisit`: when to be back, as text, JSON and curves of risk.

use overwinter_line::answer::revisit::{Latest, Plan, by_end_of};
use overwinter_line::odds::{Ends, Lost};

use crate::plot::{RiskCurve, Risks};

mod json;
mod text;

pub use json::json;
pub use text::text;

/// The answer as curves of risk.
#[must_use]
pub fn curves(plan: &Plan<'_>) -> Risks {
    let season = &plan.line.season;
    let curve = |name: &str, ends: &Ends, latest: Latest| RiskCurve {
        name: name.to_owned(),
        by_day: by_day(plan, ends),
        latest: plan.back(latest, "back by "),
        latest_days: latest.days(),
    };
    let cameras = plan.line.cameras.iter().zip(&plan.odds.cameras);
    Risks {
        title: format!("{}: risk of lost pictures", plan.line.site),
        start: season.start,
        risk: plan.risk.share(),
        any: curve("any camera", &plan.odds.line_broken, plan.any),
        cameras: cameras
            .zip(&plan.cameras)
            .map(|((camera, odds), (latest, _))| {
                curve(&camera.name, &odds.lost[Lost::Record], *latest)
            })
            .collect(),
    }
}

/// The risk by the end of each day of the season, the first that of its start.
fn by_day(plan: &Plan<'_>, ends: &Ends) -> Vec<f64> {
    let days = 0..plan.line.season.days().unsigned_abs();
    days.map(|days| by_end_of(ends, days)).collect()
}
