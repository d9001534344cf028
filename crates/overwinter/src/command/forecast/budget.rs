//! What the energy went for.

use overwinter_line::answer::budget::budget;
use overwinter_line::line::Line;
use overwinter_line::run::CameraRun;

use crate::table::{Column, Table};

pub(in crate::command) fn budget_table(line: &Line, runs: &[&CameraRun]) -> String {
    let budgets: Vec<_> = runs.iter().map(|run| budget(&run.outcome.ledger)).collect();
    let names: Vec<&str> = budgets
        .first()
        .into_iter()
        .flatten()
        .map(|(name, _)| *name)
        .collect();
    // A column that is empty for every camera tells nothing.
    let shown: Vec<usize> = (0..names.len())
        .filter(|&i| budgets.iter().any(|budget| budget[i].1 > 0.0))
        .collect();
    let rows = line
        .cameras
        .iter()
        .zip(&budgets)
        .zip(runs)
        .map(|((camera, budget), run)| {
            let ledger = &run.outcome.ledger;
            let came = (ledger.put_in + ledger.panel.stored()).as_watt_hours();
            (camera, budget, came)
        });
    let head = [("camera", Column::Left), ("Wh", Column::Right)];
    let mut table = Table::of(rows).with(head, |(camera, _, came)| {
        [camera.name.clone(), format!("{came:.1}")]
    });
    for &i in &shown {
        // Of two words the second goes below the first: the table is wide enough.
        let name = names[i].replace(' ', "\n");
        table = table.with([(&name, Column::Right)], |(_, budget, came)| {
            [share(budget[i].1 / came)]
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
