//! The answer for a person.

use overwinter_line::answer::budget::Budget;
use overwinter_line::answer::path::{has_panels, replayed};
use overwinter_line::answer::settings::{Ends, Input, Tried, Unknown};
use overwinter_line::line::Line;
use overwinter_line::odds::Paths;
use overwinter_model::season::Ending;

use crate::command::budget::{BudgetRow, budget_table};
use crate::command::heading::{budget_heading, line_heading, on_path, path_heading, same_weather};
use crate::command::paragraph::wrap;
use crate::command::set::cells;
use crate::table::{Column, Table};

/// What uses the charge, the changes of each camera, and what is not known.
#[must_use]
pub fn text(line: &Line, tried: &[Tried<'_>], paths: Paths) -> String {
    let season_days = f64::from(line.season.days());
    let (replayed, has_panels) = (replayed(&line.climate.origin), has_panels(line));
    let mut text = line_heading(line) + "\n" + &path_heading(replayed, has_panels);
    text.push_str(&budget_heading(has_panels));
    text.push_str(&budgets(tried));
    text.push_str("\n\n");
    text.push_str(&wrap(&how(line, paths)));
    text.push_str("\n\n");
    for one in tried {
        let pack = cells(&(&one.run.pack).into());
        text.push_str(&format!("{}, {pack}\n\n", one.camera.name));
        text.push_str(&changes_table(one, season_days));
        text.push_str("\n\n");
        if !one.pictures_tell {
            text.push_str(&wrap(NO_PICTURES));
            text.push_str("\n\n");
        }
        text.push_str(&unknowns_base(line, one));
        text.push_str(&unknowns_table(&one.unknowns, season_days));
        text.push_str("\n\n");
    }
    text.push_str(&wrap(FOOTER));
    text.push('\n');
    text
}

fn budgets(tried: &[Tried<'_>]) -> String {
    let budgets: Vec<Budget> = tried
        .iter()
        .map(|one| Budget::of(&one.run.outcome.ledger))
        .collect();
    let rows = tried.iter().zip(&budgets).map(|(one, budget)| {
        let ledger = &one.run.outcome.ledger;
        BudgetRow {
            name: &one.camera.name,
            budget,
            came_wh: (ledger.put_in + ledger.panel.stored()).as_watt_hours(),
        }
    });
    budget_table(&rows.collect::<Vec<_>>())
}

fn how(line: &Line, paths: Paths) -> String {
    let replayed = replayed(&line.climate.origin);
    format!(
        "One setting changed at a time, the best first. Days as in the middle one of {} sampled \
         seasons (seed {}), odds and mean charge at the end from all of them, the same for every \
         change; pictures as {}.{}",
        paths.count,
        paths.seed,
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

fn changes_table(one: &Tried<'_>, season_days: f64) -> String {
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
    rows.extend(one.trials.iter().map(|trial| {
        let change = &trial.change;
        let [alive, all_kept, ..] = trial.gain;
        let measure = &trial.measure;
        let gained = [
            gain(alive, measure.days_p50.is_none() && now.days_p50.is_some()),
            gain(
                all_kept,
                measure.all_kept_days_p50.is_none() && now.all_kept_days_p50.is_some(),
            ),
            trial.place_by_pictures.to_string(),
        ];
        let name = format!("{} {} to {}", change.key, change.from, change.to);
        (name, measure, gained)
    }));
    Table::of(rows)
        .with(head, |(name, measure, [alive, all_kept, _])| {
            [
                name.clone(),
                days(measure.days_p50, season_days),
                alive.clone(),
                days(measure.all_kept_days_p50, season_days),
                all_kept.clone(),
                percent(measure.alive_at_end),
                percent(measure.charge_left),
                format!("{:.1}", measure.pictures_per_day),
            ]
        })
        .with_if(one.pictures_tell, pictures, |(_, measure, [.., place])| {
            [format!("{:.0}", measure.pictures_kept), place.clone()]
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
fn unknowns_base(line: &Line, one: &Tried<'_>) -> String {
    let outcome = &one.run.outcome;
    let days = outcome.followed.as_days();
    let beyond = if outcome.ends[Ending::Camera].is_none() {
        "+"
    } else {
        ""
    };
    wrap(&format!(
        "What is not known, {} ({days:.0}{beyond} days alive), what matters most first:",
        on_path(replayed(&line.climate.origin))
    )) + "\n\n"
}

fn unknowns_table(unknowns: &[Unknown], season_days: f64) -> String {
    let head = [
        ("not known", Column::Left),
        ("down", Column::Right),
        ("up", Column::Right),
        ("alive, days", Column::Right),
        ("all kept, days", Column::Right),
        ("charge left", Column::Right),
    ];
    let table = Table::of(unknowns).with(head, |unknown| {
        let [low, high] = &unknown.values;
        let both = |of: &dyn Fn(&Ends) -> String| {
            let [low, high] = &unknown.ends;
            format!("{} to {}", of(low), of(high))
        };
        let within = |days: f64| (days < season_days).then_some(days);
        [
            input_name(unknown.input).to_owned(),
            low.clone(),
            high.clone(),
            both(&|ends| days(within(ends.alive_days), season_days)),
            both(&|ends| days(within(ends.all_kept_days), season_days)),
            both(&|ends| percent(ends.charge_left)),
        ]
    });
    table.text()
}

fn input_name(input: Input) -> &'static str {
    match input {
        Input::Triggers => "triggers",
        Input::Air => "temperature",
        Input::Draw => "draw of the camera",
        Input::Cells => "this set of cells",
        Input::CellsBeyondPoints => "cells beyond published points",
    }
}
