//! `forecast`: how long each camera runs and takes night pictures, and why.

mod odds;
mod panels;

use overwinter_line::answer::ends::{ended, ends, reason};
use overwinter_line::answer::forecast::{CameraDetails, CameraDocument, Forecast};
use overwinter_line::line::Season;
use overwinter_line::words;
use overwinter_model::season::{End, Ending, Outcome};

use super::budget::{BudgetRow, budget_table};
use super::heading::{budget_heading, path_heading, path_heading_after_odds, site_heading};
use super::notes::notes;
use super::paragraph::wrap;
use super::set::cells;
use super::{figures, json_text};
use crate::table::{Column, Table};

/// The answer for a script.
#[must_use]
pub fn json(forecast: &Forecast) -> String {
    json_text(&forecast.document)
}

/// The answer for a person.
#[must_use]
pub fn text(forecast: &Forecast) -> String {
    let document = &forecast.document;
    let details = &forecast.details;
    let (replayed, has_panels) = (document.replayed(), document.has_panels());
    let mut text = site_heading(&document.site, &document.season, &document.weather);
    text += &panels::text(forecast);
    text.push('\n');
    text += &match (document.paths, document.seed) {
        (Some(count), Some(seed)) => {
            odds::text(forecast, count, seed) + &path_heading_after_odds(replayed, has_panels)
        }
        _ => path_heading(replayed, has_panels),
    };
    text.push_str(&ends_table(forecast));
    text.push_str("\n\n");
    text.push_str(&reasons(forecast));
    text.push('\n');
    text.push_str(&budget_heading(has_panels));
    text.push_str(&budgets(forecast));
    text.push_str("\n\n");
    text.push_str(&notes(&details.warnings));
    text.push_str(&figures::table(&details.figures, details.signal.as_ref()));
    text
}

/// The cameras in their order, with what is said beyond their documents.
fn cameras(forecast: &Forecast) -> impl Iterator<Item = (&CameraDocument, &CameraDetails)> {
    forecast
        .document
        .cameras
        .iter()
        .zip(&forecast.details.cameras)
}

fn budgets(forecast: &Forecast) -> String {
    let rows = cameras(forecast).map(|(camera, details)| BudgetRow {
        name: &camera.name,
        budget: &camera.budget_wh,
        came_wh: details.came_wh(),
    });
    budget_table(&rows.collect::<Vec<_>>())
}

/// The last whole day of something that ends.
fn until(season: &Season, end: Option<&End>) -> String {
    match end {
        None => "season's end".to_owned(),
        Some(end) if end.after.as_days() < 1.0 => "not one day".to_owned(),
        Some(end) => words::date(season.last_good_day(end.after)),
    }
}

/// What ends at each camera and why, in a line each.
fn reasons(forecast: &Forecast) -> String {
    let season = &forecast.document.season;
    let lines = cameras(forecast).map(|(camera, details)| {
        let told = ends(&details.outcome).into_iter().map(|(ending, end)| {
            let on = words::date(season.date(end.after));
            let verb = ended(ending);
            let left = 100.0 * end.charge_left;
            format!(
                "{verb} on {on} ({}; {left:.0} % of the charge is still in)",
                reason(ending, end, &details.supply)
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
        } = details.outcome;
        if dark_triggers >= 0.5 {
            said += &format!("; {dark_triggers:.0} of {triggers:.0} triggers find too dim a flash");
        }
        wrap(&format!("{}: {said}.", camera.name)) + "\n"
    });
    lines.collect()
}

fn ends_table(forecast: &Forecast) -> String {
    let uploads = forecast.details.cameras.iter().any(|one| one.sends);
    let cards = forecast.details.cameras.iter().any(|one| one.counts_card);
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
    let season = &forecast.document.season;
    let dead_or = |outcome: &Outcome, end: Option<&End>| {
        until(season, end.or(outcome.ends[Ending::Camera].as_ref()))
    };
    Table::of(cameras(forecast))
        .with(night, |(camera, details)| {
            let pictures = if details.lit {
                until(season, details.night_end())
            } else {
                "no flash".to_owned()
            };
            [camera.name.clone(), cells(&camera.set), pictures]
        })
        .with_if(uploads, [("uploads to", Column::Left)], |(_, details)| {
            [if details.sends {
                dead_or(
                    &details.outcome,
                    details.outcome.ends[Ending::Uploads].as_ref(),
                )
            } else {
                "no modem".to_owned()
            }]
        })
        .with_if(
            cards,
            [("room on card to", Column::Left)],
            |(_, details)| {
                [if details.counts_card {
                    dead_or(
                        &details.outcome,
                        details.outcome.ends[Ending::CardRoom].as_ref(),
                    )
                } else {
                    "not counted".to_owned()
                }]
            },
        )
        .with(alive, |(_, details)| {
            let outcome = &details.outcome;
            [
                until(season, outcome.ends[Ending::Camera].as_ref()),
                format!("{:.0}", outcome.followed.as_days()),
                format!("{:.0} %", 100.0 * outcome.charge_left),
            ]
        })
        .text()
}
