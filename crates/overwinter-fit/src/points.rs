//! Which published rows a catalogue cell is fitted to, and which are held out.

use overwinter_line::fit::{Point, Role, Weights};
use overwinter_line::points::{How, Row, entry_for, evaluate};
use overwinter_model::cell::catalogue::CatalogueCell;

/// The rows that the model can repeat with this cell. Every row whose running number is a multiple
/// of three is held out; memory rows enter as weak priors where the cell's weights say so.
pub(crate) fn usable(rows: Vec<Row>, entry: &CatalogueCell, weights: &Weights) -> Vec<Point> {
    rows.into_iter()
        .filter_map(|row| {
            if entry_for(&row).ok()?.name != entry.name {
                return None;
            }
            let modelled = evaluate(&entry.into(), &row).ok()?;
            let held = row.running_number().is_some_and(|n| n % 3 == 0);
            let role = match row.how {
                How::Memory if weights.from_memory => Role::WeakPrior,
                How::Memory => return None,
                _ if held => Role::HeldOut,
                _ => Role::Fitted,
            };
            let sigma = weights.sigma(&row, modelled.in_series);
            Some(Point {
                row,
                role,
                measure: modelled.measure,
                sigma,
            })
        })
        .collect()
}
