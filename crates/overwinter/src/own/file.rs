//! The file of points as it stands on disk, and as rows like those of the published tables.

use std::ops::Range;
use std::path::Path;

use overwinter_model::Charge;
use overwinter_model::cell::catalogue::{self, CatalogueCell};
use serde::Deserialize;
use toml::Spanned;

use super::{OwnPoints, start};
use crate::cells::{self, read_own_name};
use crate::fit::{Point, Role, Weights};
use crate::keys::{self, Dialect, Reader, plain};
use crate::points::{Grade, How, RatedCell, Row, State, changes_more_often, evaluate};
use crate::problem::{Failure, Problem, in_order, suggest};
use crate::source::read_text;

/// A file of points larger than this is not one.
const LARGEST_FILE_BYTES: u64 = 1_000_000;

/// The most points of one cell.
const MOST_POINTS: usize = 200;

/// A test whose load changes more often takes too long to repeat hundreds of times.
const MOST_CHANGES: usize = 50_000;

/// Tolerance of a point that does not say, per cent: as in the published tables.
const USUAL_TOLERANCE_PCT: f64 = 10.0;

/// How far a user's points may be off beyond their tolerance: they are of the very cell.
const WEIGHTS: Weights = Weights {
    grades: 0.0,
    from_memory: false,
};

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

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct PointKeys {
    quantity: Text,
    value: Number,
    temp_c: Option<Number>,
    current_ma: Option<Number>,
    power_mw: Option<Number>,
    resistance_ohm: Option<Number>,
    profile: Option<Text>,
    on_s: Option<Number>,
    period_s: Option<Number>,
    hours_per_day: Option<Number>,
    pulse_s: Option<Number>,
    state: Option<Text>,
    cutoff_v: Option<Number>,
    tolerance_pct: Option<Number>,
    source: Option<Text>,
}

/// What can be given, as in the published tables.
const QUANTITIES: [&str; 13] = [
    "service_h",
    "service_min",
    "service_pulses",
    "capacity_mAh",
    "energy_Wh",
    "voltage_V",
    "ocv_V",
    "resistance_ohm",
    "capacity_pct_of_rated",
    "capacity_pct_of_20C",
    "capacity_pct_of_21C",
    "capacity_pct_of_25C",
    "capacity_pct_after_storage",
];

/// Reads a file of points.
///
/// # Errors
/// [`Failure::Input`] with every problem of the file and its place; [`Failure::Request`] if it
/// cannot be read at all.
pub fn load(path: &Path) -> Result<OwnPoints, Failure> {
    let source = read_text(path, "file of points", LARGEST_FILE_BYTES)?;
    read(&source.text).map_err(|problems| Failure::Input { source, problems })
}

/// Reads points from the text of their file.
pub(super) fn read(text: &str) -> Result<OwnPoints, Vec<Problem>> {
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
    let of_cell_files = ["chemistry", "in_series", "rated_mah", "floor_v", "ohmic"];
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

fn read_keys(reader: &mut Reader, keys: &FileKeys) -> Option<OwnPoints> {
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
    Some(OwnPoints {
        title: keys
            .title
            .as_ref()
            .map_or_else(|| name.clone(), |title| title.get_ref().clone()),
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

fn empty_row() -> Row {
    Row {
        id: String::new(),
        chemistry: String::new(),
        // No size: the cell as it is, not scaled to another.
        size: String::new(),
        quantity: String::new(),
        temp_c: Some(20.0),
        condition_load: String::new(),
        state: String::new(),
        cutoff_v: None,
        value: 0.0,
        source_id: String::new(),
        how: How::Seen,
        tol_pct: Some(USUAL_TOLERANCE_PCT),
        note: String::new(),
        grade: Grade::Own,
    }
}

fn read_point(
    reader: &mut Reader,
    number: usize,
    spanned: &Spanned<PointKeys>,
    start: &RatedCell,
) -> Option<Point> {
    let before = reader.problems.len();
    let keys = spanned.get_ref();
    let quantity = keys.quantity.get_ref();
    if !QUANTITIES.contains(&quantity.as_str()) {
        reader.unknown(&keys.quantity, "quantity", &QUANTITIES);
    }
    let text = |given: &Option<Text>| given.as_ref().map_or("", |text| text.get_ref()).to_owned();
    let state = text(&keys.state);
    if let (Some(given), Err(why)) = (&keys.state, State::parse(&state)) {
        let problem = Problem::at(given.span(), why.to_string(), "not known here");
        reader.problem(
            problem.help("for example fresh, stored_months=12, t_h=2, dod=0.5, with ; between"),
        );
    }
    let highest = 1.5 * f64::from(start.cell.in_series) * start.cell.open_circuit.volts[0];
    let cutoff = reader.number(keys.cutoff_v.as_ref(), "cutoff_v", 0.0..=highest, 0.0);
    let row = Row {
        id: format!("point {number}"),
        quantity: quantity.clone(),
        temp_c: Some(reader.number(keys.temp_c.as_ref(), "temp_c", -60.0..=80.0, 20.0)),
        condition_load: load_text(reader, keys),
        state,
        cutoff_v: keys.cutoff_v.as_ref().map(|_| cutoff),
        value: reader.number(Some(&keys.value), "value", 1e-6..=1e9, 1.0),
        source_id: text(&keys.source),
        tol_pct: Some(reader.number(
            keys.tolerance_pct.as_ref(),
            "tolerance_pct",
            0.1..=100.0,
            USUAL_TOLERANCE_PCT,
        )),
        ..empty_row()
    };
    if reader.problems.len() > before {
        return None;
    }
    usable(reader, row, keys.quantity.span(), start)
}

/// The load in the form of the published tables.
fn load_text(reader: &mut Reader, keys: &PointKeys) -> String {
    let steady = [
        ("current_ma", &keys.current_ma),
        ("power_mw", &keys.power_mw),
        ("resistance_ohm", &keys.resistance_ohm),
    ];
    let spans = [
        ("on_s", &keys.on_s),
        ("period_s", &keys.period_s),
        ("hours_per_day", &keys.hours_per_day),
    ];
    let mut parts = Vec::new();
    let mut places = Vec::new();
    for (key, given) in steady {
        if let Some(given) = given {
            let value = reader.number(Some(given), key, 0.001..=1e7, 1.0);
            parts.push(format!("{key}={value}"));
            places.push(given.span());
        }
    }
    if let Some(given) = &keys.profile {
        parts.push(format!("profile={}", given.get_ref()));
        places.push(given.span());
    }
    if let [_, second, ..] = places.as_slice() {
        reader.problem(Problem::at(
            second.clone(),
            "the point has several loads",
            "expected one of `current_ma`, `power_mw`, `resistance_ohm` and `profile`",
        ));
    }
    for (key, given) in spans {
        if let Some(given) = given {
            let value = reader.number(Some(given), key, 0.001..=1e7, 1.0);
            parts.push(format!("{key}={value}"));
        }
    }
    if let Some(given) = &keys.pulse_s {
        let value = reader.number(Some(given), "pulse_s", 1e-6..=3600.0, 1.0);
        parts.push(format!("{value} s"));
    }
    parts.join(";")
}

/// The point, if the model can repeat it with the cell from which the fit starts.
fn usable(reader: &mut Reader, row: Row, span: Range<usize>, start: &RatedCell) -> Option<Point> {
    if changes_more_often(start, &row, MOST_CHANGES) {
        let message = format!("the load of this point changes more than {MOST_CHANGES} times");
        let problem = Problem::at(span, message, "too long a test to be repeated");
        reader.problem(problem.help("give its mean load in place of its phases"));
        return None;
    }
    let refused = |why: String| {
        let problem = Problem::at(span, why, "expected a test that can be repeated");
        problem.help(
            "durations, capacities and energies need a load and a cutoff_v; a voltage needs a load \
             with pulse_s, or a place in state such as t_h=2",
        )
    };
    match evaluate(start, &row) {
        Ok(modelled) if modelled.ours.is_finite() && modelled.ours > 0.0 => {
            let sigma = WEIGHTS.sigma(&row, start.cell.floor, modelled.in_series);
            if modelled.assumed.is_some() {
                reader.problem(refused("this point has no `cutoff_v`".to_owned()));
                return None;
            }
            Some(Point {
                row,
                role: Role::Fitted,
                measure: modelled.measure,
                sigma,
            })
        }
        Ok(modelled) => {
            let ours = plain(modelled.ours);
            let why = format!("a cell like that gives {ours} in the test of this point");
            reader.problem(refused(why));
            None
        }
        Err(why) => {
            reader.problem(refused(format!("this point cannot be repeated: {why}")));
            None
        }
    }
}
