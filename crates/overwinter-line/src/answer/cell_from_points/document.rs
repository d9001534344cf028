//! The answer: a fitted cell beside its points.

use std::collections::BTreeMap;

use serde::ser::SerializeMap;
use serde::{Serialize, Serializer};

use super::FittedCell;
use crate::answer::document::Rounded;
use crate::cell_from_points::Move;
use crate::fit::{self, Group, Residual};
use crate::points::Measure;

/// The answer.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct CellAnswer {
    /// What a script reads.
    pub document: FittedDocument,
    /// What is said beyond that.
    pub details: FittedDetails,
}

/// A fitted cell.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct FittedDocument {
    /// What it is called.
    pub name: String,
    /// For a person.
    pub title: String,
    /// The catalogue cell that it started from.
    pub like: &'static str,
    /// Nominal capacity.
    pub rated_mah: Rounded<3>,
    /// Fitted capacity.
    pub capacity_mah: Rounded<3>,
    /// Its mass.
    pub mass_g: Rounded<2>,
    /// What is to be minded of it.
    pub caution: Option<String>,
    /// Every point beside the model's figure.
    pub points: Vec<PointDocument>,
    /// How large errors are, by kind of point.
    pub errors: BTreeMap<&'static str, Errors>,
    /// What the points have moved.
    pub moved: Vec<MovedDocument>,
    /// The file that it is written to.
    pub file: Option<String>,
}

/// A point beside the model's figure.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PointDocument {
    /// Its name.
    pub point: String,
    /// What was measured.
    pub quantity: String,
    /// At which temperature.
    pub temperature_c: Option<f64>,
    /// Under which load.
    pub load: String,
    /// In which state of the cell.
    pub state: String,
    /// Down to which voltage.
    pub cutoff_v: Option<f64>,
    /// Who says so.
    pub source: String,
    /// The published figure.
    pub published: Rounded<6>,
    /// The model's.
    pub modelled: Rounded<6>,
    /// How far it is off.
    #[serde(flatten)]
    pub error: PointError,
}

/// How far the model is off a point.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub enum PointError {
    /// A share.
    #[serde(rename = "error_pct")]
    Percent(Rounded<2>),
    /// A voltage.
    #[serde(rename = "error_mv")]
    Millivolts(Rounded<2>),
}

/// How large the errors of a kind of point are.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Errors {
    /// How many points.
    pub points: usize,
    /// `pct` or `mv`, at the end of the keys.
    pub unit: &'static str,
    /// Half are smaller; in the unit.
    pub median: f64,
    /// The largest; in the unit.
    pub worst: f64,
}

impl Serialize for Errors {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut map = serializer.serialize_map(Some(3))?;
        let unit = self.unit;
        map.serialize_entry("points", &self.points)?;
        map.serialize_entry(&format!("median_{unit}"), &Rounded::<2>(self.median))?;
        map.serialize_entry(&format!("worst_{unit}"), &Rounded::<2>(self.worst))?;
        map.end()
    }
}

/// A parameter that was moved.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct MovedDocument {
    /// Its key in a cell file.
    pub key: &'static str,
    /// In the cell that it started from.
    pub from: Rounded<9>,
    /// In the fitted cell.
    pub to: Rounded<9>,
}

/// What is said beyond the document.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct FittedDetails {
    /// How many points the file has.
    pub points: usize,
    /// Kinds of points in words, with the keys of their errors.
    pub kinds: Vec<(&'static str, &'static str)>,
    /// Each parameter that was moved in words, with its unit.
    pub moved: Vec<(&'static str, &'static str)>,
}

impl CellAnswer {
    pub(super) fn of(fitted: &FittedCell, file: Option<String>) -> Self {
        let residuals = fitted.residuals();
        let moves = fitted.moves();
        let kinds = Group::ALL.into_iter().filter_map(|group| {
            let of_group = residuals
                .iter()
                .filter(|residual| Group::of(&residual.point.row) == group);
            let errors = errors(group, fit::Errors::of(of_group)?);
            Some((group.word(), key(group), errors))
        });
        let kinds: Vec<_> = kinds.collect();
        let FittedCell { own, cell } = fitted;
        Self {
            document: FittedDocument {
                name: cell.name.clone(),
                title: cell.title.clone(),
                like: own.like.name,
                rated_mah: Rounded(cell.rated.as_milliampere_hours()),
                capacity_mah: Rounded(cell.cell.capacity.as_milliampere_hours()),
                mass_g: Rounded(cell.mass_g),
                caution: fitted.caution(),
                points: residuals.iter().map(point).collect(),
                errors: kinds
                    .iter()
                    .map(|(_, key, errors)| (*key, *errors))
                    .collect(),
                moved: moves.iter().map(moved).collect(),
                file,
            },
            details: FittedDetails {
                points: own.points.len(),
                kinds: kinds
                    .into_iter()
                    .map(|(word, key, _)| (word, key))
                    .collect(),
                moved: moves.iter().map(|one| (one.what, one.unit)).collect(),
            },
        }
    }
}

fn key(group: Group) -> &'static str {
    match group {
        Group::Services => "durations",
        Group::Voltages => "voltages",
        Group::Resistances => "resistances",
    }
}

fn errors(group: Group, errors: fit::Errors) -> Errors {
    let (unit, scale) = match group {
        Group::Voltages => ("mv", 1000.0),
        Group::Services | Group::Resistances => ("pct", 100.0),
    };
    Errors {
        points: errors.points,
        unit,
        median: scale * errors.median,
        worst: scale * errors.worst,
    }
}

fn point(residual: &Residual<'_>) -> PointDocument {
    let row = &residual.point.row;
    PointDocument {
        point: row.id.clone(),
        quantity: row.quantity.clone(),
        temperature_c: row.temp_c,
        load: row.condition_load.clone(),
        state: row.state.clone(),
        cutoff_v: row.cutoff_v,
        source: row.source_id.clone(),
        published: Rounded(row.value),
        modelled: Rounded(residual.ours),
        error: match residual.point.measure {
            Measure::Relative => PointError::Percent(Rounded(100.0 * residual.off)),
            Measure::Absolute => PointError::Millivolts(Rounded(1000.0 * residual.off)),
        },
    }
}

fn moved(moved: &Move) -> MovedDocument {
    MovedDocument {
        key: moved.key,
        from: Rounded(moved.from),
        to: Rounded(moved.to),
    }
}
