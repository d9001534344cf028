//! `revisit`: when to be back, as text, JSON and curves of risk.

mod text;

use overwinter_line::answer::revisit::{LatestDocument, Revisit};
use overwinter_line::words;

pub use text::text;

use super::json_text;
use crate::plot::{RiskCurve, Risks};

/// The answer for a script.
#[must_use]
pub fn json(answer: &Revisit) -> String {
    json_text(&answer.document)
}

/// The answer as curves of risk.
#[must_use]
pub fn curves(answer: &Revisit) -> Risks {
    let document = &answer.document;
    let curve = |name: &str, latest: &LatestDocument| RiskCurve {
        name: name.to_owned(),
        by_day: latest.risk_by_day.iter().map(|risk| risk.0).collect(),
        latest: back(latest, document.risk.0, "back by "),
        latest_days: latest.latest_days,
    };
    let cameras = document.cameras.iter();
    Risks {
        title: format!("{}: risk of lost pictures", document.site),
        start: document.season_start.0,
        risk: document.risk.0,
        any: curve("any camera", &document.line.latest),
        cameras: cameras
            .map(|camera| curve(&camera.name, &camera.latest))
            .collect(),
    }
}

/// When to be back, in words; a date has `before` in front of it.
fn back(latest: &LatestDocument, risk: f64, before: &str) -> String {
    match (latest.latest_days, latest.latest_day) {
        (Some(0), _) if latest.risk_then.0 > risk => "not one day".to_owned(),
        (Some(0), _) => "the same day".to_owned(),
        (_, Some(date)) => format!("{before}{}", words::date(date.0)),
        (_, None) => "no visit needed".to_owned(),
    }
}
