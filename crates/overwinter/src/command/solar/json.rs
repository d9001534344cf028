//! The answer for a script.

use overwinter_line::answer::solar::Try;
use overwinter_line::answer::solar::{
    Cause, Detail, Lasting, Planned, Point, Shortfall, Size, Solar, Why, WithoutSun,
};
use overwinter_line::answer::solar::{Choice, Kind};
use serde_json::{Value, json};

use crate::command::{document, rounded};

/// The smallest that does for each camera, the map, what else could be done, and one size closely.
#[must_use]
pub fn json(solar: &Solar) -> String {
    document(&json!({
        "site": solar.site,
        "season_days": solar.season.days(),
        "odds_wanted": rounded(solar.target.share(), 6),
        "odds_standard_error": rounded(solar.target.standard_error(solar.paths), 5),
        "paths": solar.paths.count,
        "seed": solar.paths.seed,
        "currency": solar.currency,
        "cameras": solar.cameras.iter().map(|one| camera_json(solar, one)).collect::<Vec<_>>(),
    }))
}

fn camera_json(solar: &Solar, one: &Planned) -> Value {
    let panel = one.panel.as_ref();
    let mut object = one.answer.smallest.as_ref().map_or_else(
        || {
            json!({ "panel_w": null, "store_wh": null, "strings": null, "odds_alive": null,
                   "odds_store_never_empty": null, "odds_night_pictures_kept": null,
                   "odds_uploads_kept": null, "cost": null })
        },
        point_json,
    );
    object["name"] = one.name.as_str().into();
    object["charges_pack"] = one.charges_pack().into();
    object["panel_in_file"] = one.own_lasting().map_or(Value::Null, |(size, lasting)| {
        let mut object = size_json(&size);
        put_lasting(&mut object, &lasting, one.charges_pack());
        object
    });
    object["usual_keys"] = panel.map_or(Value::Null, |panel| json!(panel.usual_keys));
    object["cells_alone_do"] = one.cells_alone_do(solar.target).into();
    object["panel_alone"] = one
        .answer
        .panel_alone
        .as_ref()
        .map_or(Value::Null, point_json);
    let short = one.shortfall.as_ref();
    object["shortfall"] = short.map_or(Value::Null, shortfall_json);
    object["map"] = one.map.points.iter().map(point_json).collect();
    object["options"] = one.choices.iter().map(choice_json).collect();
    if let Some(detail) = &one.detail {
        put_detail(&mut object, detail, one.charges_pack());
    }
    object
}

fn size_json(size: &Size) -> Value {
    json!({
        "panel_w": rounded(size.panel_w, 3),
        "store_wh": rounded(size.store.wh, 3),
        "strings": size.store.strings,
    })
}

fn point_json(point: &Point) -> Value {
    let mut object = size_json(&point.size);
    put_lasting(
        &mut object,
        &point.lasting,
        point.size.store.strings.is_some(),
    );
    object["cost"] = amount(point.cost);
    object
}

/// Without a store of its own there is none that could be empty.
fn put_lasting(object: &mut Value, lasting: &Lasting, no_store: bool) {
    let share = |share: Option<f64>| share.map_or(Value::Null, |share| rounded(share, 4));
    object["odds_alive"] = rounded(lasting.alive, 4);
    object["odds_store_never_empty"] = share((!no_store).then_some(lasting.never_empty));
    object["odds_night_pictures_kept"] = share(lasting.night_pictures);
    object["odds_uploads_kept"] = share(lasting.uploads);
}

/// The best where none does, and why it does not.
fn shortfall_json(short: &Shortfall) -> Value {
    let mut object = point_json(&short.best);
    object["cause"] = match short.cause() {
        Cause::NeverRuns => "never-runs",
        Cause::Dark => "dark",
        Cause::KeptOut => "kept-out",
        Cause::Room => "room",
    }
    .into();
    object["worst_weeks_offered_wh"] = rounded(short.offered_wh, 3);
    object["worst_weeks_kept_out_wh"] = rounded(short.kept_out_wh, 3);
    object["worst_weeks_spilled_wh"] = rounded(short.spilled_wh, 3);
    object["worst_weeks_drawn_wh"] = rounded(short.drawn_wh, 3);
    object
}

fn amount(amount: Option<f64>) -> Value {
    amount.map_or(Value::Null, |amount| rounded(amount, 2))
}

fn choice_json(choice: &Choice) -> Value {
    let (name, size) = match &choice.kind {
        Kind::CellsAlone => ("cells-alone", None),
        Kind::TwiceTheCells => ("twice-the-cells", None),
        Kind::Smallest(size) => ("smallest-panel", Some(size)),
        Kind::PanelAlone(size) => ("panel-alone", Some(size)),
    };
    let mut object = json!({
        "option": name,
        "cell": choice.set.cell,
        "cells": u32::from(choice.set.series) * u32::from(choice.set.parallel),
        "panel_w": size.map(|size| rounded(size.panel_w, 3)),
        "store_wh": size.map(|size| rounded(size.store.wh, 3)),
        "cost": amount(choice.cost),
    });
    let no_store = size.is_none_or(|size| size.store.strings.is_some());
    put_lasting(&mut object, &choice.lasting, no_store);
    object
}

fn put_detail(object: &mut Value, detail: &Detail, no_store: bool) {
    let light = &detail.light;
    let place = &detail.siting;
    object["detail"] = json!({
        "why": match detail.why {
            Why::Own => "own",
            Why::PanelAlone => "panel-alone",
            Why::Smallest => "smallest",
            Why::Best => "best",
        },
        "panel_w": rounded(detail.size.panel_w, 3),
        "store_wh": rounded(detail.size.store.wh, 3),
        "offered_wh": rounded(light.offered_wh, 3),
        "kept_out_wh": rounded(light.kept_out_wh, 3),
        "spilled_wh": rounded(light.spilled_wh, 3),
        "charging_loss_wh": rounded(light.charging_loss_wh, 3),
        "stored_wh": rounded(light.stored_wh(), 3),
        "days_without_sun": match detail.without_sun {
            WithoutSun::Days(days) => rounded(days, 1),
            WithoutSun::ToSeasonsEnd(_) | WithoutSun::NeverRuns => Value::Null,
        },
        "dark_days_from": detail.dark_from().map(|date| date.to_string()),
        "dark_days": place.dark.len(),
        "dark_offered_wh": rounded(detail.dark_offered_wh(), 3),
    });
    put_lasting(&mut object["detail"], &detail.lasting, no_store);
    object["weeks"] = weeks_json(detail, no_store);
    object["trees"] = tries(&place.trees, "trees_pct", 100.0, no_store);
    object["tilts"] = tries(&place.tilts, "tilt_deg", 1.0, no_store);
    object["best_tilt_deg"] = rounded(place.best.tilt_deg, 1);
    object["best_azimuth_deg"] = rounded(place.best.azimuth_deg, 1);
    object["best_light_fraction_of_own"] = light_json(place.best.light);
}

fn weeks_json(detail: &Detail, no_store: bool) -> Value {
    let weeks = detail.weeks.iter().enumerate().map(|(place, week)| {
        json!({
            "start": week.start.to_string(),
            "days": week.days,
            "offered_wh": rounded(week.mean.offered_wh, 3),
            "kept_out_wh": rounded(week.mean.kept_out_wh, 3),
            "spilled_wh": rounded(week.mean.spilled_wh, 3),
            "stored_wh": rounded(week.mean.stored_wh, 3),
            "drawn_wh": rounded(week.mean.drawn_wh, 3),
            "from_pack_wh": rounded(week.mean.from_pack_wh, 3),
            "store_empty_fraction": (!no_store).then(|| rounded(week.empty, 4)),
            "worst": detail.worst.contains(&place),
        })
    });
    weeks.collect()
}

fn tries(tries: &[Try], key: &str, times: f64, no_store: bool) -> Value {
    let one = |one: &Try| {
        let mut object = json!({
            "own": one.own,
            "light_fraction_of_own": light_json(one.light),
        });
        put_lasting(&mut object, &one.lasting, no_store);
        object[key] = one
            .value
            .map_or(Value::Null, |value| rounded(value * times, 1));
        object
    };
    tries.iter().map(one).collect()
}

fn light_json(light: Option<f64>) -> Value {
    light.map_or(Value::Null, |light| rounded(light, 4))
}
