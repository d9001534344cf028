//! Cells side by side for a person.

use overwinter_line::answer::compare::{Comparison, FaredDocument, TryDocument};
use overwinter_line::answer::document::Rounded;
use overwinter_line::answer::ends::{last_day, percent};
use overwinter_line::line::Season;
use overwinter_model::season::Cause;

use crate::command::heading::site_heading;
use crate::command::notes::{beyond_points, notes};
use crate::command::paragraph::wrap;
use crate::command::set::cells;
use crate::table::{Column, Table};

/// The answer for a person.
#[must_use]
pub fn text(answer: &Comparison) -> String {
    let details = &answer.details;
    let heading = site_heading(&answer.document.site, &details.season, &details.weather);
    let mut text = heading + "\n" + &wrap(&explained(answer)) + "\n\n";
    text += &odds_table(answer);
    text += "\n\n";
    if answer
        .document
        .cameras
        .iter()
        .any(|one| !one.pairs.is_empty())
    {
        text += &wrap(PAIRS);
        text += "\n\n";
        text += &pairs_table(answer);
        text += "\n\n";
    }
    let misfits = misfits(answer);
    if !misfits.is_empty() {
        text += &misfits;
        text += "\n";
    }
    text += &notes(&details.warnings);
    text.truncate(text.trim_end().len());
    text.push('\n');
    text
}

/// What the columns mean.
fn explained(answer: &Comparison) -> String {
    let (document, details) = (&answer.document, &answer.details);
    let (count, seed) = (document.paths, document.seed);
    let path = if document.path == "replayed" {
        "in the file's year as it was, with mean traffic"
    } else if details.has_panels {
        "on one path with mean weather and mean traffic, which meets neither a cold spell nor a \
         thaw, neither a clear day nor a dull one: with a panel it may end sooner or later than \
         most seasons"
    } else {
        "on one path with mean weather and mean traffic, which meets no cold spell"
    };
    format!(
        "Odds from {count} sampled seasons (seed {seed}), in which every cell meets the same weather \
         and the same animals. Until that day pictures come and the camera lives in so many of them. \
         Expected: days alive and the first to fail {path}.{}",
        beyond_points(
            details.beyond_points,
            " for the cells that the line file has"
        )
    )
}

/// A row of the table.
struct Row<'a> {
    /// The camera's name, at its first row.
    name: &'a str,
    lit: bool,
    tried: &'a TryDocument,
    first_cause: Option<Cause>,
}

fn rows(answer: &Comparison) -> impl Iterator<Item = Row<'_>> {
    let details = &answer.details;
    let cameras = answer.document.cameras.iter();
    let cameras = cameras.zip(&details.lit).zip(&details.first_causes);
    cameras.flat_map(|((one, lit), causes)| {
        let tries = one.cells.iter().zip(causes).enumerate();
        tries.map(move |(place, (tried, cause))| Row {
            name: if place == 0 { &one.name } else { "" },
            lit: *lit,
            tried,
            first_cause: *cause,
        })
    })
}

fn odds_table(answer: &Comparison) -> String {
    let (document, details) = (&answer.document, &answer.details);
    let head = [
        ("camera", Column::Left),
        ("cells", Column::Left),
        ("night pictures\nin 90 %", Column::Left),
        ("\nin 50 %", Column::Left),
        ("alive\nin 90 %", Column::Left),
        ("\nin 50 %", Column::Left),
        ("alive at\nthe end", Column::Right),
    ];
    let expected = [
        ("expected,\ndays", Column::Right),
        ("first to fail", Column::Left),
    ];
    let table = Table::of(rows(answer))
        .with(head, |row| {
            let [dim_90, dim_50, dead_90, dead_50, at_end] = odds_columns(&details.season, row);
            let cells = cells(&row.tried.set);
            [
                row.name.to_owned(),
                cells,
                dim_90,
                dim_50,
                dead_90,
                dead_50,
                at_end,
            ]
        })
        .with_if(details.priced, [("cost of\na set", Column::Right)], |row| {
            [row.tried.cost.map_or("no price".to_owned(), |cost| {
                let cost = format!("{:.2} {}", cost.0, document.currency);
                cost.trim_end().to_owned()
            })]
        })
        .with(expected, |row| match &row.tried.fared {
            FaredDocument::Runs(run) => [
                format!("{:.0}", run.days_expected.0),
                first_to_fail(row.first_cause).to_owned(),
            ],
            FaredDocument::DoesNotFit { .. } => ["-", "does not fit"].map(str::to_owned),
        });
    table.text()
}

/// What the pairs are.
const PAIRS: &str = "Which cells keep all pictures longer, through the same seasons: a season that \
    both last counts half for each. Below 80 of 100 it is not known which.";

fn pairs_table(answer: &Comparison) -> String {
    let head = [
        ("camera", Column::Left),
        ("longer", Column::Left),
        ("than", Column::Left),
        ("of 100\nseasons", Column::Right),
        ("both to\nthe end", Column::Right),
        ("", Column::Left),
    ];
    let cameras = answer.document.cameras.iter();
    let rows = cameras.flat_map(|one| {
        let pairs = one.pairs.iter().enumerate();
        pairs.map(move |(place, pair)| (if place == 0 { &one.name } else { "" }, pair))
    });
    let table = Table::of(rows).with(head, |(camera, pair)| {
        let doubt = if pair.known { "" } else { "not known which" };
        [
            (*camera).to_owned(),
            pair.longer.clone(),
            pair.shorter.clone(),
            format!("{:.0}", 100.0 * pair.odds_over.0),
            percent(pair.odds_both_to_end.0),
            doubt.to_owned(),
        ]
    });
    table.text()
}

fn odds_columns(season: &Season, row: &Row<'_>) -> [String; 5] {
    let odds = &row.tried.odds;
    let Some(alive_at_end) = odds.odds_alive_at_end else {
        return ["-"; 5].map(str::to_owned);
    };
    let until = |days: Option<Rounded<3>>| last_day(season, days.map(|days| days.0));
    let night = |days| {
        if row.lit {
            until(days)
        } else {
            "no flash".to_owned()
        }
    };
    [
        night(odds.night_pictures_days_p10),
        night(odds.night_pictures_days_p50),
        until(odds.days_p10),
        until(odds.days_p50),
        percent(alive_at_end.0),
    ]
}

/// The first thing to fail, in a word or two: `forecast` has its voltage and its temperature.
fn first_to_fail(cause: Option<Cause>) -> &'static str {
    match cause {
        None => "nothing",
        Some(Cause::VoltageUnderFlash) => "flash: voltage",
        Some(Cause::VoltageUnderUpload) => "modem: voltage",
        Some(Cause::VoltageUnderPicture) => "picture: voltage",
        Some(Cause::VoltageAsleep) => "standby: voltage",
        Some(Cause::WeakestCellEmpty) => "weakest cell empty",
        Some(Cause::CardFull) => "card full",
        Some(Cause::StoreEmpty) => "store empty",
        Some(other) => other.key(),
    }
}

/// Why cells do not fit, where there are such.
fn misfits(answer: &Comparison) -> String {
    let told = answer.document.cameras.iter().flat_map(|one| {
        one.cells.iter().filter_map(|tried| {
            let FaredDocument::DoesNotFit { misfit, .. } = &tried.fared else {
                return None;
            };
            let (camera, pack) = (&one.name, cells(&tried.set));
            let told = format!("{camera} does not run on {pack}: {misfit}.");
            Some(wrap(&told) + "\n")
        })
    });
    told.collect()
}
