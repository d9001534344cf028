//! The answer for a person.

mod answer;
mod one_size;
mod tables;

pub(super) use answer::size;

use crate::command::heading::{same_weather, site_heading};
use crate::command::paragraph::wrap;
use crate::command::set::cells;
use overwinter_line::answer::solar::{Cause, Planned, Solar};
use overwinter_line::words::plain;

/// What to mind.
const CAUTIONS: &str = "Lithium cells must not be charged in frost: the odds keep them from it, and \
    the controller that you buy must too. The maker's limits for temperature and current come first, \
    and primary cells are never charged. Keep stores dry, fused and where they cannot be crushed. \
    Fasten a panel so that wind and snow do not bring it down on anybody, do not climb alone, and \
    ask whose tree or mast it is; local rules come first.";

/// For each camera the smallest that does, what else could be done, the map, and one size closely.
#[must_use]
pub fn text(solar: &Solar) -> String {
    let mut parts = vec![
        site_heading(&solar.site, &solar.season, &solar.weather),
        wrap(&how(solar)) + "\n",
    ];
    for one in &solar.cameras {
        parts.push(camera(solar, one) + "\n");
    }
    parts.push(wrap(CAUTIONS) + "\n");
    parts.join("\n")
}

fn how(solar: &Solar) -> String {
    let paths = solar.paths;
    let error = 50.0 / f64::from(paths.count).sqrt();
    let mut points = solar.cameras.iter().flat_map(|one| &one.map.points);
    let cheapest = if points.any(|point| point.cost.is_some()) {
        " The cheapest is that of panel and store, or of panel and pack where the panel charges the \
         pack; costs in the table have the cells in them too."
    } else {
        ""
    };
    format!(
        "Odds from {} sampled seasons (seed {}), the same for every size.{} A share is good to \
         {error:.1} % or better, one standard deviation; at {} % to {:.1} %, so a size that just \
         misses may do. A store of its own is full at the start; when it is empty the cells in the \
         camera take over, and where its own are too weak for the cold they carry pictures and uploads. \
         Life alone decides: where night pictures or uploads end before, it is said, and `revisit` says \
         when to be back for them.{cheapest}",
        paths.count,
        paths.seed,
        same_weather(solar.replayed),
        wanted(solar),
        100.0 * solar.target.standard_error(paths)
    )
}

/// The odds asked for, as they were written.
fn wanted(solar: &Solar) -> String {
    plain(100.0 * solar.target.share())
}

fn camera(solar: &Solar, one: &Planned) -> String {
    let mut parts = vec![
        format!("{}, {}", one.name, cells(&one.set)),
        wrap(&answer::told(solar, one)),
        tables::options(solar, one),
        tables::map(one),
    ];
    let short = one.shortfall.as_ref();
    let runs = short.is_none_or(|short| short.cause() != Cause::NeverRuns);
    if let Some(detail) = one.detail.as_ref().filter(|_| runs) {
        parts.push(one_size::told(one, detail));
        if let Some(caution) = &one.weak_detail {
            parts.push(wrap(&format!("Caution: {caution}.")));
        }
    }
    parts.join("\n\n")
}

/// A share in percent; one that is nearly all does not read as all.
fn percent(share: f64) -> String {
    // Down, as in the picture: what misses the wanted odds by a hair must not show them.
    let percent = 100.0 * share + 1e-9;
    if percent > 99.0 && percent < 100.0 {
        format!("{:.1} %", (10.0 * percent).floor() / 10.0)
    } else {
        format!("{:.0} %", percent.floor())
    }
}

/// Watt-hours with a digit where it says something.
fn watt_hours(wh: f64) -> String {
    if wh < 9.95 {
        format!("{wh:.1}")
    } else {
        format!("{wh:.0}")
    }
}
