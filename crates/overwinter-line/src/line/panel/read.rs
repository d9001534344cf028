//! From the keys of `[panel]` to a panel in its place.

use std::ops::Range;

use overwinter_model::harvest::{Controller, Panel, Plane, Surroundings};
use overwinter_model::{Energy, Power, Time, Voltage};

use super::accepted;
use super::around::{Standing, surroundings};
use super::keys::PanelKeys;
use super::{Charges, DIRECT_OVER_CHARGED, PanelChoice, StoreChoice, pack_voltage};
use crate::keys::Reader;
use crate::line::PackChoice;
use crate::line::cell_files::CellFiles;
use crate::problem::Problem;

/// What is taken where the file says nothing. Common practice, no source, where nothing else is said.
mod usual {
    /// Steeper than the latitude by this, for the low sun of winter.
    pub(super) const STEEPER_DEG: f64 = 15.0;
    /// Neither flat nor on its edge.
    pub(super) const TILT_DEG: (f64, f64) = (30.0, 75.0);
    pub(super) const CONTROLLER_PCT: f64 = 90.0;
    /// A Schottky diode (from memory).
    pub(super) const DIODE_V: f64 = 0.4;
    pub(super) const STORE_CELL: &str = "lithium-ion-18650";
    /// Two cells of that kind.
    pub(super) const STORE_WH: f64 = 20.0;
    /// A small step-up or step-down converter.
    pub(super) const CONVERTER: f64 = 0.9;
    /// A few hundred grams in a closed case.
    pub(super) const LAG_H: f64 = 2.0;
    /// Wiring and mismatch: with the usual dirt a tenth in all, as the reference balances have it.
    pub(super) const LOSSES: f64 = 1.0 - 0.9 / (1.0 - super::Surroundings::DIRT);
}

/// Keys that only serve a panel with a store of its own.
const STORE_KEYS: [&str; 3] = ["store_cell", "store_wh", "store_pct"];

/// Reads the panel of one camera, whose name stands at `camera` and which runs on `pack`.
pub(in crate::line) fn read(
    reader: &mut Reader,
    keys: &PanelKeys,
    standing: &Standing,
    pack: &PackChoice,
    own: &CellFiles,
    camera: Range<usize>,
) -> Option<PanelChoice> {
    if keys.watts.is_none() {
        refuse_without_watts(reader, keys);
        return None;
    }
    let watts = reader.number(keys.watts.as_ref(), "watts", accepted::WATTS, 0.0);
    if watts <= 0.0 {
        accepted::check_values(reader, keys, own);
        return None;
    }
    let around = surroundings(reader, keys, standing, camera);
    let charges = read_charges(reader, keys, pack);
    let store = read_store(reader, keys, own);
    let plane = read_plane(reader, keys, standing);
    let mut panel = PanelChoice {
        panel: Panel {
            losses: usual::LOSSES,
            ..Panel::rated(Power::from_watts(watts))
        },
        plane: plane?,
        around: around?,
        controller: read_controller(reader, keys),
        charges,
        store: store?,
        lag: Time::from_hours(reader.number(
            keys.lag_h.as_ref(),
            "lag_h",
            accepted::LAG_H,
            usual::LAG_H,
        )),
        usual: Vec::new(),
    };
    if keys.panel_v.is_none() {
        let charged = match panel.charges(pack) {
            Charges::Pack => pack_voltage(pack),
            Charges::Store => panel.store.voltage(Voltage::ZERO),
        };
        if let Controller::Direct { best, .. } = &mut panel.controller {
            *best = charged * DIRECT_OVER_CHARGED;
        }
    }
    panel.usual = usual_keys(keys, &panel, pack);
    Some(panel)
}

/// Nothing else about a panel has any effect without its power.
fn refuse_without_watts(reader: &mut Reader, keys: &PanelKeys) {
    let given = PanelKeys::KEYS
        .iter()
        .filter_map(|key| Some((key, keys.place_of(key)?)));
    if let Some((key, place)) = given.min_by_key(|(_, place)| place.start) {
        let problem = Problem::at(
            place,
            format!("`{key}` is given for a camera without a panel"),
            "has no effect",
        );
        reader.problem(
            problem
                .help("say how big the panel is: watts = 3; a camera without one says watts = 0"),
        );
    }
}

/// Refuses keys that would be read and have no effect, because of `why`.
pub(super) fn refuse_idle(reader: &mut Reader, keys: &PanelKeys, idle: &[&str], why: &str) {
    for key in idle {
        if let Some(place) = keys.place_of(key) {
            let message = format!("`{key}` is given, but {why}");
            reader.problem(Problem::at(place, message, "has no effect"));
        }
    }
}

fn read_plane(reader: &mut Reader, keys: &PanelKeys, standing: &Standing) -> Option<Plane> {
    let (flattest, steepest) = usual::TILT_DEG;
    let steep = (standing.latitude_deg.abs() + usual::STEEPER_DEG).clamp(flattest, steepest);
    let tilt = reader.number(
        keys.tilt_deg.as_ref(),
        "tilt_deg",
        accepted::TILT_DEG,
        steep,
    );
    let equator = if standing.in_south() { 0.0 } else { 180.0 };
    let azimuth = keys.azimuth_deg.as_ref();
    let azimuth = reader.number(azimuth, "azimuth_deg", accepted::AZIMUTH_DEG, equator);
    // Both are within their ranges.
    Plane::new(tilt, azimuth).ok()
}

/// The controller; the voltage of a panel that charges directly is left at zero where it is not given.
fn read_controller(reader: &mut Reader, keys: &PanelKeys) -> Controller {
    let kinds = &accepted::CONTROLLERS;
    let direct = reader.choice(keys.controller.as_ref(), "controller", kinds, false);
    if direct {
        let why = "the panel charges directly, without a converter";
        refuse_idle(reader, keys, &["controller_pct"], why);
        let best = reader.number(keys.panel_v.as_ref(), "panel_v", accepted::PANEL_V, 0.0);
        return Controller::Direct {
            best: Voltage::from_volts(best),
            diode: Voltage::from_volts(usual::DIODE_V),
        };
    }
    let why = "a maximum-power controller takes the panel at any voltage";
    refuse_idle(reader, keys, &["panel_v"], why);
    let passed_on = keys.controller_pct.as_ref();
    let usual = usual::CONTROLLER_PCT;
    Controller::MaximumPower {
        efficiency: reader.number(passed_on, "controller_pct", accepted::EFFICIENCY_PCT, usual)
            / 100.0,
    }
}

fn read_charges(reader: &mut Reader, keys: &PanelKeys, pack: &PackChoice) -> Option<Charges> {
    let given = keys.charges.as_ref()?;
    let charges = reader.choice(Some(given), "charges", &accepted::CHARGES, None);
    if charges == Some(Charges::Pack) {
        if let Some(why) = not_charged(&pack.cell) {
            let message = format!("`charges` is \"pack\", but {why}");
            let problem = Problem::at(given.span(), message, "expected \"store\"");
            reader.problem(problem.help(HARM));
        }
        let why = "the panel charges the pack and has no store of its own";
        refuse_idle(reader, keys, &STORE_KEYS, why);
    }
    charges
}

/// What charging does to cells that are not made for it.
const HARM: &str = "a primary cell that is charged leaks, vents or bursts; charge only cells whose \
    maker allows it, within the maker's limits";

/// Why a cell may not be charged.
fn not_charged(cell: &crate::cells::NamedCell) -> Option<String> {
    let name = &cell.name;
    if !cell.cell.chemistry.rechargeable() {
        Some(format!("{name} is a primary cell"))
    } else if cell.cell.charging.is_none() {
        Some(format!("the cell file of {name} has no [charging]"))
    } else {
        None
    }
}

fn read_store(reader: &mut Reader, keys: &PanelKeys, own: &CellFiles) -> Option<StoreChoice> {
    let cell = match &keys.store_cell {
        None => own.cell(usual::STORE_CELL),
        Some(name) => {
            let cell = own.find(reader, name)?;
            if let Some(why) = not_charged(&cell) {
                let message = format!("`store_cell` must be charged, but {why}");
                let problem = Problem::at(name.span(), message, "expected a rechargeable cell");
                reader.problem(problem.help(HARM));
                return None;
            }
            Some(cell)
        }
    }?;
    let kept = cell
        .cell
        .charging
        .map_or(1.0, |charging| charging.efficiency);
    let usual_pct = 100.0 * kept * usual::CONVERTER;
    let wh = keys.store_wh.as_ref();
    let wh = reader.number(wh, "store_wh", accepted::STORE_WH, usual::STORE_WH);
    let pct = keys.store_pct.as_ref();
    Some(StoreChoice {
        cell,
        capacity: Energy::from_watt_hours(wh),
        efficiency: reader.number(pct, "store_pct", accepted::EFFICIENCY_PCT, usual_pct) / 100.0,
    })
}

/// The keys that have an effect and are not in the file, in the order of the keys.
fn usual_keys(keys: &PanelKeys, panel: &PanelChoice, pack: &PackChoice) -> Vec<&'static str> {
    let direct = matches!(panel.controller, Controller::Direct { .. });
    let charges = panel.charges(pack);
    let has_effect = |key: &str| match key {
        "controller_pct" => !direct,
        "panel_v" => direct,
        "store_cell" | "store_wh" | "store_pct" => charges == Charges::Store,
        "trees" | "bare_trees_pct" | "leaf_out" | "leaf_fall" => false,
        _ => true,
    };
    let all = PanelKeys::KEYS.iter().copied();
    all.filter(|key| keys.place_of(key).is_none() && has_effect(key))
        .collect()
}
