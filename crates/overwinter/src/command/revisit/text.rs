//! The answer for a person.

use overwinter_line::answer::path::replayed;
use overwinter_line::answer::revisit::{Cost, Latest, Plan, Visit, Visits, by_end_of};
use overwinter_line::line::Line;
use overwinter_line::odds::Lost;
use overwinter_line::words;

use crate::command::heading::{line_heading, same_weather};
use crate::command::paragraph::wrap;
use crate::command::set::cells;
use crate::table::{Column, Table};

/// Intervals that people plan by, days: weeks, then months.
const INTERVALS: [u32; 9] = [7, 14, 21, 28, 42, 60, 90, 120, 180];

/// More visits than this are counted and not dated.
const MOST_DATES: usize = 8;

/// Nobody walks a line more often than every so many days for long.
const SHORTEST_DAYS: u32 = 2;

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
        format!(
            "Risk of lost pictures by the end of the day that comes so many days after {}, percent:",
            words::date(plan.line.season.start)
        ),
        risk_table(plan),
        wrap(&visits(plan)),
        wrap(CAUTIONS),
    ];
    line_heading(plan.line) + "\n" + &parts.join("\n\n") + "\n"
}

fn how(plan: &Plan<'_>) -> String {
    let percent = 100.0 * plan.risk.share();
    let error = 100.0 * plan.risk.standard_error(plan.paths);
    format!(
        "Be back by these days, and no more than {} % of {} sampled seasons (seed {}) have lost \
         pictures by the end of that day: a night picture without enough light, a full card where \
         `card_gb` is given, or a dead camera. Days are counted after {}, which is day 0, and every \
         risk is that at the end of its day, as in `forecast --by`.{} Sampling leaves that risk open by {error:.1} %, one \
         standard deviation. The risk is that of one interval, taken again at each visit. Visits: \
         how many the season takes if each comes on the latest day and brings fresh cells and an \
         empty card; in all: the risk that the whole season then loses anything, as if one \
         interval told nothing of the next; - where one visit a day would not do.",
        words::plain(percent),
        plan.paths.count,
        plan.paths.seed,
        words::date(plan.line.season.start),
        same_weather(replayed(&plan.line.climate.origin))
    )
}

fn latest_table(plan: &Plan<'_>) -> String {
    let head = [
        ("camera", Column::Left),
        ("cells", Column::Left),
        ("latest day back", Column::Left),
        ("days", Column::Right),
        ("risk then", Column::Right),
        ("a day later", Column::Right),
        ("visits", Column::Right),
        ("in all", Column::Right),
    ];
    let cameras = plan.line.cameras.iter().zip(&plan.cameras);
    let mut rows: Vec<[String; 8]> = cameras
        .map(|(camera, (latest, visits))| {
            let names = [camera.name.clone(), cells(&(&camera.pack).into())];
            latest_row(plan, names, *latest, visits)
        })
        .collect();
    let names = ["any camera".to_owned(), String::new()];
    rows.push(latest_row(plan, names, plan.any, &plan.visits));
    Table::of(rows).with(head, Clone::clone).text()
}

fn latest_row(
    plan: &Plan<'_>,
    [name, pack]: [String; 2],
    latest: Latest,
    visits: &Visits,
) -> [String; 8] {
    let told = |share: f64| percent(share) + " %";
    let (days, risk, later) = match latest {
        Latest::NoVisit { risk } => (format!("{}+", last_day(plan.line)), risk, String::new()),
        Latest::Day {
            days,
            risk,
            a_day_later,
        } => (days.to_string(), risk, told(a_day_later)),
    };
    let day = plan.back(latest, "");
    let none = || "-".to_owned();
    let count = visits.count().map_or_else(none, |n| n.to_string());
    let in_all = visits.season_risk().map_or_else(none, told);
    [name, pack, day, days, told(risk), later, count, in_all]
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

/// The season's last day, as days after its first.
fn last_day(line: &Line) -> u32 {
    line.season.days().unsigned_abs().saturating_sub(1)
}

fn risk_table(plan: &Plan<'_>) -> String {
    let last = last_day(plan.line);
    let within = INTERVALS.into_iter().filter(|days| *days < last);
    let cameras = plan.line.cameras.iter().zip(&plan.odds.cameras);
    let cameras = cameras.map(|(camera, odds)| (camera.name.as_str(), &odds.lost[Lost::Record]));
    let rows = cameras.chain([("any camera", &plan.odds.line_broken)]);
    let names = Table::of(rows).with([("camera", Column::Left)], |(name, _)| [(*name).to_owned()]);
    let table = within.chain([last]).fold(names, |table, days| {
        table.with([(&days.to_string(), Column::Right)], |(_, ends)| {
            [percent(by_end_of(ends, days))]
        })
    });
    table.text()
}

/// How often the line is visited in the season, on which days, and for how much.
fn visits(plan: &Plan<'_>) -> String {
    let risk = words::plain(100.0 * plan.risk.share());
    let visits = match &plan.visits {
        Visits::Planned { visits, .. } if visits.is_empty() => {
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
        Visits::Planned { visits, .. } => visits,
    };
    let times = match visits.len() {
        1 => "once".to_owned(),
        n => format!("{n} times"),
    };
    let season = plan.visits.season_risk().unwrap_or(0.0);
    let shortest = visits.iter().map(|visit| visit.interval_days).min();
    let advice = match shortest {
        Some(days) if days < SHORTEST_DAYS => {
            " Nobody can be there so often: other cells (`compare`) or settings (`settings`) come \
             first."
        }
        _ => "",
    };
    format!(
        "All cameras visited together, {times} in the season, when the risk since the visit before \
         that any of them has lost pictures reaches {risk} %: {}. With every visit on its day the \
         season loses something with {} %.{advice}{}",
        dates(visits),
        percent(season),
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
    let cost = Cost::of(plan.line, visits, &plan.due);
    let amount = |amount: f64| {
        let text = format!("{amount:.2} {}", plan.line.prices.currency);
        text.trim_end().to_owned()
    };
    let walks = cost.walks.map(|walks| amount(walks) + " for the walks");
    let cells = cost.all_cells.zip(cost.due_cells);
    let told = match (walks, cells) {
        (None, None) => return String::new(),
        (Some(walks), None) => return format!(" Cost: {walks}; not every cell has a price."),
        (walks, Some((all, due))) => {
            let missing = match walks {
                Some(_) => "",
                None => " `visit` in [prices] adds the walks.",
            };
            let walks = walks.map_or_else(String::new, |walks| walks + "; ");
            format!(
                "{walks}{} for the cells if every set is changed at each visit, as the risk above \
                 takes it; {} if a set is changed only where its own latest day comes before the \
                 next visit ({}): each camera keeps within its own risk so, and the line has more \
                 than said.{missing}",
                amount(all),
                amount(due),
                sets(plan)
            )
        }
    };
    format!(" Cost: {told}")
}

/// How many fresh sets each camera is due.
fn sets(plan: &Plan<'_>) -> String {
    let cameras = plan.line.cameras.iter().zip(&plan.due);
    let sets = cameras.map(|(camera, due)| format!("{} {due}", camera.name));
    sets.collect::<Vec<_>>().join(", ")
}
