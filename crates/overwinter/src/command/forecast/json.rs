//! The answer for a script.

use overwinter_line::answer::budget::budget;
use overwinter_line::answer::ends::{first_reason, night_end};
use overwinter_line::answer::forecast::Sampled;
use overwinter_line::answer::path::path_name;
use overwinter_line::line::{Camera, Line, Season};
use overwinter_line::run::CameraRun;
use overwinter_line::words;
use overwinter_model::Time;
use overwinter_model::season::{End, Ledger};
use serde_json::{Map, Value, json};

use super::odds;
use super::panels;
use super::warnings::warnings_json;
use crate::command::{assumptions, document, rounded};

/// The answer for a script.
#[must_use]
pub fn json(line: &Line, runs: &[CameraRun], sampled: Option<&Sampled>) -> String {
    let cameras = (0..)
        .zip(&line.cameras)
        .zip(runs)
        .map(|((number, camera), run)| {
            let mut keys = camera_json(line, camera, run);
            let odds =
                sampled.and_then(|sampled| Some((sampled, sampled.odds.cameras.get(number)?)));
            if let (Value::Object(keys), Some((sampled, odds))) = (&mut keys, odds) {
                keys.extend(odds::camera_json(&line.season, camera, odds, &sampled.by));
            }
            keys
        });
    let expected: f64 = runs.iter().map(|run| run.outcome.followed.as_days()).sum();
    let days = expected + sampled.map_or(0.0, |sampled| sampled.odds.camera_days);
    document(&json!({
        "paths": sampled.map(|sampled| sampled.paths.count),
        "seed": sampled.map(|sampled| sampled.paths.seed),
        "site": line.site,
        "season": {
            "start": line.season.start.to_string(),
            "end": line.season.end.to_string(),
            "days": line.season.days(),
        },
        "weather": line.climate.origin.to_string(),
        "path": path_name(&line.climate.origin),
        "cameras": cameras.collect::<Vec<_>>(),
        "simulated_camera_years": rounded(days / 365.25, 6),
    }))
}

/// The date of an end, or null.
fn on(season: &Season, end: Option<&End>) -> Value {
    end.map_or(Value::Null, |end| season.date(end.after).to_string().into())
}

/// Days to something, or null.
fn days(after: Option<Time>) -> Value {
    after.map_or(Value::Null, |after| rounded(after.as_days(), 3))
}

fn camera_json(line: &Line, camera: &Camera, run: &CameraRun) -> Value {
    let outcome = &run.outcome;
    let season = &line.season;
    let reason = |end: Option<&End>| end.map(|end| words::cause_key(end.cause));
    let night = night_end(camera, outcome);
    json!({
        "name": camera.name,
        "kind": camera.kind.name(),
        "cell": run.pack.cell.name,
        "series": run.pack.series,
        "parallel": run.pack.parallel,
        "days_expected": rounded(outcome.followed.as_days(), 3),
        "outlives_season": outcome.dead.is_none(),
        "night_pictures_lost_on": on(season, night),
        "night_pictures_days": days(night.map(|end| end.after)),
        "night_pictures_reason": reason(night),
        "charge_left_at_night_pictures_lost": night.map(|end| rounded(end.charge_left, 4)),
        "uploads_failed_on": on(season, outcome.uploads_failed.as_ref()),
        "card_full_on": on(season, outcome.card_full.as_ref()),
        "dead_on": on(season, outcome.dead.as_ref()),
        "end_reason": reason(outcome.dead.as_ref()).unwrap_or("season-end"),
        "first_end": first_reason(camera, outcome),
        "charge_left_fraction": rounded(outcome.charge_left, 4),
        "triggers": rounded(outcome.triggers, 1),
        "triggers_without_flash": rounded(outcome.dark_triggers, 1),
        "energy_wh": rounded(outcome.ledger.put_in.as_watt_hours(), 3),
        "panel": panels::json(camera, run),
        "budget_wh": budget_json(&outcome.ledger),
        "assumed": assumptions::json(camera),
        "warnings": warnings_json(season, run),
    })
}

pub(in crate::command) fn budget_json(ledger: &Ledger) -> Value {
    let entries = budget(ledger).into_iter().map(|(name, wh)| {
        let key = name.replace([' ', '-'], "_");
        (key, rounded(wh, 5))
    });
    Value::Object(entries.collect::<Map<_, _>>())
}
