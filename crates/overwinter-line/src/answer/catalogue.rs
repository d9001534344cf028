//! `catalogue`: the cells and what they rest on.

use overwinter_model::cell::catalogue::{CATALOGUE, CatalogueCell};
use overwinter_model::cell::{Chemistry, Makes, Tested};
use overwinter_model::{Charge, Energy, Voltage};
use serde::ser::SerializeMap;
use serde::{Serialize, Serializer};

use super::document::Rounded;
use crate::cells::{Accuracy, RoleAccuracy, accuracy};

/// The answer.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Catalogue {
    /// The cells in the catalogue's order.
    pub cells: Vec<CellDocument>,
}

/// A cell of the catalogue.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct CellDocument {
    /// Its name.
    pub name: &'static str,
    /// For a person.
    pub title: &'static str,
    /// Its size.
    pub size: &'static str,
    /// What it is made of.
    pub chemistry: &'static str,
    /// Whether it can be charged.
    pub rechargeable: bool,
    /// What a vanishing load would get at 20 °C.
    pub capacity_ah: Rounded<4>,
    /// The same as energy.
    pub energy_wh: Rounded<4>,
    /// Open-circuit voltage when fresh.
    pub fresh_v: Rounded<4>,
    /// Voltage under which it is harmed.
    pub floor_v: Rounded<4>,
    /// Its mass.
    pub mass_g: Rounded<1>,
    /// One make in ten holds less than this.
    pub one_in_ten_ah: Rounded<4>,
    /// How cells of one packet differ in capacity.
    pub spread_pct: Rounded<1>,
    /// How makes under the same name differ.
    pub makes: MakesDocument,
    /// How far off it may be where no published point reaches.
    pub beyond_points: BeyondPointsDocument,
    /// Range of the points that it rests on.
    pub tested: TestedDocument,
    /// How well it fits them.
    pub accuracy: Option<AccuracyDocument>,
    /// Where that is written down.
    pub note: String,
}

/// How makes differ: one standard deviation each.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct MakesDocument {
    /// In capacity.
    pub capacity_pct: Rounded<1>,
    /// In resistance.
    pub resistance_pct: Rounded<1>,
    /// How the two go together.
    pub correlation: Rounded<2>,
    /// In open-circuit voltage, of one cell inside.
    pub open_circuit_mv: Rounded<1>,
}

/// How far off a cell may be, one standard deviation for each step beyond its points.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct BeyondPointsDocument {
    /// In resistance.
    pub resistance_pct: Rounded<1>,
    /// In the charge within reach.
    pub reach_pct: Rounded<1>,
}

/// Range of the points that a cell rests on.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct TestedDocument {
    /// The coldest of them.
    pub coldest_c: Rounded<2>,
    /// The warmest.
    pub warmest_c: Rounded<2>,
    /// The heaviest load.
    pub heaviest_ma: Rounded<2>,
    /// The heaviest load below 0 °C.
    pub heaviest_in_frost_ma: Rounded<2>,
}

/// How well a cell fits its points.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct AccuracyDocument {
    /// Those that it was fitted to.
    pub fitted: RoleDocument,
    /// Those that the fit never saw.
    pub held_out: RoleDocument,
}

/// How well a cell fits the points of one role.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct RoleDocument {
    /// How many.
    pub points: usize,
    /// Errors of durations, percent.
    pub durations: Option<Errors>,
    /// Errors of voltages, millivolts.
    pub voltages: Option<Errors>,
    /// Errors of resistances, percent.
    pub resistances: Option<Errors>,
}

/// Errors of some points: the median, and what nine of ten keep below.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Errors {
    /// `pct` or `mv`, at the end of the keys.
    pub unit: &'static str,
    /// The median, a share or volts.
    pub median: f64,
    /// What nine of ten keep below.
    pub ninetieth: f64,
    /// How many of the unit make one.
    scale: f64,
}

impl Serialize for Errors {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut map = serializer.serialize_map(Some(2))?;
        let unit = self.unit;
        for (name, error) in [("median", self.median), ("ninetieth", self.ninetieth)] {
            map.serialize_entry(&format!("{name}_{unit}"), &Rounded::<1>(self.scale * error))?;
        }
        map.end()
    }
}

/// The cells and what they rest on.
#[must_use]
pub fn answer() -> Catalogue {
    Catalogue {
        cells: CATALOGUE.iter().map(cell).collect(),
    }
}

fn cell(entry: &CatalogueCell) -> CellDocument {
    let cell = &entry.cell;
    let in_series = f64::from(cell.in_series);
    let capacity: Charge = cell.capacity;
    let energy: Energy = cell.energy_left(&cell.full());
    let fresh: Voltage = cell.open_circuit.at(0.0);
    CellDocument {
        name: entry.name,
        title: entry.title,
        size: entry.size,
        chemistry: chemistry(cell.chemistry),
        rechargeable: cell.chemistry.rechargeable(),
        capacity_ah: Rounded(capacity.as_ampere_hours()),
        energy_wh: Rounded(energy.as_watt_hours()),
        fresh_v: Rounded(fresh.as_volts() * in_series),
        floor_v: Rounded(cell.floor.as_volts() * in_series),
        mass_g: Rounded(entry.mass_g),
        one_in_ten_ah: Rounded(capacity.as_ampere_hours() * cell.makes.one_in_ten()),
        spread_pct: Rounded(100.0 * cell.spread),
        makes: makes(&cell.makes),
        beyond_points: BeyondPointsDocument {
            resistance_pct: Rounded(100.0 * cell.beyond_points.resistance),
            reach_pct: Rounded(100.0 * cell.beyond_points.reach),
        },
        tested: tested(&cell.tested),
        accuracy: accuracy(entry.name).map(accuracy_document),
        note: format!("datasheets-notes/{}.md", entry.name),
    }
}

fn makes(makes: &Makes) -> MakesDocument {
    MakesDocument {
        capacity_pct: Rounded(100.0 * makes.capacity),
        resistance_pct: Rounded(100.0 * makes.resistance),
        correlation: Rounded(makes.correlation),
        open_circuit_mv: Rounded(1000.0 * makes.open_circuit.as_volts()),
    }
}

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

fn tested(tested: &Tested) -> TestedDocument {
    TestedDocument {
        coldest_c: Rounded(tested.coldest.as_celsius()),
        warmest_c: Rounded(tested.warmest.as_celsius()),
        heaviest_ma: Rounded(tested.heaviest.as_milliamperes()),
        heaviest_in_frost_ma: Rounded(tested.heaviest_in_frost.as_milliamperes()),
    }
}

fn accuracy_document(accuracy: &Accuracy) -> AccuracyDocument {
    AccuracyDocument {
        fitted: role(&accuracy.fitted),
        held_out: role(&accuracy.held_out),
    }
}

fn role(role: &RoleAccuracy) -> RoleDocument {
    let errors = |errors: Option<(f64, f64)>, scale, unit| {
        errors.map(|(median, ninetieth)| Errors {
            unit,
            median,
            ninetieth,
            scale,
        })
    };
    RoleDocument {
        points: role.points,
        durations: errors(role.durations, 100.0, "pct"),
        voltages: errors(role.voltages_v, 1000.0, "mv"),
        resistances: errors(role.resistances, 100.0, "pct"),
    }
}
