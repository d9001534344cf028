//! The answer for a person.

use super::{Cost, Latest, Plan, Visit, Visits};
use crate::command::assumptions::wrap;
use crate::command::forecast::{cells, site_heading};
use crate::odds::Ends;
use crate::table::{Column, table};
use crate::words;

/// Intervals that people plan by, days: weeks, then months.
const INTERVALS: [u32; 9] = [7, 14, 21, 28, 42, 60, 90, 120, 180];

/// More visits than this are counted and not dated.
const MOST_DATES: usize = 8;

/// What to mind on the way.
const CAUTIONS: &str = "Before you go: tell somebody your route and return, all the more alone in \
    frost, and agree when to call; mind ice and early dusk; wear what the hunting season asks for. \
    Change the whole set of cells at once, never old and new together. Local rules come first.";

/// Latest days, the risk by interval, the visits of the season, and cautions.
#[must_use]
pub fn text(plan: &Plan<'_>) -> String {
    let parts = [
        wrap(&how(plan)),
        latest_table(plan),
        "Risk of lost pictures by the end of so many days, percent:".to_owned(),
        risk_table(plan),
        wrap(&visits(plan)),
        wrap(CAUTIONS),
    ];
    site_heading(plan.line) + "\n" + &parts.join("\n\n") + "\n"
}

fn how(plan: &Plan<'_>) -> String {
    let percent = 100.0 * plan.risk.share();
    let error = 100.0 * plan.risk.standard_error(plan.paths);
    format!(
        "Be back by these days, and no more than {} % of {} sampled seasons (seed {}) have lost \
         pictures by then: a night picture without enough light, a full card where `card_gb` is \
         given, or a dead camera. Sampling leaves that risk open by {error:.1} %, one standard \
         deviation. Visits: how many the season takes if each comes on the latest day and brings \
         fresh cells and an empty card; - where one a day would not do.",
        crate::keys::plain(percent),
        plan.paths.count,
        plan.paths.seed
    )
}

fn latest_table(plan: &Plan<'_>) -> String {
    let head = [
        ("camera", Column::Left),
        ("cells", Column::Left),
        ("latest day back", Column::Left),
        ("days", Column::Right),
        ("risk then", Column::Right),
        ("visits", Column::Right),
    ];
    let cameras = plan.line.cameras.iter().zip(&plan.odds.cameras);
    let mut rows: Vec<Vec<String>> = cameras
        .zip(&plan.cameras)
        .map(|((camera, odds), (latest, visits))| {
            let names = [camera.name.clone(), cells(&camera.pack)];
            latest_row(plan, names, *latest, &odds.record_broken, visits)
        })
        .collect();
    let names = ["any camera".to_owned(), String::new()];
    let any = &plan.odds.line_broken;
    rows.push(latest_row(plan, names, plan.any, any, &plan.visits));
    table(&head, rows)
}

fn latest_row(
    plan: &Plan<'_>,
    [name, pack]: [String; 2],
    latest: Latest,
    ends: &Ends,
    visits: &Visits,
) -> Vec<String> {
    let season_days = f64::from(plan.line.season.days());
    let (day, days, risk) = match (latest, plan.date(latest)) {
        (Latest::Day { days: 0, risk }, _) => ("not one day".to_owned(), "0".to_owned(), risk),
        (Latest::Day { days, risk }, Some(date)) => (words::date(date), days.to_string(), risk),
        _ => (
            "no visit needed".to_owned(),
            format!("{season_days:.0}+"),
            ends.ended_share(season_days),
        ),
    };
    let visits = visits.count().map_or("-".to_owned(), |n| n.to_string());
    vec![name, pack, day, days, percent(risk) + " %", visits]
}

/// One digit where it says something.
fn percent(share: f64) -> String {
    let percent = 100.0 * share;
    if percent > 0.0 && percent < 9.95 {
        format!("{percent:.1}")
    } else {
        format!("{percent:.0}")
    }
}

fn risk_table(plan: &Plan<'_>) -> String {
    let season_days = plan.line.season.days().unsigned_abs();
    let within = INTERVALS.into_iter().filter(|days| *days < season_days);
    let intervals: Vec<u32> = within.chain([season_days]).collect();
    let names: Vec<String> = intervals.iter().map(u32::to_string).collect();
    let mut head = vec![("camera", Column::Left)];
    head.extend(names.iter().map(|name| (name.as_str(), Column::Right)));
    let row = |name: &str, ends: &Ends| {
        let risks = intervals
            .iter()
            .map(|&days| percent(ends.ended_share(f64::from(days))));
        [name.to_owned()]
            .into_iter()
            .chain(risks)
            .collect::<Vec<_>>()
    };
    let cameras = plan.line.cameras.iter().zip(&plan.odds.cameras);
    let mut rows: Vec<Vec<String>> = cameras
        .map(|(camera, odds)| row(&camera.name, &odds.record_broken))
        .collect();
    rows.push(row("any camera", &plan.odds.line_broken));
    table(&head, rows)
}

/// How often the line is visited in the season, on which days, and for how much.
fn visits(plan: &Plan<'_>) -> String {
    let risk = crate::keys::plain(100.0 * plan.risk.share());
    let visits = match &plan.visits {
        Visits::Planned(visits) if visits.is_empty() => {
            return "No visit is needed before the season ends.".to_owned();
        }
        Visits::NotEvenDaily(from) => {
            return format!(
                "From {} on not even a visit a day keeps the risk that any camera has lost \
                 pictures within {risk} %: other cells (`compare`) or settings (`settings`) come \
                 first.",
                words::date(*from)
            );
        }
        Visits::Planned(visits) => visits,
    };
    let times = match visits.len() {
        1 => "once".to_owned(),
        n => format!("{n} times"),
    };
    format!(
        "All cameras visited together, {times} in the season, when the risk that any of them has \
         lost pictures reaches {risk} %: {}.{}",
        dates(visits),
        cost(plan, visits.len())
    )
}

/// The first visits; of many the rest as their number and the shortest time between two.
fn dates(visits: &[Visit]) -> String {
    let date = |visit: &Visit| {
        let days = visit.interval_days;
        format!("{} (after {days})", words::date(visit.day))
    };
    let told: Vec<String> = visits.iter().take(MOST_DATES).map(date).collect();
    let told = told.join(", ");
    let beyond = visits.len().saturating_sub(MOST_DATES);
    match visits.iter().map(|visit| visit.interval_days).min() {
        Some(shortest) if beyond > 0 => {
            format!("{told}, and {beyond} more, at the shortest after {shortest}")
        }
        _ => told,
    }
}

/// What the visits cost, as far as the line file has prices.
fn cost(plan: &Plan<'_>, visits: usize) -> String {
    let Cost { walks, cells } = Cost::of(plan.line, visits);
    let amount = |amount: f64| {
        let text = format!("{amount:.2} {}", plan.line.prices.currency);
        text.trim_end().to_owned()
    };
    match (walks, cells) {
        (Some(walks), Some(cells)) => {
            let sum = amount(walks + cells);
            let (walks, cells) = (amount(walks), amount(cells));
            format!(" Cost: {walks} for the walks and {cells} for the cells, {sum} in all.")
        }
        (Some(walks), None) => {
            format!(
                " Cost: {} for the walks; not every cell has a price.",
                amount(walks)
            )
        }
        (None, Some(cells)) => {
            format!(
                " Cost: {} for the cells; `visit` in [prices] adds the walks.",
                amount(cells)
            )
        }
        (None, None) => String::new(),
    }
}
