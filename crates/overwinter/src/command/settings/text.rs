//! The answer for a person.

use overwinter_line::answer::settings::{
    CameraSettings, CameraSettingsDetails, Input, SettingsAnswer, UnknownDocument,
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
        text.push_str(&changes_table(one, details, season_days));
        text.push_str("\n\n");
        if one.now.pictures_kept.is_none() {
            text.push_str(&wrap(NO_PICTURES));
            text.push_str("\n\n");
        }
        text.push_str(&unknowns_base(replayed, one, details));
        text.push_str(&unknowns_table(&one.unknowns, season_days));
        text.push_str("\n\n");
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
        "One setting changed at a time, the best first. Days as in the middle one of {} sampled \
         seasons (seed {}), odds and mean charge at the end from all of them, the same for every \
         change; pictures as {}.{}",
        answer.document.paths,
        answer.document.seed,
        on_path(replayed),
        same_weather(replayed)
    )
}

const FOOTER: &str = "All kept: to the first night picture without enough light, the card full or \
    the camera dead. + outlives the season, or loses nothing in it. Of changes that gain as many days \
    those come first that leave the camera alive in more seasons, then those with more charge left in \
    the pack (the mean over the seasons, a dead camera's as it died). A picture or a video counts as one, those of false triggers too; by \
    pictures: the place of a change when pictures kept decide. What is not known stands one \
    standard deviation down and up, the rest as expected; the first matters most. Whether a dimmer \
    light still reaches the animal, try at the camera.";

const NO_PICTURES: &str = "With some of these settings the expected path ends before the \
    middle one of the seasons does: pictures kept on it would mislead and are left out.";

fn changes_table(
    one: &CameraSettings,
    details: &CameraSettingsDetails,
    season_days: f64,
) -> String {
    let head = [
        ("setting", Column::Left),
        ("alive,\ndays", Column::Right),
        ("gained", Column::Right),
        ("all kept,\ndays", Column::Right),
        ("gained", Column::Right),
        ("alive at\nthe end", Column::Right),
        ("charge left,\nmean", Column::Right),
        ("pictures a\nday, expected", Column::Right),
    ];
    let pictures = [
        ("pictures\nkept, expected", Column::Right),
        ("by\npictures", Column::Right),
    ];
    let now = &one.now;
    let mut rows = vec![("as it is".to_owned(), now, ["", "", ""].map(str::to_owned))];
    let trials = one.settings.iter().zip(&details.changes);
    rows.extend(trials.map(|(trial, [key, from, to])| {
        let measure = &trial.measure;
        let gained = [
            gain(
                trial.days_gained.0,
                measure.days_p50.is_none() && now.days_p50.is_some(),
            ),
            gain(
                trial.all_kept_days_gained.0,
                measure.all_kept_days_p50.is_none() && now.all_kept_days_p50.is_some(),
            ),
            trial
                .place_by_pictures
                .map_or_else(String::new, |place| place.to_string()),
        ];
        (format!("{key} {from} to {to}"), measure, gained)
    }));
    let pictures_tell = now.pictures_kept.is_some();
    Table::of(rows)
        .with(head, |(name, measure, [alive, all_kept, _])| {
            [
                name.clone(),
                days(measure.days_p50.map(|days| days.0), season_days),
                alive.clone(),
                days(measure.all_kept_days_p50.map(|days| days.0), season_days),
                all_kept.clone(),
                percent(measure.odds_alive_at_end.0),
                percent(measure.mean_charge_left_fraction.0),
                format!("{:.1}", measure.pictures_per_day.0),
            ]
        })
        .with_if(pictures_tell, pictures, |(_, measure, [.., place])| {
            let kept = measure.pictures_kept.map_or(0.0, |kept| kept.0);
            [format!("{kept:.0}"), place.clone()]
        })
        .text()
}

/// Whole days, with a plus for what goes on beyond the season.
fn days(days: Option<f64>, season_days: f64) -> String {
    days.map_or_else(|| format!("{season_days:.0}+"), |days| format!("{days:.0}"))
}

/// Days more or less; more than so many where the season's end hides the rest.
fn gain(days: f64, beyond: bool) -> String {
    // A rounded zero keeps no sign.
    let whole = days.round() + 0.0;
    match whole {
        w if beyond => format!(">{w:.0}"),
        w if w.abs() < 0.5 => "0".to_owned(),
        w => format!("{w:+.0}"),
    }
}

fn percent(share: f64) -> String {
    format!("{:.0} %", 100.0 * share)
}

/// What the unknowns are measured against.
fn unknowns_base(replayed: bool, one: &CameraSettings, details: &CameraSettingsDetails) -> String {
    let days = one.now.days_expected.0;
    let beyond = if details.outlives { "+" } else { "" };
    wrap(&format!(
        "What is not known, {} ({days:.0}{beyond} days alive), what matters most first:",
        on_path(replayed)
    )) + "\n\n"
}

fn unknowns_table(unknowns: &[UnknownDocument], season_days: f64) -> String {
    let head = [
        ("not known", Column::Left),
        ("down", Column::Right),
        ("up", Column::Right),
        ("alive, days", Column::Right),
        ("all kept, days", Column::Right),
        ("charge left", Column::Right),
    ];
    let table = Table::of(unknowns).with(head, |unknown| {
        let within = |number: f64| (number < season_days).then_some(number);
        let both = |low: f64, high: f64| {
            let [low, high] = [low, high].map(|number| days(within(number), season_days));
            format!("{low} to {high}")
        };
        let charge = [
            unknown.charge_left_fraction_low.0,
            unknown.charge_left_fraction_high.0,
        ];
        let [charge_low, charge_high] = charge.map(percent);
        [
            input_name(unknown.input).to_owned(),
            unknown.low.clone(),
            unknown.high.clone(),
            both(unknown.days_low.0, unknown.days_high.0),
            both(unknown.all_kept_days_low.0, unknown.all_kept_days_high.0),
            format!("{charge_low} to {charge_high}"),
        ]
    });
    table.text()
}

fn input_name(input: Input) -> &'static str {
    match input {
        Input::Triggers => "triggers",
        Input::Air => "temperature",
        Input::Draw => "draw of the camera",
        Input::Cells => "make of the cells",
        Input::CellsBeyondPoints => "cells beyond published points",
    }
}
