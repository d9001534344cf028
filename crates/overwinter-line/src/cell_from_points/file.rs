//! The file of points as it stands on disk.

use std::ops::Range;
use std::path::Path;

use overwinter_model::Charge;
use overwinter_model::cell::catalogue::{self, CatalogueCell};
use serde::Deserialize;
use toml::Spanned;

use super::point::{PointKeys, USUAL_TOLERANCE_PCT, empty_row, read_point, usable};
use super::{CellPoints, start};
use crate::cells::{self, read_own_name};
use crate::fit::Point;
use crate::host::Files;
use crate::keys::{self, Dialect, Reader};
use crate::points::{RatedCell, Row};
use crate::problem::{Failure, Problem, in_order, suggest};
use crate::source::read_text;

/// A file of points larger than this is not one.
const LARGEST_FILE_BYTES: u64 = 1_000_000;

/// The most points of one cell.
const MOST_POINTS: usize = 200;

type Number = Spanned<f64>;
type Text = Spanned<String>;

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct FileKeys {
    name: Text,
    title: Option<Text>,
    like: Text,
    capacity_mah: Option<Number>,
    resistance_ohm: Option<Number>,
    fresh_v: Option<Number>,
    mass_g: Option<Number>,
    #[serde(default)]
    point: Vec<Spanned<PointKeys>>,
}

/// Reads a file of points.
///
/// # Errors
/// [`Failure::Input`] with every problem of the file and its place; [`Failure::Request`] if it
/// cannot be read at all.
pub fn load(files: &dyn Files, path: &Path) -> Result<CellPoints, Failure> {
    let source = read_text(files, path, "file of points", LARGEST_FILE_BYTES)?;
    read(&source.text).map_err(|problems| Failure::Input { source, problems })
}

/// Reads points from the text of their file.
pub(super) fn read(text: &str) -> Result<CellPoints, Vec<Problem>> {
    let dialect = Dialect {
        unknown_key,
        missing,
        name_again: "one file is about one cell",
    };
    let keys: FileKeys = keys::parse(text, &dialect).map_err(|problem| vec![problem])?;
    let mut reader = Reader::default();
    match read_keys(&mut reader, &keys) {
        Some(own) if reader.problems.is_empty() => Ok(own),
        _ => Err(in_order(reader.problems)),
    }
}

fn unknown_key(span: Range<usize>, key: &str, known: &[&str]) -> Problem {
    let of_file = known.contains(&"like");
    let place = if of_file {
        "the top of a file of points"
    } else {
        "[[point]]"
    };
    let problem = Problem::at(
        span,
        format!("`{key}` is not a key of {place}"),
        "not known here",
    );
    let of_cell_files = [
        "beyond_points",
        "branch",
        "chemistry",
        "in_series",
        "rated_mah",
        "floor_v",
        "ohmic",
    ];
    problem.help(if of_file && of_cell_files.contains(&key) {
        "this is a cell already: name the file wherever a cell is named".to_owned()
    } else {
        suggest(key, known)
    })
}

fn missing(span: Range<usize>, key: &str) -> Problem {
    let problem = Problem::at(span, format!("`{key}` is missing"), "expected here");
    problem.help(match key {
        "like" => "the catalogue cell that is nearest, for example like = \"alkaline-aa\"",
        "quantity" => "what was measured, for example quantity = \"capacity_mAh\"",
        "value" => "the figure that was measured, in the unit at the end of `quantity`",
        _ => "what the cell is to be called, for example name = \"shop-aa\"",
    })
}

fn read_keys(reader: &mut Reader, keys: &FileKeys) -> Option<CellPoints> {
    let name = read_own_name(reader, &keys.name);
    let Some(like) = catalogue::find(keys.like.get_ref()) else {
        reader.unknown(&keys.like, "like", &cells::names());
        return None;
    };
    let rated_mah = like.rated.as_milliampere_hours();
    let nearby = 0.25 * rated_mah..=4.0 * rated_mah;
    let given = keys.capacity_mah.as_ref();
    let rated = reader.number(given, "capacity_mah", nearby, rated_mah);
    let rated = Charge::from_milliampere_hours(rated);
    let mass_g = reader.number(keys.mass_g.as_ref(), "mass_g", 0.1..=1e6, like.mass_g);
    let start = start(like, rated);
    let mut points = sheet(reader, keys, like, &start);
    if let Some(beyond) = keys.point.get(MOST_POINTS) {
        let message = format!("the file has {} points", keys.point.len());
        let expected = format!("expected at most {MOST_POINTS}");
        reader.problem(Problem::at(beyond.span(), message, expected));
        return None;
    }
    for (number, point) in (1..).zip(&keys.point) {
        points.extend(read_point(reader, number, point, &start));
    }
    if points.is_empty() && given.is_none() && reader.problems.is_empty() {
        let problem = Problem::whole("there is nothing to fit a cell to");
        reader.problem(problem.help(
            "add a [[point]], for example\n[[point]]\nquantity = \"capacity_mAh\"\n\
             current_ma = 100\ncutoff_v = 0.9\nvalue = 2200",
        ));
    }
    let title = keys.title.as_ref();
    Some(CellPoints {
        title: title.map_or_else(
            || name.clone(),
            |title| reader.printed(title, "title", cells::LONGEST_TITLE),
        ),
        name,
        like,
        rated,
        mass_g,
        points,
    })
}

/// The data sheet's numbers that are points: resistance by the method that the published tables
/// take where a sheet tells none, and the open-circuit voltage of a fresh cell.
fn sheet(
    reader: &mut Reader,
    keys: &FileKeys,
    like: &CatalogueCell,
    start: &RatedCell,
) -> Vec<Point> {
    let cells = f64::from(like.cell.in_series);
    let fresh = cells * like.cell.open_circuit.at(0.0).as_volts();
    let numbers = [
        (
            "resistance_ohm",
            &keys.resistance_ohm,
            "resistance_ohm",
            1e-4..=10.0 * cells,
            USUAL_TOLERANCE_PCT,
        ),
        (
            "fresh_v",
            &keys.fresh_v,
            "ocv_V",
            0.8 * fresh..=1.2 * fresh,
            0.5,
        ),
    ];
    let mut points = Vec::new();
    for (key, given, quantity, range, tolerance) in numbers {
        let Some(given) = given else { continue };
        let row = Row {
            id: key.to_owned(),
            quantity: quantity.to_owned(),
            value: reader.number(Some(given), key, range, 1.0),
            tol_pct: Some(tolerance),
            ..empty_row()
        };
        points.extend(usable(reader, row, given.span(), start));
    }
    points
}
