//! `catalogue --from`: a cell of one's own, fitted to one's own points.

use std::path::Path;

use crc::{CRC_32_ISO_HDLC, Crc};
use overwinter_line::answer::own_cell::OwnCell;
use overwinter_line::cells;
use overwinter_line::fit::{Errors, Group, Residual};
use overwinter_line::own::{Move, OwnPoints};
use overwinter_line::points::Measure;
use overwinter_line::problem::Failure;
use overwinter_line::shown;
use overwinter_line::words;
use serde_json::{Value, json};

use super::paragraph::wrap;
use super::{document, rounded};
use crate::output::{Kind, Output};
use crate::table::{Column, Table};

/// What a written cell file begins with.
const MARK: &str = "Written by `overwinter catalogue --from ";

/// A cell's file, or standard output; `force` replaces whatever file is there.
///
/// # Errors
/// [`Failure::Request`] if its name is not one by which it will be known as a cell file.
pub fn output(path: &Path, force: bool) -> Result<Output, Failure> {
    let name = path.to_string_lossy();
    if !cells::is_file(&name) && name != "-" {
        return Err(Failure::request(
            format!("`{}` does not end in .toml", shown::path(path)),
            "a cell file is known by that",
        ));
    }
    let kind = Kind {
        what: "a cell file as this program wrote it",
        wrote: is_unchanged,
    };
    Ok(Output::new(path, kind, force))
}

/// The text of the cell's file.
///
/// # Errors
/// [`Failure::Run`] if the cell has no form as text.
pub fn cell_file(points: &Path, fitted: &OwnCell) -> Result<String, Failure> {
    let origin = format!(
        "{MARK}{}`: {} over {}.",
        shown::path(points),
        words::count(fitted.own.points.len(), "point"),
        fitted.own.like.name
    );
    let text = cells::text(&fitted.cell, &origin)
        .map_err(|why| Failure::Run(format!("the cell has no form as a file: {why}")))?;
    let sum = CHECKSUM.checksum(text.as_bytes());
    Ok(format!("{text}{SUM}{sum:08x}\n"))
}

/// Last line of a written cell file, before the checksum of what stands above it: a cell that somebody has
/// tuned by hand is not written over.
const SUM: &str = "# Checksum, which a change by hand makes wrong: ";

const CHECKSUM: Crc<u32> = Crc::<u32>::new(&CRC_32_ISO_HDLC);

/// Whether a file is a cell file as it was written.
fn is_unchanged(file: &[u8]) -> bool {
    let text = String::from_utf8_lossy(file);
    let Some((cell, sum)) = text.rsplit_once(SUM) else {
        return false;
    };
    cell.starts_with(&format!("# {MARK}"))
        && u32::from_str_radix(sum.trim_end(), 16) == Ok(CHECKSUM.checksum(cell.as_bytes()))
}

/// The answer for a person.
#[must_use]
pub fn text(fitted: &OwnCell, file: Option<&Path>) -> String {
    let OwnCell { own, cell } = fitted;
    let mut text = format!(
        "{}: a cell of your own, like {}, points: {}.\n\n",
        cell.name,
        own.like.name,
        own.points.len()
    );
    let residuals = fitted.residuals();
    if !residuals.is_empty() {
        text.push_str(&points_table(&residuals));
        text.push_str("\n\n");
        for (what, errors) in errors(&residuals) {
            text.push_str(&format!("{what}: {errors}\n"));
        }
        text.push('\n');
    }
    text.push_str(&moves_text(own, &fitted.moves()));
    if let Some(caution) = fitted.caution() {
        text.push_str(&format!("\n{}.\n", wrap(&caution)));
    }
    if let Some(file) = file {
        text.push_str(&format!(
            "\nName {} wherever a cell is named; a line file takes the path from its own folder.\n",
            shown::path(file)
        ));
    }
    text
}

/// Every point beside the model's figure.
fn points_table(residuals: &[Residual<'_>]) -> String {
    let head = [
        ("point", Column::Left),
        ("quantity", Column::Left),
        ("at", Column::Right),
        ("load", Column::Left),
        ("state", Column::Left),
        ("to", Column::Right),
        ("published", Column::Right),
        ("modelled", Column::Right),
        ("error", Column::Right),
    ];
    let points = Table::of(residuals).with(head, |residual| {
        let row = &residual.point.row;
        let volts = |volts| words::volts(overwinter_model::Voltage::from_volts(volts));
        let celsius =
            |celsius| words::temperature(overwinter_model::Temperature::from_celsius(celsius));
        [
            row.id.clone(),
            row.quantity.clone(),
            row.temp_c.map_or(String::new(), celsius),
            row.condition_load.clone(),
            row.state.clone(),
            row.cutoff_v.map_or(String::new(), volts),
            digits(row.value),
            digits(residual.ours),
            error(residual),
        ]
    });
    points.text()
}

/// Four digits of a number.
fn digits(value: f64) -> String {
    let before_point = value.abs().log10().floor().clamp(-6.0, 3.0);
    // Between 0 and 9 by the clamp.
    let decimals = (3.0 - before_point) as usize;
    format!("{value:.decimals$}")
}

fn error(residual: &Residual<'_>) -> String {
    match residual.point.measure {
        Measure::Relative => format!("{:+.1} %", 100.0 * residual.off),
        Measure::Absolute => format!("{:+.0} mV", 1000.0 * residual.off),
    }
}

/// Errors of what is judged by its share, and of voltages, in words.
fn errors(residuals: &[Residual<'_>]) -> Vec<(&'static str, String)> {
    let mut said = Vec::new();
    for group in Group::ALL {
        let of_group = residuals
            .iter()
            .filter(|r| Group::of(&r.point.row) == group);
        if let Some(errors) = Errors::of(of_group) {
            let (scale, unit) = unit_of(group);
            said.push((
                group.word(),
                format!(
                    "median error {:.1} {unit}, worst {:.1} {unit}",
                    scale * errors.median,
                    scale * errors.worst
                ),
            ));
        }
    }
    said
}

/// The unit in which errors of a group are told, and how many of it make one of the model's.
fn unit_of(group: Group) -> (f64, &'static str) {
    match group {
        Group::Voltages => (1000.0, "mV a cell"),
        Group::Services | Group::Resistances => (100.0, "%"),
    }
}

fn moves_text(own: &OwnPoints, moves: &[Move]) -> String {
    let like = own.like.name;
    if moves.is_empty() {
        return format!("Nothing moved: the points are those of {like}.\n");
    }
    let head = [
        ("moved", Column::Left),
        (like, Column::Right),
        (own.name.as_str(), Column::Right),
        ("unit", Column::Left),
        ("change", Column::Right),
    ];
    let moves = Table::of(moves).with(head, |moved| {
        [
            moved.what.to_owned(),
            digits(moved.from),
            digits(moved.to),
            moved.unit.to_owned(),
            format!("{:+.1} %", 100.0 * (moved.to / moved.from - 1.0)),
        ]
    });
    let table = moves.text();
    format!("{table}\n\nAll else is as in {like}: these points cannot tell it.\n")
}

/// The answer for a script.
#[must_use]
pub fn json(fitted: &OwnCell, file: Option<&Path>) -> String {
    let residuals = fitted.residuals();
    let errors = Group::ALL.iter().filter_map(|&group| {
        let of_group = residuals
            .iter()
            .filter(|r| Group::of(&r.point.row) == group);
        let errors = Errors::of(of_group)?;
        let (key, unit, scale) = match group {
            Group::Services => ("durations", "pct", 100.0),
            Group::Voltages => ("voltages", "mv", 1000.0),
            Group::Resistances => ("resistances", "pct", 100.0),
        };
        let errors = json!({
            "points": errors.points,
            format!("median_{unit}"): rounded(scale * errors.median, 2),
            format!("worst_{unit}"): rounded(scale * errors.worst, 2),
        });
        Some((key.to_owned(), errors))
    });
    document(&json!({
        "name": fitted.cell.name,
        "title": fitted.cell.title,
        "like": fitted.own.like.name,
        "rated_mah": rounded(fitted.cell.rated.as_milliampere_hours(), 3),
        "capacity_mah": rounded(fitted.cell.cell.capacity.as_milliampere_hours(), 3),
        "mass_g": rounded(fitted.cell.mass_g, 2),
        "caution": fitted.caution(),
        "points": residuals.iter().map(point_json).collect::<Vec<_>>(),
        "errors": errors.collect::<serde_json::Map<String, Value>>(),
        "moved": fitted.moves().iter().map(move_json).collect::<Vec<_>>(),
        "file": file.map(shown::path),
    }))
}

fn point_json(residual: &Residual<'_>) -> Value {
    let row = &residual.point.row;
    let (key, error) = match residual.point.measure {
        Measure::Relative => ("error_pct", 100.0 * residual.off),
        Measure::Absolute => ("error_mv", 1000.0 * residual.off),
    };
    json!({
        "point": row.id,
        "quantity": row.quantity,
        "temperature_c": row.temp_c,
        "load": row.condition_load,
        "state": row.state,
        "cutoff_v": row.cutoff_v,
        "source": row.source_id,
        "published": rounded(row.value, 6),
        "modelled": rounded(residual.ours, 6),
        key: rounded(error, 2),
    })
}

fn move_json(moved: &Move) -> Value {
    json!({
        "key": moved.key,
        "from": rounded(moved.from, 9),
        "to": rounded(moved.to, 9),
    })
}
