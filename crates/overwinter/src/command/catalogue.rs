//! `catalogue`: the cells and what they rest on.

use overwinter_model::cell::Chemistry;
use overwinter_model::cell::catalogue::{CATALOGUE, CatalogueCell};
use serde_json::json;

use super::{assumptions, document, rounded};
use crate::table::{Column, table};
use crate::words;

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
    let rows = CATALOGUE.iter().map(|entry| {
        let cell = &entry.cell;
        let fresh = cell.open_circuit.at(0.0) * f64::from(cell.in_series);
        vec![
            entry.name.to_owned(),
            entry.title.to_owned(),
            format!("{:.2}", cell.capacity.as_ampere_hours()),
            words::volts(fresh),
            format!("{:.1}", cell.energy_left(&cell.full()).as_watt_hours()),
            format!("{:.0}", entry.mass_g),
            tested(entry),
        ]
    });
    let mut text = table(&head, rows.collect());
    text.push_str("\n\n");
    text.push_str(&assumptions::wrap(
        "Ah and Wh are what a vanishing load would get at 20 °C; what a camera gets is for forecast \
         to say. Sources, fit and errors of each cell: datasheets-notes, the note of the same name.",
    ));
    text.push('\n');
    text
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
            "tested": {
                "coldest_c": rounded(cell.tested.coldest.as_celsius(), 2),
                "warmest_c": rounded(cell.tested.warmest.as_celsius(), 2),
                "heaviest_ma": rounded(cell.tested.heaviest.as_milliamperes(), 2),
                "heaviest_in_frost_ma": rounded(cell.tested.heaviest_in_frost.as_milliamperes(), 2),
            },
            "note": format!("datasheets-notes/{}.md", entry.name),
        })
    });
    document(&json!({ "cells": cells.collect::<Vec<_>>() }))
}
