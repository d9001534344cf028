//! A sweep's rows for scripts: JSON and CSV with the same columns.

use std::path::Path;

use overwinter_line::answer::sweep::{Axis, Row, Sweep};
use overwinter_line::answer::warnings::told_once;
use overwinter_line::line::Value;
use overwinter_line::problem::Failure;
use overwinter_line::shown;
use serde_json::{Map, Value as Json, json};

use crate::command::{document, rounded};
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

/// A value as a script reads it: numbers as numbers, the rest as text.
fn value_json(value: &Value) -> Json {
    let Some(number) = value.as_f64() else {
        return value.to_string().into();
    };
    // A whole number is written without a point.
    value
        .to_string()
        .parse::<i64>()
        .map_or_else(|_| number.into(), Json::from)
}

/// A row's columns behind its values and its camera.
fn columns(row: &Row) -> [(&'static str, Json); 10] {
    let days = |days: Option<f64>| days.map_or(Json::Null, |days| rounded(days, 3));
    let [p10, p50, p90] = row.days.map(days);
    [
        ("season_days", row.season_days.into()),
        ("days_expected", rounded(row.days_expected, 3)),
        ("days_p10", p10),
        ("days_p50", p50),
        ("days_p90", p90),
        ("night_pictures_days_p50", days(row.night_days_p50)),
        ("odds_alive", rounded(row.odds_alive, 4)),
        ("charge_left_fraction", rounded(row.charge_left, 4)),
        ("expected_outlives_season", row.outlives.into()),
        ("card_full_days_p50", days(row.card_full_days_p50)),
    ]
}

/// The answer for a script.
#[must_use]
pub fn json(sweep: &Sweep<'_>, rows: &[Row]) -> String {
    let axes = sweep.axes.iter().map(|axis| axis_json(sweep, axis));
    let warnings = rows.iter().flat_map(|row| {
        let warnings = row.warnings.iter().cloned();
        warnings.map(|warning| (row.camera.as_str(), row.cell.as_str(), warning))
    });
    let warnings = told_once(warnings).into_iter().map(|told| {
        json!({
            "kind": told.warning.kind,
            "cell": told.cell,
            "cameras": told.cameras,
            "text": told.warning.text,
        })
    });
    document(&json!({
        "site": sweep.line.site,
        "paths": sweep.paths.count,
        "seed": sweep.paths.seed,
        "axes": axes.collect::<Vec<_>>(),
        "rows": rows.iter().map(|row| row_json(sweep, row)).collect::<Vec<_>>(),
        "warnings": warnings.collect::<Vec<_>>(),
    }))
}

fn axis_json(sweep: &Sweep<'_>, axis: &Axis) -> Json {
    let values = axis.values.iter().map(value_json);
    json!({
        "key": axis.name,
        "section": axis.key.section.name(),
        "unit": axis.key.words().1,
        "values": values.collect::<Vec<_>>(),
        "replaced_in_cameras": sweep.file.overriding(&axis.key),
    })
}

fn row_json(sweep: &Sweep<'_>, row: &Row) -> Json {
    let mut object = Map::new();
    for (axis, value) in sweep.axes.iter().zip(sweep.values(row.point)) {
        object.insert(axis.name.clone(), value_json(value));
    }
    object.insert("camera".to_owned(), row.camera.as_str().into());
    let columns = columns(row).into_iter();
    object.extend(columns.map(|(name, value)| (name.to_owned(), value)));
    Json::Object(object)
}

/// The same rows with commas; what is null in JSON is empty.
///
/// # Errors
/// [`Failure::Run`] if there is no room for it in memory.
pub fn csv(sweep: &Sweep<'_>, rows: &[Row]) -> Result<Vec<u8>, Failure> {
    let failed = |why: csv::Error| Failure::Run(format!("the table cannot be made: {why}"));
    let mut writer = csv::Writer::from_writer(Vec::new());
    let head = sweep.axes.iter().map(|axis| axis.name.clone());
    let mut head: Vec<String> = head.chain(["camera".to_owned()]).collect();
    if let Some(row) = rows.first() {
        head.extend(columns(row).map(|(name, _)| name.to_owned()));
    }
    writer.write_record(&head).map_err(failed)?;
    for row in rows {
        let values = sweep.values(row.point).into_iter().map(field);
        let mut record: Vec<String> = values.chain([text_field(&row.camera)]).collect();
        record.extend(columns(row).map(|(_, value)| match value {
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
