//! What the energy went for, as a table.

use overwinter_line::answer::budget::Budget;

use crate::table::{Column, Table};

/// A camera's row.
pub(super) struct BudgetRow<'a> {
    pub(super) name: &'a str,
    pub(super) budget: &'a Budget,
    /// What was in the cells at the start and came from a panel, watt-hours.
    pub(super) came_wh: f64,
}

/// Shares of what came, in percent. A column that is empty for every camera tells nothing.
pub(super) fn budget_table(rows: &[BudgetRow<'_>]) -> String {
    let head = [("camera", Column::Left), ("Wh", Column::Right)];
    let mut table = Table::of(rows).with(head, |row| {
        [row.name.to_owned(), format!("{:.1}", row.came_wh)]
    });
    let parts = rows.first().map_or(&[][..], |row| &row.budget.parts);
    for (place, (name, _)) in parts.iter().enumerate() {
        if rows.iter().all(|row| row.budget.parts[place].1 <= 0.0) {
            continue;
        }
        // Of two words the second goes below the first: the table is wide enough.
        let name = name.replace(' ', "\n");
        table = table.with([(&name, Column::Right)], |row| {
            [share(row.budget.parts[place].1 / row.came_wh)]
        });
    }
    table.text()
}

/// A share in percent: whole from 10, one digit below, `<0.1` for crumbs.
fn share(share: f64) -> String {
    let percent = 100.0 * share;
    match percent {
        p if p <= 0.0 => "0".to_owned(),
        p if p < 0.1 => "<0.1".to_owned(),
        p if p < 9.95 => format!("{p:.1}"),
        p => format!("{p:.0}"),
    }
}
