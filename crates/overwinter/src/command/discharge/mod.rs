//! `discharge`: a bench test of one cell.

mod curve;
mod notes;

use overwinter_model::bench::{Duty, EndReason, Progress, Source, TemperatureProfile, discharge};
use overwinter_model::cell::{Asked, CellOnBench, Doubt};
use overwinter_model::{Charge, Temperature, Voltage};
use serde_json::json;

use curve::Collector;
use notes::notes;

use super::assumptions::wrap;
use super::{document, rounded};
use crate::plot::{Curve, Curves, Limit};
use crate::table::{Column, Table};
use overwinter_line::cells::{NamedCell, SharedCell};
use overwinter_line::problem::Failure;
use overwinter_line::words;

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
pub struct BenchResult {
    /// Where it stood at the end.
    pub progress: Progress,
    /// Why it ended.
    pub reason: EndReason,
    /// Voltage under load against charge delivered.
    pub curve: Vec<(Charge, Voltage)>,
    /// The lowest voltage under load.
    pub lowest: Voltage,
    /// Where the model extrapolated.
    pub doubts: Vec<Doubt>,
}

/// The most pulses that a test may take: more would run for minutes.
const MOST_PULSES: f64 = 2e6;

/// Runs a test on a fresh or full cell.
///
/// # Errors
/// [`Failure::Request`] if the load draws nothing, or so little in each cycle that the test would
/// take too long.
pub fn run(entry: &NamedCell, test: &BenchTest) -> Result<BenchResult, Failure> {
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

/// The answer as curves.
#[must_use]
pub fn curves(results: &[(SharedCell, BenchTest, BenchResult)]) -> Curves {
    let curves = results.iter().map(|(entry, test, result)| Curve {
        label: format!("{} at {}", entry.name, in_words(&test.air)),
        points: result.curve.clone(),
    });
    let mut limits: Vec<Limit> = Vec::new();
    for (_, test, _) in results {
        if limits.iter().all(|limit| limit.at != test.cut_off) {
            limits.push(Limit {
                label: "cut-off".to_owned(),
                at: test.cut_off,
            });
        }
    }
    Curves {
        title: "Voltage under load".to_owned(),
        curves: curves.collect(),
        limits,
    }
}

fn reason_key(reason: EndReason) -> &'static str {
    match reason {
        EndReason::CutOff => "cut-off",
        EndReason::Overload => "overload",
        EndReason::Empty => "empty",
        EndReason::Finished => "horizon",
    }
}

/// `-10.0 °C`, or from the lowest to the highest.
fn in_words(air: &TemperatureProfile) -> String {
    let celsius = air.points().iter().map(|(_, air)| air.as_celsius());
    let lowest = celsius.clone().fold(f64::INFINITY, f64::min);
    let highest = celsius.fold(f64::NEG_INFINITY, f64::max);
    let highest_in_words = words::temperature(Temperature::from_celsius(highest));
    if highest - lowest < 0.05 {
        return highest_in_words;
    }
    format!("{lowest:.1} to {highest_in_words}")
}

/// The answer for a person.
#[must_use]
pub fn text(results: &[(SharedCell, BenchTest, BenchResult)]) -> String {
    let pulses = results.iter().any(|(_, test, _)| test.duty.has_pulses());
    let head = [
        ("cell", Column::Left),
        ("at", Column::Right),
        ("to", Column::Right),
        ("hours under load", Column::Right),
        ("mAh", Column::Right),
        ("Wh", Column::Right),
        ("of its energy", Column::Right),
        ("end", Column::Left),
    ];
    let table = Table::of(results).with(head, |(entry, test, result)| {
        let progress = &result.progress;
        let full = entry.cell.energy_left(&entry.cell.full());
        [
            entry.name.clone(),
            in_words(&test.air),
            words::volts(test.cut_off),
            format!("{:.2}", progress.under_load.as_hours()),
            format!("{:.0}", progress.delivered.as_milliampere_hours()),
            format!("{:.3}", progress.energy.as_watt_hours()),
            format!("{:.0} %", 100.0 * (progress.energy / full)),
            end_in_words(result).to_owned(),
        ]
    });
    let table = table.with_if(pulses, [("pulses", Column::Right)], |(_, _, result)| {
        [result.progress.pulses.to_string()]
    });
    let mut text = table.text();
    text.push('\n');
    for (entry, test, result) in results {
        for (_, note) in notes(entry, test, result) {
            text.push_str(&wrap(&format!("Note ({}): {note}.", entry.name)));
            text.push('\n');
        }
    }
    text
}

fn at_once(result: &BenchResult) -> bool {
    result.progress.delivered <= Charge::ZERO && result.reason != EndReason::Finished
}

fn end_in_words(result: &BenchResult) -> &'static str {
    match result.reason {
        _ if at_once(result) => "collapses at once",
        EndReason::CutOff => "voltage",
        EndReason::Overload => "cannot carry the load",
        EndReason::Empty => "nothing left within reach",
        EndReason::Finished => "load ended",
    }
}

/// The answer for a script: one test's object, or `{"cells": […]}` for several.
#[must_use]
pub fn json(results: &[(SharedCell, BenchTest, BenchResult)]) -> String {
    let mut objects: Vec<_> = results
        .iter()
        .map(|(entry, test, result)| one(entry, test, result))
        .collect();
    match objects.len() {
        1 => document(&objects.remove(0)),
        _ => document(&json!({ "cells": objects })),
    }
}

fn one(entry: &NamedCell, test: &BenchTest, result: &BenchResult) -> serde_json::Value {
    let progress = &result.progress;
    let full = entry.cell.energy_left(&entry.cell.full());
    let mut object = json!({
        "cell": entry.name,
        "temperature_c": rounded(test.air.at(progress.elapsed).as_celsius(), 3),
        "temperature_profile": test
            .air
            .points()
            .iter()
            .map(|(at, air)| json!({
                "hours": rounded(at.as_hours(), 6),
                "temperature_c": rounded(air.as_celsius(), 3),
            }))
            .collect::<Vec<_>>(),
        "cutoff_v": rounded(test.cut_off.as_volts(), 4),
        "hours": rounded(progress.under_load.as_hours(), 6),
        "elapsed_hours": rounded(progress.elapsed.as_hours(), 6),
        "delivered_mah": rounded(progress.delivered.as_milliampere_hours(), 4),
        "delivered_wh": rounded(progress.energy.as_watt_hours(), 6),
        "energy_share": rounded(progress.energy / full, 5),
        "end_reason": reason_key(result.reason),
        "warnings": notes(entry, test, result)
            .into_iter()
            .map(|(kind, text)| json!({ "kind": kind, "text": text }))
            .collect::<Vec<_>>(),
    });
    if test.duty.has_pulses()
        && let Some(object) = object.as_object_mut()
    {
        object.insert("pulses".to_owned(), progress.pulses.into());
    }
    object
}
