//! `forecast`: days to depletion of each camera with odds, and why.

mod odds;

use overwinter_model::Time;
use overwinter_model::draw::Use;
use overwinter_model::season::{End, Ledger, Outcome};
use serde_json::{Map, Value, json};
use time::Date;

pub use odds::Sampled;
pub(super) use odds::{HALF, NINE_TENTHS, TENTH, night_ends, percent, until as until_in};

use super::{assumptions, document, refused, rounded};
use crate::line::{Camera, Line, PackChoice, Season, WeatherOrigin};
use crate::odds::{PARTS, Paths, sample_line_with_charge};
use crate::problem::Failure;
use crate::progress::Progress;
use crate::run::{CameraRun, SeasonAir, run_camera, use_name};
use crate::table::{Column, table};
use crate::words::{self, What};

/// Runs every camera on its own cells.
///
/// # Errors
/// [`Failure::Request`] if a pack's numbers of cells are out of range.
pub fn run(line: &Line) -> Result<Vec<CameraRun>, Failure> {
    let air = SeasonAir::new(line);
    let runs = line.cameras.iter();
    runs.map(|camera| run_camera(line, &air, camera, &camera.pack).map_err(refused))
        .collect()
}

/// Samples so many seasons of the line on its own cells.
///
/// # Errors
/// [`Failure::Request`] if a date in `by` lies outside the season, or no paths can be drawn.
pub fn sample(line: &Line, paths: Paths, by: Vec<Date>) -> Result<Sampled, Failure> {
    let Season { start, end } = line.season;
    if let Some(outside) = by.iter().find(|date| !(start..=end).contains(*date)) {
        return Err(Failure::request(
            format!("--by {outside} is not within the season"),
            format!("expected a date from {start} to {end}"),
        ));
    }
    let cameras: Vec<_> = line.cameras.iter().map(|c| (c, &c.pack)).collect();
    let progress = Progress::new(PARTS as usize, "parts of the paths");
    let watch = || progress.advance(1);
    let odds = sample_line_with_charge(line, &SeasonAir::new(line), &cameras, paths, &watch)
        .map_err(refused)?;
    Ok(Sampled { odds, paths, by })
}

/// `8 x alkaline-aa`, with the strings where there are several.
pub(super) fn cells(pack: &PackChoice) -> String {
    match pack.parallel {
        1 => format!("{} x {}", pack.series, pack.cell.name),
        n => format!("{n} x {} x {}", pack.series, pack.cell.name),
    }
}

/// All that ended, the first first.
pub(super) fn ends(outcome: &Outcome) -> Vec<(What, &End)> {
    let night = outcome.night_pictures_lost.as_ref();
    let uploads = outcome.uploads_failed.as_ref();
    let all = [
        (What::NightPictures, night),
        (What::Uploads, uploads),
        (What::Card, outcome.card_full.as_ref()),
        (What::Camera, outcome.dead.as_ref()),
    ];
    let mut ends: Vec<_> = all
        .into_iter()
        .filter_map(|(what, end)| Some((what, end?)))
        .collect();
    // A stable sort: of two at the same time the lesser stays first.
    ends.sort_by(|a, b| a.1.after.as_seconds().total_cmp(&b.1.after.as_seconds()));
    ends
}

/// When night pictures end: with the flash, or with the camera; never where there is no flash.
pub(super) fn night_end<'a>(camera: &Camera, outcome: &'a Outcome) -> Option<&'a End> {
    let end = outcome.night_pictures_lost.as_ref();
    end.or(outcome.dead.as_ref())
        .filter(|_| camera.draw.night_trigger.is_lit())
}

/// Why the first thing ends, in one phrase.
pub(super) fn first_reason(camera: &Camera, outcome: &Outcome) -> Option<String> {
    let ends = ends(outcome);
    let (what, end) = ends.first()?;
    Some(words::reason(*what, end, &camera.supply))
}

/// The last whole day of something that ends.
fn until(season: &Season, end: Option<&End>) -> String {
    match end {
        None => "season's end".to_owned(),
        Some(end) if end.after.as_days() < 1.0 => "not one day".to_owned(),
        Some(end) => words::date(words::last_good_day(season, end.after)),
    }
}

/// What ends at each camera and why, in a line each.
fn reasons(line: &Line, runs: &[CameraRun]) -> String {
    let lines = line.cameras.iter().zip(runs).map(|(camera, run)| {
        let told = ends(&run.outcome).into_iter().map(|(what, end)| {
            let on = words::date(line.season.date(end.after));
            let verb = what.ended();
            let left = 100.0 * end.charge_left;
            format!(
                "{verb} on {on} ({}; {left:.0} % of the charge is still in)",
                words::reason(what, end, &camera.supply)
            )
        });
        let told: Vec<String> = told.collect();
        let mut said = if told.is_empty() {
            "works to the season's end".to_owned()
        } else {
            told.join(", ")
        };
        let Outcome {
            dark_triggers,
            triggers,
            ..
        } = run.outcome;
        if dark_triggers >= 0.5 {
            said += &format!("; {dark_triggers:.0} of {triggers:.0} triggers find too dim a flash");
        }
        assumptions::wrap(&format!("{}: {said}.", camera.name)) + "\n"
    });
    lines.collect()
}

/// What stands above the expected path where odds stand before it.
const EXPECTED_PATH: &str = "The expected path, with mean weather and mean traffic:\n\n";

/// The answer for a person.
#[must_use]
pub fn text(line: &Line, runs: &[CameraRun], sampled: Option<&Sampled>) -> String {
    let mut text = match sampled {
        None => heading(line),
        Some(sampled) => site_heading(line) + "\n" + &odds::text(line, sampled) + EXPECTED_PATH,
    };
    text.push_str(&ends_table(line, runs));
    text.push_str("\n\n");
    text.push_str(&reasons(line, runs));
    text.push_str("\nWhere the energy in the cells goes, percent:\n\n");
    text.push_str(&budget_table(line, &runs.iter().collect::<Vec<_>>()));
    text.push_str("\n\n");
    text.push_str(&doubts(&line.season, line.cameras.iter().zip(runs)));
    text.push_str(&assumptions::text(line));
    text
}

/// Site, season and where the temperatures come from.
pub(super) fn site_heading(line: &Line) -> String {
    let season = &line.season;
    format!(
        "{}, {} to {} ({} days)\nAir: {}.\n",
        line.site,
        words::date(season.start),
        words::date(season.end),
        season.days(),
        line.climate.origin
    )
}

/// The same, and what the expected path leaves out.
pub(super) fn heading(line: &Line) -> String {
    site_heading(line) + "\n" + &assumptions::wrap(path_taken(&line.climate.origin)) + "\n\n"
}

/// The name of the path in JSON.
pub(super) fn path_name(origin: &WeatherOrigin) -> &'static str {
    match origin {
        WeatherOrigin::FileHours(_) => "replayed",
        _ => "expected",
    }
}

/// What one path through the season leaves out.
fn path_taken(origin: &WeatherOrigin) -> &'static str {
    match origin {
        WeatherOrigin::FileHours(_) => {
            "The file's year as it was, with mean traffic. Another year has other cold spells; a \
             busy trail or a poor set of cells ends sooner."
        }
        _ => {
            "Expected path: mean weather and mean traffic. A cold spell below the monthly means, a \
             busy trail or a poor set of cells ends sooner; to see a cold spell, replay a weather \
             file with weather_use = \"hours\"."
        }
    }
}

fn ends_table(line: &Line, runs: &[CameraRun]) -> String {
    let uploads = line
        .cameras
        .iter()
        .any(|c| c.draw.upload.is_some() || c.draw.check_in.is_some());
    let mut head = vec![
        ("camera", Column::Left),
        ("cells", Column::Left),
        ("night pictures to", Column::Left),
    ];
    if uploads {
        head.push(("uploads to", Column::Left));
    }
    let cards = line.cameras.iter().any(|c| c.draw.card.is_some());
    if cards {
        head.push(("room on card to", Column::Left));
    }
    head.extend([
        ("alive to", Column::Left),
        ("days", Column::Right),
        ("charge left", Column::Right),
    ]);
    let rows = line.cameras.iter().zip(runs).map(|(camera, run)| {
        let outcome = &run.outcome;
        let mut row = vec![camera.name.clone(), cells(&run.pack)];
        row.push(if camera.draw.night_trigger.is_lit() {
            until(&line.season, night_end(camera, outcome))
        } else {
            "no flash".to_owned()
        });
        if uploads {
            row.push(
                if camera.draw.upload.is_some() || camera.draw.check_in.is_some() {
                    until(
                        &line.season,
                        outcome.uploads_failed.as_ref().or(outcome.dead.as_ref()),
                    )
                } else {
                    "no modem".to_owned()
                },
            );
        }
        if cards {
            row.push(if camera.draw.card.is_some() {
                let full = outcome.card_full.as_ref();
                until(&line.season, full.or(outcome.dead.as_ref()))
            } else {
                "not counted".to_owned()
            });
        }
        row.push(until(&line.season, outcome.dead.as_ref()));
        row.push(format!("{:.0}", outcome.followed.as_days()));
        row.push(format!("{:.0} %", 100.0 * outcome.charge_left));
        row
    });
    table(&head, rows.collect())
}

/// What the energy went for, in the order of the table's columns.
pub(super) fn budget(ledger: &Ledger) -> Vec<(&'static str, f64)> {
    let uses = Use::ALL.map(|what| (use_name(what), ledger.used.get(what).as_watt_hours()));
    let mut budget = uses.to_vec();
    budget.extend([
        (
            "lost in cells",
            (ledger.resistive + ledger.held_back).as_watt_hours(),
        ),
        ("self-discharge", ledger.self_discharge.as_watt_hours()),
        ("left in cells", ledger.left.as_watt_hours()),
    ]);
    budget
}

pub(super) fn budget_table(line: &Line, runs: &[&CameraRun]) -> String {
    let budgets: Vec<_> = runs.iter().map(|run| budget(&run.outcome.ledger)).collect();
    let names: Vec<&str> = budgets
        .first()
        .into_iter()
        .flatten()
        .map(|(name, _)| *name)
        .collect();
    // A column that is empty for every camera tells nothing.
    let shown: Vec<usize> = (0..names.len())
        .filter(|&i| budgets.iter().any(|budget| budget[i].1 > 0.0))
        .collect();
    let mut head = vec![("camera", Column::Left), ("Wh", Column::Right)];
    // Of two words the second goes below the first: the table is wide enough.
    let narrow: Vec<String> = names.iter().map(|name| name.replace(' ', "\n")).collect();
    head.extend(shown.iter().map(|&i| (narrow[i].as_str(), Column::Right)));
    let rows = line
        .cameras
        .iter()
        .zip(&budgets)
        .zip(runs)
        .map(|((camera, budget), run)| {
            let put_in = run.outcome.ledger.put_in.as_watt_hours();
            let mut row = vec![camera.name.clone(), format!("{put_in:.1}")];
            row.extend(shown.iter().map(|&i| share(budget[i].1 / put_in)));
            row
        });
    table(&head, rows.collect())
}

/// A share in percent: whole from 10, one digit below, `<0.1` for crumbs.
fn share(share: f64) -> String {
    let percent = 100.0 * share;
    match percent {
        p if p <= 0.0 => "0".to_owned(),
        p if p < 0.1 => "<0.1".to_owned(),
        p if p < 9.95 => format!("{p:.1}"),
        p => format!("{p:.0}"),
    }
}

/// Every doubt by cell, at its worst, and every warning, with the cameras that it is about.
pub(super) fn doubts<'a>(
    season: &Season,
    runs: impl Iterator<Item = (&'a Camera, &'a CameraRun)>,
) -> String {
    let warnings = runs.flat_map(|(camera, run)| {
        let warnings = warnings(season, run).into_iter();
        warnings.map(|warning| (camera.name.as_str(), run.pack.cell.name.as_str(), warning))
    });
    notes(&told_once(warnings))
}

/// A doubt or a warning that several runs may share, at its worst.
pub(super) struct Told<'a> {
    /// The cell that it is about.
    pub(super) cell: &'a str,
    /// As the worst run has it.
    pub(super) warning: Warning,
    /// The cameras that have it.
    pub(super) cameras: Vec<&'a str>,
}

/// Warnings by camera and cell, each told once.
pub(super) fn told_once<'a>(
    warnings: impl Iterator<Item = (&'a str, &'a str, Warning)>,
) -> Vec<Told<'a>> {
    let mut all: Vec<Told<'a>> = Vec::new();
    for (camera, cell, warning) in warnings {
        let same = |told: &&mut Told<'_>| (told.warning.kind, told.cell) == (warning.kind, cell);
        match all.iter_mut().find(same) {
            Some(told) => {
                if !told.cameras.contains(&camera) {
                    told.cameras.push(camera);
                }
                if warning.weight > told.warning.weight {
                    told.warning = warning;
                }
            }
            None => all.push(Told {
                cell,
                warning,
                cameras: vec![camera],
            }),
        }
    }
    all
}

/// What is told once, as lines for a person.
pub(super) fn notes(told: &[Told<'_>]) -> String {
    let lines = told.iter().map(|told| {
        let (cell, cameras, text) = (told.cell, told.cameras.join(", "), &told.warning.text);
        assumptions::wrap(&format!("Note on {cell} ({cameras}): {text}.")) + "\n"
    });
    let text: String = lines.collect();
    if text.is_empty() { text } else { text + "\n" }
}

/// A doubt or a warning about one run.
#[derive(Clone)]
pub(super) struct Warning {
    /// Its name in JSON.
    pub(super) kind: &'static str,
    /// Of two of one kind, the heavier is told.
    weight: f64,
    /// For a person.
    pub(super) text: String,
}

/// Doubts and warnings of one run.
pub(super) fn warnings(season: &Season, run: &CameraRun) -> Vec<Warning> {
    let cell = &run.pack.cell.cell;
    let asked = run.outcome.asked.as_ref();
    let mut warnings: Vec<Warning> = asked
        .into_iter()
        .flat_map(|asked| cell.tested.doubts(asked))
        .map(|doubt| {
            let (kind, text) = words::doubt(&doubt);
            let uncertainty = 100.0 * cell.cold_uncertainty;
            Warning {
                kind,
                weight: words::how_far(&doubt),
                text: format!("{text}, perhaps {uncertainty:.0} % off"),
            }
        })
        .collect();
    if let Some(after) = run.outcome.under_floor {
        let on = words::date(season.date(after));
        let text = format!(
            "from {on} the weakest cell is pulled under {}, where it may leak or reverse; take \
             spent cells out",
            words::volts(cell.floor)
        );
        warnings.push(Warning {
            kind: "cell-under-floor",
            weight: -after.as_days(),
            text,
        });
    }
    warnings
}

/// Warnings for JSON.
pub(super) fn warnings_json(season: &Season, run: &CameraRun) -> Value {
    let warnings = warnings(season, run);
    warnings
        .into_iter()
        .map(|w| json!({ "kind": w.kind, "text": w.text }))
        .collect()
}

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
        "budget_wh": budget_json(&outcome.ledger),
        "assumed": assumptions::json(camera),
        "warnings": warnings_json(season, run),
    })
}

pub(super) fn budget_json(ledger: &Ledger) -> Value {
    let entries = budget(ledger).into_iter().map(|(name, wh)| {
        let key = name.replace([' ', '-'], "_");
        (key, rounded(wh, 5))
    });
    Value::Object(entries.collect::<Map<_, _>>())
}
