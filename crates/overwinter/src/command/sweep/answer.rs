//! A sweep's rows for scripts: JSON and CSV with the same columns.

use std::path::Path;

use overwinter_line::answer::sweep::SweepAnswer;
use overwinter_line::line::Value;
use overwinter_line::problem::Failure;
use overwinter_line::shown;
use serde_json::Value as Json;

use crate::command::json_text;
use crate::output::{Kind, Output};

/// What stands in the head of every table behind the keys that are varied.
const MARK: &str = "camera,season_days,days_expected,days_p10,days_p50,days_p90,";

/// The file of the table with commas, or standard output; `force` replaces whatever file is there.
///
/// # Errors
/// [`Failure::Request`] if its name does not end in `.csv`: it might be that of another file.
pub fn csv_output(path: &Path, force: bool) -> Result<Output, Failure> {
    let ending = path.extension().unwrap_or_default();
    if !ending.eq_ignore_ascii_case("csv") && path != Path::new("-") {
        return Err(Failure::request(
            format!("`{}` is not a name for a table", shown::path(path)),
            "end it in .csv",
        ));
    }
    let kind = Kind {
        what: "a table of a sweep that this program wrote",
        wrote: |head| {
            let head = head.split(|byte| *byte == b'\n').next().unwrap_or_default();
            head.windows(MARK.len()).any(|part| part == MARK.as_bytes())
        },
    };
    Ok(Output::new(path, kind, force))
}

/// A row's columns behind its values and its camera, in the table's order.
const COLUMNS: [&str; 10] = [
    "season_days",
    "days_expected",
    "days_p10",
    "days_p50",
    "days_p90",
    "night_pictures_days_p50",
    "odds_alive",
    "charge_left_fraction",
    "expected_outlives_season",
    "card_full_days_p50",
];

/// The answer for a script.
#[must_use]
pub fn json(answer: &SweepAnswer) -> String {
    json_text(&answer.document)
}

/// The same rows with commas; what is null in JSON is empty.
///
/// # Errors
/// [`Failure::Run`] if there is no room for it in memory.
pub fn csv(answer: &SweepAnswer) -> Result<Vec<u8>, Failure> {
    let failed = |why: csv::Error| Failure::Run(format!("the table cannot be made: {why}"));
    let mut writer = csv::Writer::from_writer(Vec::new());
    let axes = answer.document.axes.iter().map(|axis| axis.key.as_str());
    let head: Vec<&str> = axes.chain(["camera"]).chain(COLUMNS).collect();
    writer.write_record(&head).map_err(failed)?;
    for row in &answer.document.rows {
        let values = row.values.0.iter().map(|(_, value)| field(&value.0));
        let mut record: Vec<String> = values.chain([text_field(&row.camera)]).collect();
        // What it is made of always has a form in JSON.
        let figures = serde_json::to_value(row.figures).unwrap_or_default();
        record.extend(COLUMNS.map(|name| match &figures[name] {
            Json::Null => String::new(),
            value => value.to_string(),
        }));
        writer.write_record(&record).map_err(failed)?;
    }
    writer
        .into_inner()
        .map_err(|why| Failure::Run(format!("the table cannot be made: {why}")))
}

/// A value as a field: numbers as they are.
fn field(value: &Value) -> String {
    match value.as_f64() {
        Some(_) => value.to_string(),
        None => text_field(&value.to_string()),
    }
}

/// A text as a field that no spreadsheet takes for a formula and runs (OWASP, "CSV Injection"): behind an
/// apostrophe.
fn text_field(text: &str) -> String {
    if text.starts_with(['=', '+', '-', '@', '\t', '\r']) {
        format!("'{text}")
    } else {
        text.to_owned()
    }
}
