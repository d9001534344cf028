//! The answer for a person.

use overwinter_line::answer::settings::{
    CameraSettings, CameraSettingsDetails, MeasureDocument, SettingsAnswer, TrialDocument,
    UnknownDocument,
};

use crate::command::budget::{BudgetRow, budget_table};
use crate::command::heading::{budget_heading, on_path, path_heading, same_weather, site_heading};
use crate::command::paragraph::wrap;
use crate::command::set::cells;
use crate::table::{Column, Table};

/// What uses the charge, the changes of each camera, and what is not known.
#[must_use]
pub fn text(answer: &SettingsAnswer) -> String {
    let (document, details) = (&answer.document, &answer.details);
    let season_days = f64::from(document.season_days);
    let replayed = document.path == "replayed";
    let mut text = site_heading(&document.site, &details.season, &details.weather);
    text.push('\n');
    text.push_str(&path_heading(replayed, details.has_panels));
    text.push_str(&budget_heading(details.has_panels));
    text.push_str(&budgets(answer));
    text.push_str("\n\n");
    text.push_str(&wrap(&how(answer, replayed)));
    text.push_str("\n\n");
    for (one, details) in document.cameras.iter().zip(&details.cameras) {
        text.push_str(&format!("{}, {}\n\n", one.name, cells(&details.set)));
        text.push_str(&changes_table(one, details));
        text.push_str("\n\n");
        text.push_str(&left_out(one));
        if one.now.pictures_kept.is_none() {
            text.push_str(&wrap(NO_PICTURES));
            text.push_str("\n\n");
        }
        text.push_str(&unknowns(one, season_days));
    }
    text.push_str(&wrap(FOOTER));
    text.push('\n');
    text
}

fn budgets(answer: &SettingsAnswer) -> String {
    let cameras = answer.document.cameras.iter().zip(&answer.details.cameras);
    let rows = cameras.map(|(camera, details)| BudgetRow {
        name: &camera.name,
        budget: &camera.budget_wh,
        came_wh: details.came_wh,
    });
    budget_table(&rows.collect::<Vec<_>>())
}

fn how(answer: &SettingsAnswer, replayed: bool) -> String {
    format!(
        "One setting changed at a time through the same {} sampled seasons (seed {}), the best first; \
         pictures {}.{}",
        answer.document.paths,
        answer.document.seed,
        on_path(replayed),
        same_weather(replayed)
    )
}

const FOOTER: &str = "All kept: no night picture without enough light, card not full, camera \
    alive. Days: mean over the seasons, to the season's end at most. Points: of a hundred seasons. A \
    picture or a video counts as one, those of false triggers too; by pictures: the place of a \
    change when pictures kept decide. Whether a dimmer light still reaches the animal, try at the \
    camera.";

const NO_PICTURES: &str = "With some of these settings the expected path ends before the \
    middle one of the seasons does: pictures kept on it would mislead and are left out.";

/// A row of the changes: what stands first in it, how the camera does, and what is gained.
struct Row<'a> {
    name: String,
    measure: &'a MeasureDocument,
    gained: Option<&'a TrialDocument>,
}

fn changes_table(one: &CameraSettings, details: &CameraSettingsDetails) -> String {
    let head = [
        ("setting", Column::Left),
        ("all kept to\nthe end", Column::Right),
        ("gained,\npoints", Column::Right),
        ("alive at\nthe end", Column::Right),
        ("gained,\npoints", Column::Right),
        ("days all kept,\ngained", Column::Right),
        ("pictures\na day", Column::Right),
    ];
    let pictures = [
        ("pictures\nkept", Column::Right),
        ("by\npictures", Column::Right),
    ];
    let trials = one.settings.iter().zip(&details.changes);
    let telling = trials.filter(|(trial, _)| trial.moves_result);
    let rows = std::iter::once(Row {
        name: "as it is".to_owned(),
        measure: &one.now,
        gained: None,
    })
    .chain(telling.map(|(trial, [key, from, to])| Row {
        name: format!("{key} {from} to {to}"),
        measure: &trial.measure,
        gained: Some(trial),
    }));
    Table::of(rows)
        .with(head, |row| {
            let points = |of: fn(&TrialDocument) -> f64| {
                row.gained
                    .map_or_else(String::new, |trial| signed(100.0 * of(trial)))
            };
            [
                row.name.clone(),
                percent(row.measure.odds_record_whole_at_end.0),
                points(|trial| trial.odds_record_whole_gained.0),
                percent(row.measure.odds_alive_at_end.0),
                points(|trial| trial.odds_alive_at_end_gained.0),
                row.gained
                    .map_or_else(String::new, |trial| signed(trial.all_kept_days_gained.0)),
                format!("{:.1}", row.measure.pictures_per_day.0),
            ]
        })
        .with_if(one.now.pictures_kept.is_some(), pictures, |row| {
            let kept = row.measure.pictures_kept.map_or(0.0, |kept| kept.0);
            let place = row.gained.and_then(|trial| trial.place_by_pictures);
            let place = place.map_or_else(String::new, |place| place.to_string());
            [format!("{kept:.0}"), place]
        })
        .text()
}

/// How many changes were tried that move nothing.
fn left_out(one: &CameraSettings) -> String {
    let all = one.settings.len();
    let still = one.settings.iter().filter(|trial| !trial.moves_result);
    match still.count() {
        0 => String::new(),
        some if some == all => {
            wrap("No setting matters here: none moves the result by more than its sampling error.")
                + "\n\n"
        }
        1 => wrap("1 more change moves the result by no more than its sampling error.") + "\n\n",
        some => {
            let more = "more changes move the result by no more than its sampling error.";
            wrap(&format!("{some} {more}")) + "\n\n"
        }
    }
}

/// A whole number with its sign, but for zero.
fn signed(number: f64) -> String {
    // A rounded zero keeps no sign.
    let whole = number.round() + 0.0;
    if whole.abs() < 0.5 {
        "0".to_owned()
    } else {
        format!("{whole:+.0}")
    }
}

fn percent(share: f64) -> String {
    format!("{:.0} %", 100.0 * share)
}

/// What is not known, and what to measure.
fn unknowns(one: &CameraSettings, season_days: f64) -> String {
    if one.unknowns.is_empty() {
        return wrap(
            "Nothing of what is not known moves the result by more than its sampling error.",
        ) + "\n\n";
    }
    let intro = wrap(
        "What is not known, the most telling first: how the camera does in the fifth of the seasons \
         where it is lowest and in the fifth where it is highest; and to what the days from p10 to p90 \
         of the first loss would narrow if it were known.",
    );
    let table = unknowns_table(&one.unknowns, season_days);
    let measure = measure_first(&one.unknowns);
    format!("{intro}\n\n{table}\n\n{measure}")
}

fn unknowns_table(unknowns: &[UnknownDocument], season_days: f64) -> String {
    let head = [
        ("not known", Column::Left),
        ("lowest\nfifth", Column::Right),
        ("highest\nfifth", Column::Right),
        ("all kept\nto the end", Column::Right),
        ("first loss\nafter, days", Column::Right),
        ("if known,\nband", Column::Right),
    ];
    let table = Table::of(unknowns).with(head, |unknown| {
        let whole = [
            unknown.odds_record_whole_low.0,
            unknown.odds_record_whole_high.0,
        ];
        let [whole_low, whole_high] = whole.map(percent);
        let days = [
            unknown.all_kept_days_p50_low.0,
            unknown.all_kept_days_p50_high.0,
        ];
        let [days_low, days_high] = days.map(|days| {
            let beyond = if days < season_days { "" } else { "+" };
            format!("{days:.0}{beyond}")
        });
        [
            unknown.what.clone(),
            unknown.low.clone(),
            unknown.high.clone(),
            format!("{whole_low} to {whole_high}"),
            format!("{days_low} to {days_high}"),
            percent(unknown.band_if_known_fraction.0),
        ]
    });
    table.text()
}

/// The first of the unknowns that can be measured beforehand, and how.
fn measure_first(unknowns: &[UnknownDocument]) -> String {
    let first = unknowns
        .iter()
        .find_map(|unknown| Some((unknown, unknown.measure?)));
    first.map_or_else(String::new, |(unknown, how)| {
        wrap(&format!(
            "Measure first: {}. {}.",
            unknown.what,
            capital(how)
        )) + "\n\n"
    })
}

/// A sentence's first letter.
fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().chain(letters).collect()
    })
}
