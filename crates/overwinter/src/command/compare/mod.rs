//! `compare`: cells side by side, as text, JSON and bars.

use overwinter_line::answer::compare::{Compared, alive_at_end};
use overwinter_line::answer::ends::{HALF, NINE_TENTHS, TENTH, night_ends};
use overwinter_line::line::Line;
use overwinter_line::odds::Lost;

use crate::plot::{CameraDays, CellDays, Comparison};

mod json;
mod text;

pub use json::json;
pub use text::text;

/// The answer as bars of days.
#[must_use]
pub fn bars(line: &Line, compared: &Compared<'_>) -> Comparison {
    let cameras = compared.cameras.iter().map(|one| CameraDays {
        name: one.camera.name.clone(),
        cells: one
            .tries
            .iter()
            .filter_map(|tried| {
                let odds = &tried.fared.as_ref().ok()?.odds;
                let dead = &odds.lost[Lost::Camera];
                Some(CellDays {
                    cell: tried.pack.cell.name.clone(),
                    p10: dead.days_at(TENTH),
                    p50: dead.days_at(HALF),
                    p90: dead.days_at(NINE_TENTHS),
                    night_p50: night_ends(one.camera, odds).unwrap_or(dead).days_at(HALF),
                    alive_at_end: alive_at_end(line, odds),
                })
            })
            .collect(),
    });
    Comparison {
        title: format!("{}: days alive on other cells", line.site),
        season_days: f64::from(line.season.days()),
        seasons: compared.paths.count,
        cameras: cameras.collect(),
    }
}
