//! `discharge`: bench tests, as text, JSON and curves.

use overwinter_line::answer::discharge::{BenchResult, BenchTest, at_once, notes};
use overwinter_line::cells::{NamedCell, SharedCell};
use overwinter_line::words;
use overwinter_model::Temperature;
use overwinter_model::bench::{EndReason, TemperatureProfile};
use serde_json::json;

use super::paragraph::wrap;
use super::{document, rounded};
use crate::plot::{Curve, Curves, Limit};
use crate::table::{Column, Table};

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
