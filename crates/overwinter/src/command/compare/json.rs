//! Cells side by side for a script.

use overwinter_line::answer::compare::{Compared, Try, alive_at_end, cost};
use overwinter_line::answer::ends::{
    HALF, NINE_TENTHS, TENTH, first_reason, night_end, night_ends,
};
use overwinter_line::answer::path::path_name;
use overwinter_line::answer::warnings;
use overwinter_line::line::{Camera, Line, Misfit};
use overwinter_line::odds::{Ends, Lost, Odds};
use overwinter_line::run::CameraRun;
use overwinter_line::words;
use overwinter_model::season::Ending;
use serde_json::{Value, json};

use crate::command::{document, rounded};

/// The answer for a script.
#[must_use]
pub fn json(line: &Line, compared: &Compared<'_>) -> String {
    let cameras = compared.cameras.iter().map(|one| {
        let cells = one
            .tries
            .iter()
            .map(|tried| try_json(line, one.camera, tried));
        json!({ "name": one.camera.name, "cells": cells.collect::<Vec<_>>() })
    });
    document(&json!({
        "site": line.site,
        "season_days": line.season.days(),
        "currency": line.prices.currency,
        "paths": compared.paths.count,
        "seed": compared.paths.seed,
        "path": path_name(&line.climate.origin),
        "cameras": cameras.collect::<Vec<_>>(),
    }))
}

fn try_json(line: &Line, camera: &Camera, tried: &Try) -> Value {
    let pack = &tried.pack;
    let mut object = json!({
        "cell": pack.cell.name,
        "series": pack.series,
        "parallel": pack.parallel,
        "cost": cost(line, pack).map(|cost| rounded(cost, 2)),
        "mass_g": rounded(pack.cell.mass_g * f64::from(pack.count()), 1),
        "fits": tried.fared.is_ok(),
    });
    let more = match &tried.fared {
        Ok(fared) => run_json(line, camera, &fared.run),
        Err(Misfit { what, expected }) => json!({
            "days_expected": null,
            "misfit": format!("{what} (expected {expected})"),
        }),
    };
    let odds = tried.fared.as_ref().ok().map(|fared| &fared.odds);
    for more in [more, odds_json(line, camera, odds)] {
        if let (Some(object), Value::Object(more)) = (object.as_object_mut(), more) {
            object.extend(more);
        }
    }
    object
}

fn run_json(line: &Line, camera: &Camera, run: &CameraRun) -> Value {
    let outcome = &run.outcome;
    let dead = outcome.ends[Ending::Camera].as_ref();
    let night = night_end(camera, outcome);
    json!({
        "days_expected": rounded(outcome.followed.as_days(), 3),
        "outlives_season": dead.is_none(),
        "night_pictures_days": night.map(|end| rounded(end.after.as_days(), 3)),
        "end_reason": dead.map_or("season-end", |end| words::cause_key(end.cause)),
        "first_end": first_reason(camera, outcome),
        "charge_left_fraction": rounded(outcome.charge_left, 4),
        "self_discharge_wh": rounded(outcome.ledger.self_discharge.as_watt_hours(), 5),
        "warnings": warnings::documents(&line.season, run),
    })
}

/// What the sampled seasons say; null where a pack does not fit, or where fewer seasons have ended.
fn odds_json(line: &Line, camera: &Camera, odds: Option<&Odds>) -> Value {
    let days = |ends: Option<&Ends>, share: f64| {
        let days = ends.and_then(|ends| ends.days_at(share));
        days.map(|days| rounded(days, 3))
    };
    let dead = odds.map(|odds| &odds.lost[Lost::Camera]);
    let night = odds.and_then(|odds| night_ends(camera, odds));
    json!({
        "days_p10": days(dead, TENTH),
        "days_p50": days(dead, HALF),
        "days_p90": days(dead, NINE_TENTHS),
        "night_pictures_days_p10": days(night, TENTH),
        "night_pictures_days_p50": days(night, HALF),
        "odds_alive_at_end": odds.map(|odds| rounded(alive_at_end(line, odds), 4)),
    })
}
