//! What has to be said about a bench test beside its figures.

use overwinter_model::bench::Source;
use overwinter_model::cell::{CellOnBench, Chemistry};
use overwinter_model::{Time, Voltage};

use super::{BenchResult, BenchTest, at_once};
use crate::cells::NamedCell;
use crate::words;

/// What has to be said about a test: each thing's name in JSON, and its wording.
pub(super) fn notes(
    entry: &NamedCell,
    test: &BenchTest,
    result: &BenchResult,
) -> Vec<(&'static str, String)> {
    let asked = result.asked.iter();
    let mut notes: Vec<_> = asked
        .flat_map(|asked| words::beyond_points(&entry.cell, asked))
        .map(|(doubt, text)| (words::doubt(&doubt).0, text))
        .collect();
    notes.extend(collapse(entry, test, result));
    notes.extend(leak(entry, result));
    notes.extend(frost(entry, test));
    notes
}

/// A load that ends the test before it delivered anything, and what the cell could carry.
fn collapse(
    entry: &NamedCell,
    test: &BenchTest,
    result: &BenchResult,
) -> Option<(&'static str, String)> {
    if !at_once(result) {
        return None;
    }
    let cell = &entry.cell;
    let circuit = CellOnBench::through(cell, &test.air, cell.full()).circuit();
    let [charge_transfer, ..] = circuit.branches;
    let at_once = circuit.open_circuit - circuit.overpotential.most - test.cut_off;
    let most = at_once / (circuit.ohmic + charge_transfer);
    let text = format!(
        "this load pulls even a full one under {} at once; at {} it stays above for a moment under \
         less than {:.2} A",
        words::volts(test.cut_off),
        words::temperature(test.air.at(Time::ZERO)),
        most.as_amperes().max(0.0)
    );
    Some(("collapses-at-once", text))
}

/// An alkaline cell that is driven under its floor (common practice, no source).
fn leak(entry: &NamedCell, result: &BenchResult) -> Option<(&'static str, String)> {
    let floor = entry.cell.floor * f64::from(entry.cell.in_series);
    // The default cut-off of some cells is their floor, met to the last digits.
    let rounding = Voltage::from_volts(1e-3);
    let under = entry.cell.chemistry == Chemistry::Alkaline && result.lowest < floor - rounding;
    under.then(|| {
        let text = format!(
            "it is driven under {}, where it may leak; take it out once it is spent",
            words::volts(floor)
        );
        ("cell-under-floor", text)
    })
}

/// A battery that bursts if it stands in frost as the test leaves it.
fn frost(entry: &NamedCell, test: &BenchTest) -> Option<(&'static str, String)> {
    let mut air = test.air.points().iter().map(|(_, air)| air.as_celsius());
    let frost = entry.cell.chemistry == Chemistry::LeadAcid && air.any(|celsius| celsius < 0.0);
    frost.then(|| {
        let text = format!("{}: charge it at once", words::LEAD_ACID_FROST);
        ("lead-acid-frost", text)
    })
}
