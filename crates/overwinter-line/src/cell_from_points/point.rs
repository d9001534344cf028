//! One point of the file: as it stands there, and as a row like those of the published tables.

use std::ops::Range;

use serde::Deserialize;
use toml::Spanned;

use crate::fit::{Point, Role, Weights};
use crate::keys::Reader;
use crate::points::{How, RatedCell, Row, State, changes_more_often, evaluate};
use crate::problem::Problem;
use crate::words::plain;

/// A test whose load changes more often takes too long to repeat hundreds of times.
const MOST_CHANGES: usize = 50_000;

/// Tolerance of a point that does not say, per cent: as in the published tables.
pub(super) const USUAL_TOLERANCE_PCT: f64 = 10.0;

/// How far a user's points may be off beyond their tolerance: they are of the very cell.
pub(super) const WEIGHTS: Weights = Weights {
    makes: 0.0,
    makes_v: 0.0,
    from_memory: false,
};

type Number = Spanned<f64>;
type Text = Spanned<String>;

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct PointKeys {
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

/// The longest state or source of a point, characters.
const LONGEST_TEXT: usize = 200;

pub(super) fn empty_row() -> Row {
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
        makes: None,
        table: None,
    }
}

pub(super) fn read_point(
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
    let mut text = |given: &Option<Text>, key: &str| {
        let given = given.as_ref();
        given.map_or_else(String::new, |text| reader.printed(text, key, LONGEST_TEXT))
    };
    let state = text(&keys.state, "state");
    let source_id = text(&keys.source, "source");
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
        source_id,
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

/// Open-circuit voltage of a whole fresh cell or battery.
fn fresh_v(start: &RatedCell) -> f64 {
    f64::from(start.cell.in_series) * start.cell.open_circuit.at(0.0).as_volts()
}

/// The point, if the model can repeat it with the cell from which the fit starts.
pub(super) fn usable(
    reader: &mut Reader,
    row: Row,
    span: Range<usize>,
    start: &RatedCell,
) -> Option<Point> {
    if changes_more_often(start, &row, MOST_CHANGES) {
        let message = format!("the load of this point changes more than {MOST_CHANGES} times");
        let problem = Problem::at(span, message, "too long a test to be repeated");
        reader.problem(problem.help("give its mean load in place of its phases"));
        return None;
    }
    let refused = |why: String| {
        let problem = Problem::at(span.clone(), why, "expected a test that can be repeated");
        problem.help(
            "durations, capacities and energies need a load and a cutoff_v; a voltage needs a load \
             with pulse_s, or a place in state such as t_h=2",
        )
    };
    match evaluate(start, &row) {
        Ok(modelled) if modelled.ours.is_finite() && modelled.ours > 0.0 => {
            let sigma = WEIGHTS.sigma(&row, modelled.in_series);
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
        Ok(_) if row.cutoff_v.is_some_and(|cutoff| cutoff >= fresh_v(start)) => {
            let message = format!(
                "`cutoff_v` is {}, and a fresh cell like that has {:.2} V without a load",
                plain(row.cutoff_v.unwrap_or_default()),
                fresh_v(start)
            );
            reader.problem(Problem::at(span, message, "expected a lower `cutoff_v`"));
            None
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
