//! `discharge`: a bench test of one cell.

mod curve;
mod document;
mod notes;

use overwinter_model::bench::{Duty, EndReason, Progress, Source, TemperatureProfile, discharge};
use overwinter_model::cell::{Asked, CellOnBench};
use overwinter_model::{Charge, Polarisation, Voltage};

use curve::Collector;
pub use document::{BenchDetails, BenchDocument, Discharge, DischargeDocument, TemperatureAt};

use notes::notes;

use crate::cells::{NamedCell, SharedCell, usual_cut_off};
use crate::problem::Failure;

/// The same bench test of several cells.
#[derive(Clone, Debug, PartialEq)]
pub struct DischargeRequest {
    /// Cells of the catalogue, or cell files.
    pub cells: Vec<String>,
    /// When which load is connected.
    pub duty: Duty,
    /// Temperature over the time of the test.
    pub air: TemperatureProfile,
    /// Voltage at which a test ends, of the whole battery; as tests of the cell usually have if there is
    /// none.
    pub cut_off: Option<Voltage>,
}

/// What is done to a cell on the bench.
#[derive(Clone, Debug)]
struct BenchTest {
    duty: Duty,
    air: TemperatureProfile,
    /// Of the whole battery.
    cut_off: Voltage,
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
    /// What was asked of the cell.
    asked: Option<Asked>,
}

/// The most pulses that a test may take: more would run for minutes.
const MOST_PULSES: f64 = 2e6;

/// Runs the test on each of `cells`, which were found before, fresh or full.
///
/// # Errors
/// [`Failure::Request`] if the load draws nothing, or so little in each cycle that the test would take too
/// long; or if it could only end at a voltage that a cell never has.
pub fn answer(cells: &[SharedCell], request: &DischargeRequest) -> Result<Discharge, Failure> {
    let mut tests = Vec::with_capacity(cells.len());
    for entry in cells {
        let test = BenchTest {
            duty: request.duty.clone(),
            air: request.air.clone(),
            cut_off: cut_off(entry, request.cut_off)?,
        };
        tests.push((&**entry, test));
    }
    let mut results = Vec::with_capacity(tests.len());
    for (entry, test) in tests {
        let result = run(entry, &test)?;
        results.push((entry, test, result));
    }
    Ok(Discharge::of(results))
}

/// The cut-off, which must lie below the cell's fresh voltage.
fn cut_off(entry: &NamedCell, asked: Option<Voltage>) -> Result<Voltage, Failure> {
    let fresh = entry.cell.open_circuit.at(0.0) * f64::from(entry.cell.in_series);
    match asked {
        None => Ok(usual_cut_off(entry)),
        Some(volts) if (Voltage::ZERO..fresh).contains(&volts) => Ok(volts),
        Some(volts) => Err(Failure::request(
            format!("--cutoff-v is {}, which is out of range", volts.as_volts()),
            format!(
                "expected 0 to {:.2}: {} has that fresh and without load",
                fresh.as_volts(),
                entry.name
            ),
        )),
    }
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
    Ok(BenchResult {
        progress,
        reason,
        curve: curve.finish(),
        lowest,
        asked,
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
        let Some(current) = circuit.current(segment.load, &Polarisation::NONE) else {
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
