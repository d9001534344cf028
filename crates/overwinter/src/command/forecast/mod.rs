//! `forecast`: days to depletion of each camera with odds, and why.

mod budget;
mod json;
mod odds;
mod panels;
mod path;
mod warnings;

pub(super) use budget::budget_table;
pub(super) use json::budget_json;
pub use json::json;
pub(super) use path::{budget_heading, on_path, same_weather};
pub(super) use warnings::{doubts, left_out, notes, warnings_json};

use overwinter_model::season::{End, Outcome};

use super::assumptions;
use crate::table::{Column, Table};
use overwinter_line::answer::ends::{ends, night_end};
use overwinter_line::answer::forecast::Sampled;
use overwinter_line::line::{Camera, Line, PackChoice, Season};
use overwinter_line::run::CameraRun;
use overwinter_line::words;

/// `8 x alkaline-aa`, with the strings where there are several.
pub(super) fn cells(pack: &PackChoice) -> String {
    match pack.parallel {
        1 => format!("{} x {}", pack.series, pack.cell.name),
        n => format!("{n} x {} x {}", pack.series, pack.cell.name),
    }
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

/// The answer for a person.
#[must_use]
pub fn text(line: &Line, runs: &[CameraRun], sampled: Option<&Sampled>) -> String {
    let mut text = match sampled {
        None => site_heading(line) + &panels::text(line) + "\n" + &path::heading(line),
        Some(sampled) => {
            site_heading(line)
                + &panels::text(line)
                + "\n"
                + &odds::text(line, runs, sampled)
                + &path::heading_after_odds(line)
        }
    };
    text.push_str(&ends_table(line, runs));
    text.push_str("\n\n");
    text.push_str(&reasons(line, runs));
    text.push('\n');
    text.push_str(&budget_heading(line));
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
        "{}, {} to {} ({})\n{}\n",
        line.site,
        words::date(season.start),
        words::date(season.end),
        words::length(season),
        assumptions::wrap(&format!("Air: {}.", line.climate.origin))
    )
}

/// The same, and what the expected path leaves out.
pub(super) fn heading(line: &Line) -> String {
    site_heading(line) + "\n" + &path::heading(line)
}

fn ends_table(line: &Line, runs: &[CameraRun]) -> String {
    let uploads = line.cameras.iter().any(Camera::sends);
    let cards = line.cameras.iter().any(|c| c.draw.card.is_some());
    let night = [
        ("camera", Column::Left),
        ("cells", Column::Left),
        ("night pictures to", Column::Left),
    ];
    let alive = [
        ("alive to", Column::Left),
        ("days", Column::Right),
        ("charge left", Column::Right),
    ];
    let season = &line.season;
    let dead_or =
        |outcome: &Outcome, end: Option<&End>| until(season, end.or(outcome.dead.as_ref()));
    Table::of(line.cameras.iter().zip(runs))
        .with(night, |(camera, run)| {
            let pictures = if camera.draw.night_trigger.is_lit() {
                until(season, night_end(camera, &run.outcome))
            } else {
                "no flash".to_owned()
            };
            [camera.name.clone(), cells(&run.pack), pictures]
        })
        .with_if(uploads, [("uploads to", Column::Left)], |(camera, run)| {
            [if camera.sends() {
                dead_or(&run.outcome, run.outcome.uploads_failed.as_ref())
            } else {
                "no modem".to_owned()
            }]
        })
        .with_if(
            cards,
            [("room on card to", Column::Left)],
            |(camera, run)| {
                [if camera.draw.card.is_some() {
                    dead_or(&run.outcome, run.outcome.card_full.as_ref())
                } else {
                    "not counted".to_owned()
                }]
            },
        )
        .with(alive, |(_, run)| {
            let outcome = &run.outcome;
            [
                until(season, outcome.dead.as_ref()),
                format!("{:.0}", outcome.followed.as_days()),
                format!("{:.0} %", 100.0 * outcome.charge_left),
            ]
        })
        .text()
}
