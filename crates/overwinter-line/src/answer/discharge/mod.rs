//! `discharge`: a bench test of one cell.

mod curve;
mod document;
mod notes;

use overwinter_model::bench::{Duty, EndReason, Progress, Source, TemperatureProfile, discharge};
use overwinter_model::cell::{Asked, CellOnBench, Doubt};
use overwinter_model::{Charge, Voltage};

use curve::Collector;
pub use document::{BenchDetails, BenchDocument, Discharge, DischargeDocument, TemperatureAt};

use notes::notes;

use crate::cells::{NamedCell, SharedCell};
use crate::problem::Failure;

/// What is done to a cell on the bench.
#[derive(Clone, Debug)]
pub struct BenchTest {
    /// When the load is connected.
    pub duty: Duty,
    /// Temperature over the time of the test.
    pub air: TemperatureProfile,
    /// Voltage at which the test ends, of the whole battery.
    pub cut_off: Voltage,
}

/// How a bench test went.
#[derive(Clone, Debug)]
struct BenchResult {
    /// Where it stood at the end.
    progress: Progress,
    /// Why it ended.
    reason: EndReason,
    /// Voltage under load against charge delivered.
    curve: Vec<(Charge, Voltage)>,
    /// The lowest voltage under load.
    lowest: Voltage,
    /// Where the model extrapolated.
    doubts: Vec<Doubt>,
}

/// The most pulses that a test may take: more would run for minutes.
const MOST_PULSES: f64 = 2e6;

/// Runs a test on each of the cells, fresh or full.
///
/// # Errors
/// [`Failure::Request`] if the load draws nothing, or so little in each cycle that the test would take too
/// long.
pub fn answer(tests: Vec<(SharedCell, BenchTest)>) -> Result<Discharge, Failure> {
    let mut results = Vec::with_capacity(tests.len());
    for (entry, test) in &tests {
        results.push((&**entry, test.clone(), run(entry, test)?));
    }
    Ok(Discharge::of(results))
}

/// Runs one test.
fn run(entry: &NamedCell, test: &BenchTest) -> Result<BenchResult, Failure> {
    let cell = &entry.cell;
    check_load(entry, test)?;
    let mut source = CellOnBench::through(cell, &test.air, cell.full());
    let mut curve = Collector::new(cell.capacity);
    let mut asked: Option<Asked> = None;
    let mut lowest = Voltage::from_volts(f64::INFINITY);
    let (progress, reason) = discharge(&mut source, test.duty.segments(), test.cut_off, |seen| {
        let air = test.air.at(seen.elapsed);
        asked
            .get_or_insert(Asked::once(air, seen.current))
            .widen(air, seen.current);
        if seen.current.as_amperes() > 0.0 {
            lowest = lowest.min(seen.voltage);
            curve.add(seen.delivered, seen.voltage);
        }
    });
    // A load that a cell cannot carry would pull it under nothing.
    curve.add(progress.delivered, progress.voltage.max(Voltage::ZERO));
    let doubts = asked
        .iter()
        .flat_map(|asked| cell.tested.doubts(asked))
        .collect();
    Ok(BenchResult {
        progress,
        reason,
        curve: curve.finish(),
        lowest,
        doubts,
    })
}

/// Refuses a load that would not empty the cell in a bearable number of cycles, by what a fresh
/// cell gives in the first thousand segments.
fn check_load(entry: &NamedCell, test: &BenchTest) -> Result<(), Failure> {
    let cell = &entry.cell;
    let circuit = CellOnBench::through(cell, &test.air, cell.full()).circuit();
    let mut drawn = Charge::ZERO;
    let mut segments = 0.0;
    for segment in test.duty.segments().take(1000) {
        let Some(current) = circuit.current(segment.load, Voltage::ZERO) else {
            // It ends the test at once.
            return Ok(());
        };
        drawn += current * segment.span;
        segments += 1.0;
        if drawn >= cell.capacity {
            return Ok(());
        }
    }
    if drawn / cell.capacity * MOST_PULSES >= segments {
        return Ok(());
    }
    Err(Failure::request(
        format!(
            "this load takes too little of {} in each cycle to be run to the end",
            entry.name
        ),
        "give a heavier load, or a longer time on",
    ))
}

/// Whether the load ended the test before it delivered anything.
fn at_once(result: &BenchResult) -> bool {
    result.progress.delivered <= Charge::ZERO && result.reason != EndReason::Finished
}
