//! `catalogue`: the cells and what they rest on.

use overwinter_line::cells::{RoleAccuracy, accuracy};
use overwinter_line::words;
use overwinter_model::cell::Chemistry;
use overwinter_model::cell::catalogue::{CATALOGUE, CatalogueCell};
use serde_json::{Value, json};

use super::paragraph::wrap;
use super::{document, rounded};
use crate::table::{Column, Table};

/// What a cell is made of, for a person.
fn chemistry(chemistry: Chemistry) -> &'static str {
    match chemistry {
        Chemistry::Alkaline => "alkaline",
        Chemistry::LithiumIronDisulfide => "lithium iron disulfide",
        Chemistry::NickelMetalHydride => "nickel-metal hydride",
        Chemistry::LeadAcid => "lead-acid",
        Chemistry::LithiumIronPhosphate => "lithium iron phosphate",
        Chemistry::LithiumIon => "lithium-ion",
        _ => "other",
    }
}

/// The answer for a person.
#[must_use]
pub fn text() -> String {
    let head = [
        ("name", Column::Left),
        ("what", Column::Left),
        ("Ah", Column::Right),
        ("fresh", Column::Right),
        ("Wh", Column::Right),
        ("g", Column::Right),
        ("published points", Column::Left),
    ];
    let cells = Table::of(CATALOGUE).with(head, |entry| {
        let cell = &entry.cell;
        let fresh = cell.open_circuit.at(0.0) * f64::from(cell.in_series);
        [
            entry.name.to_owned(),
            entry.title.to_owned(),
            format!("{:.2}", cell.capacity.as_ampere_hours()),
            words::volts(fresh),
            format!("{:.1}", cell.energy_left(&cell.full()).as_watt_hours()),
            format!("{:.0}", entry.mass_g),
            tested(entry),
        ]
    });
    let mut text = cells.text();
    text.push_str("\n\n");
    text.push_str(&accuracies());
    text.push_str("\n\n");
    text.push_str(&wrap(
        "Ah and Wh are what a vanishing load would get at 20 °C; what a camera gets is for forecast \
         to say. Held-out points are those that the fit never saw; errors are of them, median and \
         what nine of ten keep below, volts of one cell. Points of other grades under the same name, \
         or at odds with several others, are set apart: no fit sees them, and the spread of grades \
         is how far other grades lie off. Sources and every point: datasheets-notes, the note of the same name. A cell of your \
         own: catalogue --from POINTS.toml.",
    ));
    text.push('\n');
    text
}

/// How well each cell fits its points.
fn accuracies() -> String {
    let head = [
        ("name", Column::Left),
        ("fitted", Column::Right),
        ("held out", Column::Right),
        ("durations, median", Column::Right),
        ("90 %", Column::Right),
        ("voltages, median", Column::Right),
        ("90 %", Column::Right),
        ("set apart", Column::Right),
        ("spread of grades", Column::Right),
    ];
    let cells = Table::of(CATALOGUE).with(head, |entry| {
        let Some(accuracy) = accuracy(entry.name) else {
            return [entry.name, "0", "0", "-", "-", "-", "-", "0", "-"].map(str::to_owned);
        };
        let percent = |error: f64| format!("{:.1} %", 100.0 * error);
        let millivolts = |error: f64| format!("{:.0} mV", 1000.0 * error);
        let [duration, duration_90] = pair(accuracy.held_out.durations, percent);
        let [voltage, voltage_90] = pair(accuracy.held_out.voltages_v, millivolts);
        let apart = accuracy.other_grades.points + accuracy.conflicting.points;
        let grades = entry.cell.grade_spread;
        [
            entry.name.to_owned(),
            accuracy.fitted.points.to_string(),
            accuracy.held_out.points.to_string(),
            duration,
            duration_90,
            voltage,
            voltage_90,
            apart.to_string(),
            if grades > 0.0 {
                format!("{:.0} %", 100.0 * grades)
            } else {
                "-".to_owned()
            },
        ]
    });
    cells.text()
}

/// Median and 90 % error, or nothing.
fn pair(errors: Option<(f64, f64)>, said: impl Fn(f64) -> String) -> [String; 2] {
    errors.map_or_else(
        || ["-".to_owned(), "-".to_owned()],
        |(median, ninetieth)| [said(median), said(ninetieth)],
    )
}

/// How well a cell fits the points of one role.
fn role_json(role: &RoleAccuracy) -> Value {
    let errors = |errors: Option<(f64, f64)>, scale: f64, unit: &str| {
        errors.map(|(median, ninetieth)| {
            json!({
                format!("median_{unit}"): rounded(scale * median, 1),
                format!("ninetieth_{unit}"): rounded(scale * ninetieth, 1),
            })
        })
    };
    json!({
        "points": role.points,
        "durations": errors(role.durations, 100.0, "pct"),
        "voltages": errors(role.voltages_v, 1000.0, "mv"),
        "resistances": errors(role.resistances, 100.0, "pct"),
    })
}

/// Range of the points that a cell rests on.
fn tested(entry: &CatalogueCell) -> String {
    let tested = &entry.cell.tested;
    let frost = tested.heaviest_in_frost.as_milliamperes();
    let frost = if frost > 0.0 {
        format!(", in frost to {frost:.0} mA")
    } else {
        String::new()
    };
    format!(
        "{:.0} to {:.0} °C, to {:.0} mA{frost}",
        tested.coldest.as_celsius(),
        tested.warmest.as_celsius(),
        tested.heaviest.as_milliamperes()
    )
}

/// The answer for a script.
#[must_use]
pub fn json() -> String {
    let cells = CATALOGUE.iter().map(|entry| {
        let cell = &entry.cell;
        json!({
            "name": entry.name,
            "title": entry.title,
            "size": entry.size,
            "chemistry": chemistry(cell.chemistry),
            "rechargeable": cell.chemistry.rechargeable(),
            "capacity_ah": rounded(cell.capacity.as_ampere_hours(), 4),
            "energy_wh": rounded(cell.energy_left(&cell.full()).as_watt_hours(), 4),
            "fresh_v": rounded(cell.open_circuit.at(0.0).as_volts() * f64::from(cell.in_series), 4),
            "floor_v": rounded(cell.floor.as_volts() * f64::from(cell.in_series), 4),
            "mass_g": rounded(entry.mass_g, 1),
            "spread_pct": rounded(100.0 * cell.spread, 1),
            "grade_spread_pct": rounded(100.0 * cell.grade_spread, 1),
            "tested": {
                "coldest_c": rounded(cell.tested.coldest.as_celsius(), 2),
                "warmest_c": rounded(cell.tested.warmest.as_celsius(), 2),
                "heaviest_ma": rounded(cell.tested.heaviest.as_milliamperes(), 2),
                "heaviest_in_frost_ma": rounded(cell.tested.heaviest_in_frost.as_milliamperes(), 2),
            },
            "accuracy": accuracy(entry.name).map(|accuracy| json!({
                "fitted": role_json(&accuracy.fitted),
                "held_out": role_json(&accuracy.held_out),
                "other_grades": role_json(&accuracy.other_grades),
                "conflicting": role_json(&accuracy.conflicting),
            })),
            "note": format!("datasheets-notes/{}.md", entry.name),
        })
    });
    document(&json!({ "cells": cells.collect::<Vec<_>>() }))
}
