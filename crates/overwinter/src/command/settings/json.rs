//! The answer for a script.

use overwinter_line::answer::budget::Budget;
use overwinter_line::answer::path::path_name;
use overwinter_line::answer::settings::{
    Change, FALSE_TRIGGERS, Input, Measure, NewValue, Trial, Tried, Unknown,
};
use overwinter_line::line::{Camera, Line};
use overwinter_line::odds::Paths;
use serde_json::{Value, json};

use crate::command::{document, rounded};

/// What uses the charge, the changes of each camera, and what is not known.
#[must_use]
pub fn json(line: &Line, tried: &[Tried<'_>], paths: Paths) -> String {
    let cameras = tried.iter().map(camera_json);
    document(&json!({
        "site": line.site,
        "season_days": line.season.days(),
        "path": path_name(&line.climate.origin),
        "paths": paths.count,
        "seed": paths.seed,
        "cameras": cameras.collect::<Vec<_>>(),
    }))
}

fn camera_json(one: &Tried<'_>) -> Value {
    let ledger = &one.run.outcome.ledger;
    let panel = one.camera.panel.as_ref();
    json!({
        "name": one.camera.name,
        "cell": one.run.pack.cell.name,
        "energy_wh": rounded(ledger.put_in.as_watt_hours(), 3),
        "panel_stored_wh": panel.map(|_| rounded(ledger.panel.stored().as_watt_hours(), 3)),
        "budget_wh": Budget::of(ledger),
        "now": measure_json(one, &one.now),
        "settings": one.trials.iter().map(|trial| trial_json(one, trial)).collect::<Vec<_>>(),
        "unknowns": one.unknowns.iter().map(unknown_json).collect::<Vec<_>>(),
    })
}

fn measure_json(one: &Tried<'_>, measure: &Measure) -> Value {
    let days = |days: Option<f64>| days.map(|days| rounded(days, 3));
    json!({
        "days_p50": days(measure.days_p50),
        "all_kept_days_p50": days(measure.all_kept_days_p50),
        "odds_alive_at_end": rounded(measure.alive_at_end, 4),
        "mean_charge_left_fraction": rounded(measure.charge_left, 4),
        "days_expected": rounded(measure.days_expected, 3),
        "pictures_per_day": rounded(measure.pictures_per_day, 3),
        "pictures_kept": one.pictures_tell.then(|| rounded(measure.pictures_kept, 1)),
    })
}

fn trial_json(one: &Tried<'_>, trial: &Trial) -> Value {
    let camera = one.camera;
    let (key, from, to) = changed(camera, &trial.change);
    let [days, all_kept_days, alive, charge, pictures] = trial.gain;
    let mut object = json!({
        "key": key,
        "from": from,
        "to": to,
        "days_gained": rounded(days, 3),
        "all_kept_days_gained": rounded(all_kept_days, 3),
        "odds_alive_at_end_gained": rounded(alive, 4),
        "mean_charge_left_gained": rounded(charge, 4),
        "pictures_kept_gained": one.pictures_tell.then(|| rounded(pictures, 1)),
        "place_by_pictures": one.pictures_tell.then_some(trial.place_by_pictures),
    });
    if let (Some(object), Value::Object(more)) =
        (object.as_object_mut(), measure_json(one, &trial.measure))
    {
        object.extend(more);
    }
    if let (FALSE_TRIGGERS, Some(object)) = (trial.change.key, object.as_object_mut()) {
        // With a smaller share of as many triggers, more animals would pass.
        let [before, after] = [camera, &trial.change.camera].map(rate);
        let times = rounded(after / before, 9);
        object.insert(
            "with".to_owned(),
            json!({ "key": "triggers_per_day", "times": times }),
        );
    }
    object
}

/// The key of the line file that is changed, and its values.
fn changed<'a>(camera: &Camera, change: &'a Change) -> (&'a str, Value, Value) {
    if change.key != FALSE_TRIGGERS {
        return (change.key, value_json(&change.from), value_json(&change.to));
    }
    let [from, to] =
        [camera, &change.camera].map(|camera| rounded(camera.activity.counts().false_share, 9));
    ("false_share", from, to)
}

/// Triggers a day, summed over the months.
fn rate(camera: &Camera) -> f64 {
    camera.activity.triggers_per_day().iter().sum()
}

fn value_json(value: &NewValue) -> Value {
    match value {
        NewValue::Number(number) => rounded(*number, 6),
        NewValue::Name(name) => (*name).into(),
    }
}

fn unknown_json(unknown: &Unknown) -> Value {
    let [low, high] = &unknown.ends;
    json!({
        "input": match unknown.input {
            Input::Triggers => "triggers",
            Input::Air => "air",
            Input::Draw => "draw",
            Input::Cells => "cells",
            Input::CellsBeyondPoints => "cells-beyond-points",
        },
        "low": unknown.values[0],
        "high": unknown.values[1],
        "days_low": rounded(low.alive_days, 3),
        "days_high": rounded(high.alive_days, 3),
        "all_kept_days_low": rounded(low.all_kept_days, 3),
        "all_kept_days_high": rounded(high.all_kept_days, 3),
        "charge_left_fraction_low": rounded(low.charge_left, 4),
        "charge_left_fraction_high": rounded(high.charge_left, 4),
    })
}
