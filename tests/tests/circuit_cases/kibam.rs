//! Cases of the two-well model.

use overwinter_model::cell::{Kinetics, Wells};
use overwinter_model::{Charge, Current, Time};
use serde::Deserialize;
use serde_json::Value;

use crate::results::Results;
use crate::verdict::Verdict;

/// Of the full charge, and of times: the model is a closed form, and so is the reference.
const ALLOWED: f64 = 1e-6;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Case {
    #[serde(rename = "title")]
    _title: Option<String>,
    q_ah: f64,
    c: f64,
    k_per_h: f64,
    initial_fraction: f64,
    on_empty: OnEmpty,
    steps: Vec<Step>,
}

/// What happens when the available well is empty.
#[derive(Clone, Copy, Deserialize, PartialEq)]
#[serde(rename_all = "snake_case")]
enum OnEmpty {
    /// The run ends.
    Stop,
    /// The next step of the load begins at once.
    NextStep,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Step {
    duration_h: f64,
    current_a: f64,
    /// How the results were sampled; the results say when.
    #[serde(rename = "sample_every_h")]
    _sample_every_h: Option<f64>,
}

#[derive(Deserialize)]
struct Row {
    time_h: f64,
    current_a: f64,
    q1_ah: f64,
    q2_ah: f64,
    available_fraction: f64,
    total_fraction: f64,
}

#[derive(Deserialize)]
struct Summary {
    ended_by: String,
    end_time_h: f64,
    delivered_ah: f64,
    stranded_ah: f64,
    empty_events: u32,
    /// NaN if the battery never ran empty.
    first_empty_h: f64,
    first_empty_delivered_ah: f64,
}

/// Where a run stands.
struct State {
    wells: Wells,
    elapsed: Time,
    delivered: Charge,
    /// When the available well ran dry, and what had been delivered by then.
    empties: Vec<(Time, Charge)>,
}

/// Replays one case and compares it, or says why it cannot be compared.
pub(crate) fn replay(case: Value, results: &Results, verdict: &mut Verdict) -> Result<(), String> {
    let case: Case = serde_json::from_value(case).map_err(|why| why.to_string())?;
    if !(case.c > 0.0 && case.c < 1.0) {
        return Err(format!("c must lie between 0 and 1, got {}", case.c));
    }
    let rows: Vec<Row> = results.trajectory()?;
    let summary: Summary = results.summary("kibam")?;
    let (state, ended_by) = run(&case, &rows, &results.case, verdict);
    verdict.same(&results.case, "ended_by", &summary.ended_by, ended_by);
    compare_end(&case, &state, &summary, &results.case, verdict);
    Ok(())
}

/// Takes step after step and compares the rows of the reference on the way.
fn run(case: &Case, rows: &[Row], name: &str, verdict: &mut Verdict) -> (State, &'static str) {
    let kinetics = Kinetics {
        available_share: case.c,
        // k' of the closed form from the k of the differential equations.
        rate_per_second: case.k_per_h / (case.c * (1.0 - case.c)) / 3600.0,
    };
    let full = Wells::level(Charge::from_ampere_hours(case.q_ah), case.c);
    let mut state = State {
        wells: full.scaled(case.initial_fraction),
        elapsed: Time::ZERO,
        delivered: Charge::ZERO,
        empties: Vec::new(),
    };
    let mut due = rows.iter().peekable();
    let mut ended_by = "profile";
    for step in &case.steps {
        let current = Current::from_amperes(step.current_a);
        let duration = Time::from_hours(step.duration_h);
        let empty = state.wells.time_to_empty(&kinetics, 1.0, current, duration);
        let span = empty.unwrap_or(duration);
        // Times are given to nine digits.
        let until_h = (state.elapsed + span).as_hours() * (1.0 + 1e-8);
        let of_step = |row: &&Row| same_current(row, step) && row.time_h <= until_h;
        while let Some(row) = due.next_if(of_step) {
            let since = Time::from_hours(row.time_h) - state.elapsed;
            let ours = state.wells.after(&kinetics, current, since);
            compare_row(case, row, &ours, name, verdict);
        }
        state.wells = state.wells.after(&kinetics, current, span);
        state.elapsed += span;
        state.delivered += current * span;
        if empty.is_some() {
            state.empties.push((state.elapsed, state.delivered));
            if case.on_empty == OnEmpty::Stop {
                ended_by = "empty";
                break;
            }
        }
    }
    for row in due {
        let reason = format!("no step reached the row at {} h", row.time_h);
        verdict.points.skip(name, &reason);
    }
    (state, ended_by)
}

fn same_current(row: &Row, step: &Step) -> bool {
    (row.current_a - step.current_a).abs() <= 1e-8 * step.current_a.abs()
}

fn compare_row(case: &Case, row: &Row, ours: &Wells, name: &str, verdict: &mut Verdict) {
    let mut compare = |quantity: &str, reference, ours, allowed| {
        let quantity = format!("{quantity} at {} h, {} A", row.time_h, row.current_a);
        verdict.absolute(name, &quantity, reference, ours, allowed);
    };
    let available_ah = ours.available.as_ampere_hours();
    let bound_ah = ours.bound.as_ampere_hours();
    let total_fraction = ours.total().as_ampere_hours() / case.q_ah;
    let available_fraction = available_ah / (case.c * case.q_ah);
    compare("q1_ah", row.q1_ah, available_ah, ALLOWED * case.q_ah);
    compare("q2_ah", row.q2_ah, bound_ah, ALLOWED * case.q_ah);
    compare(
        "available_fraction",
        row.available_fraction,
        available_fraction,
        ALLOWED,
    );
    compare(
        "total_fraction",
        row.total_fraction,
        total_fraction,
        ALLOWED,
    );
}

fn compare_end(case: &Case, state: &State, summary: &Summary, name: &str, verdict: &mut Verdict) {
    let events = (f64::from(summary.empty_events), state.empties.len() as f64);
    verdict.absolute(name, "empty_events", events.0, events.1, 0.0);

    let charge = ALLOWED * case.q_ah;
    let mut time = |quantity: &str, reference, ours: Time| {
        verdict.relative(name, quantity, reference, ours.as_hours(), ALLOWED);
    };
    time("end_time_h", summary.end_time_h, state.elapsed);
    if let Some((first, _)) = state.empties.first() {
        time("first_empty_h", summary.first_empty_h, *first);
    }
    let mut amount = |quantity: &str, reference, ours: Charge| {
        verdict.absolute(name, quantity, reference, ours.as_ampere_hours(), charge);
    };
    amount("delivered_ah", summary.delivered_ah, state.delivered);
    amount("stranded_ah", summary.stranded_ah, state.wells.total());
    if let Some((_, by_then)) = state.empties.first() {
        amount(
            "first_empty_delivered_ah",
            summary.first_empty_delivered_ah,
            *by_then,
        );
    }
}
