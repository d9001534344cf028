//! `discharge`: bench tests, as text, JSON and curves.

use overwinter_line::answer::discharge::{BenchDetails, BenchDocument, Discharge, TemperatureAt};
use overwinter_line::words;
use overwinter_model::Temperature;

use super::json_text;
use super::paragraph::wrap;
use crate::plot::{Curve, Curves, Limit};
use crate::table::{Column, Table};

/// The answer for a script: one test's object, or `{"cells": […]}` for several.
#[must_use]
pub fn json(answer: &Discharge) -> String {
    json_text(&answer.document)
}

/// The answer as curves.
#[must_use]
pub fn curves(answer: &Discharge) -> Curves {
    let curves = tests(answer).map(|(test, details)| Curve {
        label: format!("{} at {}", test.cell, in_words(&test.temperature_profile)),
        points: details.curve.clone(),
    });
    let mut limits: Vec<Limit> = Vec::new();
    for details in &answer.details {
        if limits.iter().all(|limit| limit.at != details.cut_off) {
            limits.push(Limit {
                label: "cut-off".to_owned(),
                at: details.cut_off,
            });
        }
    }
    Curves {
        title: "Voltage under load".to_owned(),
        curves: curves.collect(),
        limits,
    }
}

/// The answer for a person.
#[must_use]
pub fn text(answer: &Discharge) -> String {
    let pulses = tests(answer).any(|(test, _)| test.pulses.is_some());
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
    let table = Table::of(tests(answer)).with(head, |(test, details)| {
        [
            test.cell.clone(),
            in_words(&test.temperature_profile),
            words::volts(details.cut_off),
            format!("{:.2}", test.hours.0),
            format!("{:.0}", test.delivered_mah.0),
            format!("{:.3}", test.delivered_wh.0),
            format!("{:.0} %", 100.0 * test.energy_share.0),
            end_in_words(test, details).to_owned(),
        ]
    });
    let table = table.with_if(pulses, [("pulses", Column::Right)], |(test, _)| {
        [test.pulses.unwrap_or(0).to_string()]
    });
    let mut text = table.text();
    text.push('\n');
    for (test, _) in tests(answer) {
        for note in &test.warnings {
            text.push_str(&wrap(&format!("Note ({}): {}.", test.cell, note.text)));
            text.push('\n');
        }
    }
    text
}

/// The tests, with what is said beyond their documents.
fn tests(answer: &Discharge) -> impl Iterator<Item = (&BenchDocument, &BenchDetails)> {
    answer.document.0.iter().zip(&answer.details)
}

/// `-10.0 °C`, or from the lowest to the highest.
fn in_words(profile: &[TemperatureAt]) -> String {
    let celsius = profile.iter().map(|at| at.temperature_c.0);
    let lowest = celsius.clone().fold(f64::INFINITY, f64::min);
    let highest = celsius.fold(f64::NEG_INFINITY, f64::max);
    let highest_in_words = words::temperature(Temperature::from_celsius(highest));
    if highest - lowest < 0.05 {
        return highest_in_words;
    }
    format!("{lowest:.1} to {highest_in_words}")
}

fn end_in_words(test: &BenchDocument, details: &BenchDetails) -> &'static str {
    match test.end_reason {
        _ if details.at_once => "collapses at once",
        "cut-off" => "voltage",
        "overload" => "cannot carry the load",
        "empty" => "nothing left within reach",
        _ => "load ended",
    }
}
