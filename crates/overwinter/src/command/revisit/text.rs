//! The answer for a person.

use overwinter_line::answer::revisit::{LatestDocument, Revisit, VisitDocument, VisitsDocument};
use overwinter_line::words;

use super::back;
use crate::command::heading::{same_weather, site_heading};
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
pub fn text(answer: &Revisit) -> String {
    let parts = [
        wrap(&how(answer)),
        latest_table(answer),
        format!(
            "Risk of lost pictures by the end of the day that comes so many days after {}, percent:",
            words::date(answer.details.season.start)
        ),
        risk_table(answer),
        wrap(&visits(answer)),
        wrap(CAUTIONS),
    ];
    let details = &answer.details;
    let heading = site_heading(&answer.document.site, &details.season, &details.weather);
    heading + "\n" + &parts.join("\n\n") + "\n"
}

fn how(answer: &Revisit) -> String {
    let document = &answer.document;
    let percent = 100.0 * document.risk.0;
    let error = 100.0 * document.risk_standard_error.0;
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
        document.paths,
        document.seed,
        words::date(answer.details.season.start),
        same_weather(answer.details.replayed)
    )
}

fn latest_table(answer: &Revisit) -> String {
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
    let document = &answer.document;
    let cameras = document.cameras.iter().zip(&answer.details.sets);
    let mut rows: Vec<[String; 8]> = cameras
        .map(|(camera, set)| {
            let names = [camera.name.clone(), cells(set)];
            let in_all = camera.season_risk.map(|risk| risk.0);
            latest_row(answer, names, &camera.latest, camera.visits, in_all)
        })
        .collect();
    let names = ["any camera".to_owned(), String::new()];
    let (line, visits) = (&document.line, document.visits.as_ref());
    let visits = visits.map(|visits| visits.count);
    let in_all = line.season_risk.map(|risk| risk.0);
    rows.push(latest_row(answer, names, &line.latest, visits, in_all));
    Table::of(rows).with(head, Clone::clone).text()
}

fn latest_row(
    answer: &Revisit,
    [name, pack]: [String; 2],
    latest: &LatestDocument,
    visits: Option<usize>,
    in_all: Option<f64>,
) -> [String; 8] {
    let told = |share: f64| percent(share) + " %";
    let days = match latest.latest_days {
        None => format!("{}+", last_day(answer)),
        Some(days) => days.to_string(),
    };
    let later = latest.risk_a_day_later;
    let later = later.map_or_else(String::new, |risk| told(risk.0));
    let day = back(latest, answer.document.risk.0, "");
    let none = || "-".to_owned();
    let count = visits.map_or_else(none, |n| n.to_string());
    let in_all = in_all.map_or_else(none, told);
    let risk = told(latest.risk_then.0);
    [name, pack, day, days, risk, later, count, in_all]
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
fn last_day(answer: &Revisit) -> u32 {
    let days = answer.document.season_days.unsigned_abs();
    days.saturating_sub(1)
}

fn risk_table(answer: &Revisit) -> String {
    let last = last_day(answer);
    let within = INTERVALS.into_iter().filter(|days| *days < last);
    let document = &answer.document;
    let cameras = document.cameras.iter();
    let cameras = cameras.map(|camera| (camera.name.as_str(), &camera.latest));
    let rows = cameras.chain([("any camera", &document.line.latest)]);
    let names = Table::of(rows).with([("camera", Column::Left)], |(name, _)| [(*name).to_owned()]);
    let table = within.chain([last]).fold(names, |table, days| {
        table.with([(&days.to_string(), Column::Right)], |(_, latest)| {
            let risk = latest.risk_by_day.get(days as usize);
            [percent(risk.map_or(0.0, |risk| risk.0))]
        })
    });
    table.text()
}

/// How often the line is visited in the season, on which days, and for how much.
fn visits(answer: &Revisit) -> String {
    let risk = words::plain(100.0 * answer.document.risk.0);
    if let Some(from) = answer.details.not_even_daily_from {
        return format!(
            "From {} on not even a visit a day keeps the risk that any camera has lost \
             pictures within {risk} %: other cells (`compare`) or settings (`settings`) come \
             first.",
            words::date(from.0)
        );
    }
    let planned = answer.document.visits.as_ref();
    let Some(planned) = planned.filter(|planned| planned.count > 0) else {
        return "No visit is needed before the season ends.".to_owned();
    };
    let visits = &planned.days;
    let times = match visits.len() {
        1 => "once".to_owned(),
        n => format!("{n} times"),
    };
    let season = answer.document.line.season_risk;
    let season = season.map_or(0.0, |risk| risk.0);
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
        cost(planned)
    )
}

/// The first visits; of many the rest as their number and the shortest time between two.
fn dates(visits: &[VisitDocument]) -> String {
    let date = |visit: &VisitDocument| {
        let days = visit.interval_days;
        format!("{} (after {days})", words::date(visit.date.0))
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
fn cost(visits: &VisitsDocument) -> String {
    let amount = |amount: f64| {
        let text = format!("{amount:.2} {}", visits.currency);
        text.trim_end().to_owned()
    };
    let walks = visits
        .cost_walks
        .map(|walks| amount(walks.0) + " for the walks");
    let cells = visits.cost_cells_all_changed.zip(visits.cost_cells);
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
                amount(all.0),
                amount(due.0),
                sets(visits)
            )
        }
    };
    format!(" Cost: {told}")
}

/// How many fresh sets each camera is due.
fn sets(visits: &VisitsDocument) -> String {
    let due = visits.fresh_sets_due.iter();
    let sets = due.map(|due| format!("{} {}", due.camera, due.sets));
    sets.collect::<Vec<_>>().join(", ")
}
