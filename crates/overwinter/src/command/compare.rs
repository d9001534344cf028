//! `compare`: the same line on other cells, side by side.

use overwinter_model::season::End;
use serde_json::{Value, json};

use super::forecast::{
    cells as cells_in_words, doubts, first_reason, heading, night_end, path_name, warnings_json,
};
use super::{document, refused, rounded};
use crate::cells::{self, SharedCell};
use crate::line::{Camera, Line, Misfit, PackChoice, misfit};
use crate::plot::{CameraDays, CellDays, Comparison};
use crate::problem::Failure;
use crate::run::{CameraRun, SeasonAir, run_camera};
use crate::table::{Column, table};
use crate::words;

/// One camera on each of the cells.
pub struct Compared<'a> {
    /// The camera.
    pub camera: &'a Camera,
    /// What came of each of the cells, in the order in which they were asked for.
    pub tries: Vec<Try>,
}

/// One camera on one kind of cell.
pub struct Try {
    /// The pack.
    pub pack: PackChoice,
    /// How it went, or why the camera does not run on it.
    pub run: Result<CameraRun, Misfit>,
}

/// The cells by their names, or out of their files, each once.
///
/// # Errors
/// What [`cells::named`] gives for one that is not known; [`Failure::Request`] for two different
/// cells of one name.
pub fn find_cells(names: &[String]) -> Result<Vec<SharedCell>, Failure> {
    let mut found: Vec<SharedCell> = Vec::new();
    for name in names {
        let cell = cells::named(name.trim())?;
        match found.iter().find(|known| known.name == cell.name) {
            None => found.push(cell),
            Some(known) if *known == cell => {}
            Some(_) => {
                return Err(Failure::request(
                    format!("two different cells are called `{}`", cell.name),
                    "give one of them another `name` in its file",
                ));
            }
        }
    }
    Ok(found)
}

/// Runs every camera on each of `cells`.
///
/// # Errors
/// [`Failure::Request`] if a pack's numbers of cells are out of range.
pub fn run<'a>(line: &'a Line, cells: &[SharedCell]) -> Result<Vec<Compared<'a>>, Failure> {
    let air = SeasonAir::new(line);
    let compared = line.cameras.iter().map(|camera| {
        let tries = cells.iter().map(|cell| {
            let pack = camera.pack.with_cell(cell, &camera.supply);
            let run = match misfit(camera, &pack) {
                Some(misfit) => Err(misfit),
                None => Ok(run_camera(line, &air, camera, &pack).map_err(refused)?),
            };
            Ok(Try { pack, run })
        });
        Ok(Compared {
            camera,
            tries: tries.collect::<Result<_, Failure>>()?,
        })
    });
    compared.collect()
}

/// What a set of cells costs, as far as the line file says.
fn cost(line: &Line, pack: &PackChoice) -> Option<f64> {
    line.prices.of(&pack.cell.name, pack.count())
}

/// The answer for a person.
#[must_use]
pub fn text(line: &Line, compared: &[Compared<'_>]) -> String {
    let priced = !line.prices.per_cell.is_empty();
    let mut head = vec![
        ("camera", Column::Left),
        ("cells", Column::Left),
        ("night pictures,\ndays", Column::Right),
        ("alive,\ndays", Column::Right),
        ("charge\nleft", Column::Right),
    ];
    if priced {
        head.push(("cost of\na set", Column::Right));
    }
    head.push(("first to fail", Column::Left));
    let rows = compared.iter().flat_map(|one| {
        one.tries.iter().enumerate().map(move |(place, tried)| {
            let name = if place == 0 { &one.camera.name } else { "" };
            row(line, one.camera, name, tried, priced)
        })
    });
    let runs = compared.iter().flat_map(|one| {
        let runs = one.tries.iter().filter_map(|tried| tried.run.as_ref().ok());
        runs.map(|run| (one.camera, run))
    });
    let mut text = heading(line);
    text.push_str(&table(&head, rows.collect()));
    text.push_str("\n\n+ outlives the season.\n\n");
    text.push_str(doubts(&line.season, runs).trim_end());
    text.truncate(text.trim_end().len());
    text.push('\n');
    text
}

fn row(line: &Line, camera: &Camera, name: &str, tried: &Try, priced: bool) -> Vec<String> {
    let mut row = vec![name.to_owned(), cells_in_words(&tried.pack)];
    match &tried.run {
        Ok(run) => {
            let outcome = &run.outcome;
            let days = |end: Option<&End>| {
                let after = end.map_or(outcome.followed, |end| end.after);
                let beyond = if end.is_none() { "+" } else { "" };
                format!("{:.0}{beyond}", after.as_days())
            };
            row.push(if camera.draw.night_trigger.is_lit() {
                days(night_end(camera, outcome))
            } else {
                "no flash".to_owned()
            });
            row.push(days(outcome.dead.as_ref()));
            row.push(format!("{:.0} %", 100.0 * outcome.charge_left));
        }
        Err(_) => row.extend(["-", "-", "-"].map(str::to_owned)),
    }
    if priced {
        row.push(
            cost(line, &tried.pack).map_or("no price".to_owned(), |cost| {
                format!("{cost:.2} {}", line.prices.currency)
                    .trim_end()
                    .to_owned()
            }),
        );
    }
    row.push(match &tried.run {
        Ok(run) => first_reason(camera, &run.outcome).unwrap_or("nothing".to_owned()),
        Err(Misfit { what, expected }) => format!("does not fit: {what} ({expected})"),
    });
    row
}

/// The answer as bars of days.
#[must_use]
pub fn bars(line: &Line, compared: &[Compared<'_>]) -> Comparison {
    let cameras = compared.iter().map(|one| CameraDays {
        name: one.camera.name.clone(),
        cells: one
            .tries
            .iter()
            .filter_map(|tried| {
                let run = tried.run.as_ref().ok()?;
                Some(CellDays {
                    cell: tried.pack.cell.name.clone(),
                    days: run.outcome.followed.as_days(),
                    night_days: night_end(one.camera, &run.outcome)
                        .map_or(run.outcome.followed, |end| end.after)
                        .as_days(),
                    outlives: run.outcome.dead.is_none(),
                })
            })
            .collect(),
    });
    Comparison {
        title: format!("{}: days alive on other cells", line.site),
        season_days: f64::from(line.season.days()),
        cameras: cameras.collect(),
    }
}

/// The answer for a script.
#[must_use]
pub fn json(line: &Line, compared: &[Compared<'_>]) -> String {
    let cameras = compared.iter().map(|one| {
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
        "fits": tried.run.is_ok(),
    });
    let more = match &tried.run {
        Ok(run) => run_json(line, camera, run),
        Err(Misfit { what, expected }) => json!({
            "days_expected": null,
            "misfit": format!("{what} (expected {expected})"),
        }),
    };
    if let (Some(object), Value::Object(more)) = (object.as_object_mut(), more) {
        object.extend(more);
    }
    object
}

fn run_json(line: &Line, camera: &Camera, run: &CameraRun) -> Value {
    let outcome = &run.outcome;
    let dead = outcome.dead.as_ref();
    let night = night_end(camera, outcome);
    json!({
        "days_expected": rounded(outcome.followed.as_days(), 3),
        "outlives_season": dead.is_none(),
        "night_pictures_days": night.map(|end| rounded(end.after.as_days(), 3)),
        "end_reason": dead.map_or("season-end", |end| words::cause_key(end.cause)),
        "first_end": first_reason(camera, outcome),
        "charge_left_fraction": rounded(outcome.charge_left, 4),
        "self_discharge_wh": rounded(outcome.ledger.self_discharge.as_watt_hours(), 5),
        "warnings": warnings_json(&line.season, run),
    })
}
