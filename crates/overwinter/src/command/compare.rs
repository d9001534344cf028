//! `compare`: the same line on other cells, side by side.

use serde_json::{Value, json};

use super::forecast::{cells as cells_in_words, first_reason, heading, warnings_json};
use super::{document, rounded};
use crate::cells::{self, SharedCell};
use crate::line::{Camera, Line};
use crate::plot::{CameraDays, CellDays, Comparison};
use crate::problem::Failure;
use crate::run::{CameraRun, SeasonAir, run_camera};
use crate::table::{Column, table};
use crate::words;

/// One camera on each of the cells.
pub struct Compared<'a> {
    /// The camera.
    pub camera: &'a Camera,
    /// Its runs in the order of the cells asked for.
    pub runs: Vec<CameraRun>,
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
        let runs = cells.iter().map(|cell| {
            let pack = camera.pack.with_cell(cell, &camera.supply);
            run_camera(line, &air, camera, &pack).map_err(|why| Failure::Request {
                message: why.to_string(),
                help: None,
            })
        });
        Ok(Compared {
            camera,
            runs: runs.collect::<Result<_, _>>()?,
        })
    });
    compared.collect()
}

/// What a set of cells costs, as far as the line file says.
fn cost(line: &Line, run: &CameraRun) -> Option<f64> {
    line.prices.of(&run.pack.cell.name, run.pack.count())
}

/// The answer for a person.
#[must_use]
pub fn text(line: &Line, compared: &[Compared<'_>]) -> String {
    let priced = !line.prices.per_cell.is_empty();
    let mut head = vec![
        ("camera", Column::Left),
        ("cells", Column::Left),
        ("night pictures, days", Column::Right),
        ("alive, days", Column::Right),
        ("charge left", Column::Right),
    ];
    if priced {
        head.push(("cost of a set", Column::Right));
    }
    head.push(("first to fail", Column::Left));
    let rows = compared.iter().flat_map(|one| {
        one.runs.iter().enumerate().map(move |(place, run)| {
            let outcome = &run.outcome;
            let night = outcome
                .night_pictures_lost
                .as_ref()
                .map_or(outcome.followed, |end| end.after);
            let beyond = |end: bool| if end { "" } else { "+" };
            let name = if place == 0 {
                one.camera.name.clone()
            } else {
                String::new()
            };
            let mut row = vec![
                name,
                cells_in_words(&run.pack),
                format!(
                    "{:.0}{}",
                    night.as_days(),
                    beyond(outcome.night_pictures_lost.is_some() || outcome.dead.is_some())
                ),
                format!(
                    "{:.0}{}",
                    outcome.followed.as_days(),
                    beyond(outcome.dead.is_some())
                ),
                format!("{:.0} %", 100.0 * outcome.charge_left),
            ];
            if priced {
                row.push(cost(line, run).map_or("no price".to_owned(), |cost| {
                    format!("{cost:.2} {}", line.prices.currency)
                        .trim_end()
                        .to_owned()
                }));
            }
            row.push(ends_first(one.camera, run));
            row
        })
    });
    let mut text = heading(line);
    text.push_str(&table(&head, rows.collect()));
    text.push_str("\n\n+ outlives the season.\n");
    text
}

fn ends_first(camera: &Camera, run: &CameraRun) -> String {
    first_reason(camera, &run.outcome).unwrap_or("nothing".to_owned())
}

/// The answer as bars of days.
#[must_use]
pub fn bars(line: &Line, compared: &[Compared<'_>]) -> Comparison {
    let cameras = compared.iter().map(|one| CameraDays {
        name: one.camera.name.clone(),
        cells: one
            .runs
            .iter()
            .map(|run| CellDays {
                cell: run.pack.cell.name.clone(),
                days: run.outcome.followed.as_days(),
                outlives: run.outcome.dead.is_none(),
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
        let cells = one.runs.iter().map(|run| cell_json(line, one.camera, run));
        json!({ "name": one.camera.name, "cells": cells.collect::<Vec<_>>() })
    });
    document(&json!({
        "site": line.site,
        "season_days": line.season.days(),
        "currency": line.prices.currency,
        "path": "expected",
        "cameras": cameras.collect::<Vec<_>>(),
    }))
}

fn cell_json(line: &Line, camera: &Camera, run: &CameraRun) -> Value {
    let outcome = &run.outcome;
    let night = outcome.night_pictures_lost.as_ref();
    json!({
        "cell": run.pack.cell.name,
        "series": run.pack.series,
        "parallel": run.pack.parallel,
        "days_expected": rounded(outcome.followed.as_days(), 3),
        "outlives_season": outcome.dead.is_none(),
        "night_pictures_days": night.map(|end| rounded(end.after.as_days(), 3)),
        "end_reason": outcome.dead.as_ref().map_or("season-end", |end| words::cause_key(end.cause)),
        "first_end": ends_first(camera, run),
        "charge_left_fraction": rounded(outcome.charge_left, 4),
        "self_discharge_wh": rounded(outcome.ledger.self_discharge.as_watt_hours(), 5),
        "cost": cost(line, run).map(|cost| rounded(cost, 2)),
        "mass_g": rounded(run.pack.cell.mass_g * f64::from(run.pack.count()), 1),
        "warnings": warnings_json(&line.season, run),
    })
}
