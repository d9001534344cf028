//! `compare`: cells side by side, as text, JSON and bars.

mod text;

use overwinter_line::answer::compare::{Comparison, TryDocument};

pub use text::text;

use super::json_text;
use crate::plot::{self, CameraDays, CellDays};

/// The answer for a script.
#[must_use]
pub fn json(answer: &Comparison) -> String {
    json_text(&answer.document)
}

/// The answer as bars of days.
#[must_use]
pub fn bars(answer: &Comparison) -> plot::Comparison {
    let document = &answer.document;
    let cameras = document.cameras.iter().zip(&answer.details.lit);
    let cameras = cameras.map(|(one, lit)| CameraDays {
        name: one.name.clone(),
        cells: one
            .cells
            .iter()
            .filter_map(|tried| cell_days(tried, *lit))
            .collect(),
    });
    plot::Comparison {
        title: format!("{}: days alive on other cells", document.site),
        season_days: f64::from(document.season_days),
        seasons: document.paths,
        cameras: cameras.collect(),
    }
}

/// Of a set that fits.
fn cell_days(tried: &TryDocument, lit: bool) -> Option<CellDays> {
    let odds = &tried.odds;
    let p50 = odds.days_p50.map(|days| days.0);
    Some(CellDays {
        cell: tried.set.cell.clone(),
        p10: odds.days_p10.map(|days| days.0),
        p50,
        p90: odds.days_p90.map(|days| days.0),
        night_p50: if lit {
            odds.night_pictures_days_p50.map(|days| days.0)
        } else {
            p50
        },
        alive_at_end: odds.odds_alive_at_end?.0,
    })
}
