//! `catalogue --from`: a cell of one's own, fitted to one's own points.

use std::path::Path;

use crc::{CRC_32_ISO_HDLC, Crc};
use overwinter_line::answer::cell_from_points::{
    CellAnswer, Errors, FittedCell, PointDocument, PointError,
};
use overwinter_line::cells;
use overwinter_line::problem::Failure;
use overwinter_line::shown;
use overwinter_line::words;

use super::json_text;
use super::paragraph::wrap;
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
pub fn cell_file(points: &Path, fitted: &FittedCell) -> Result<String, Failure> {
    let origin = format!(
        "{MARK}{}`: {} over {}.",
        shown::path(points),
        words::count(fitted.own.points.len(), "point"),
        fitted.own.like.name
    );
    let text = fitted.text(&origin)?;
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

/// The answer for a script.
#[must_use]
pub fn json(answer: &CellAnswer) -> String {
    json_text(&answer.document)
}

/// The answer for a person.
#[must_use]
pub fn text(answer: &CellAnswer) -> String {
    let (document, details) = (&answer.document, &answer.details);
    let mut text = format!(
        "{}: a cell of your own, like {}, points: {}.\n\n",
        document.name, document.like, details.points
    );
    if !document.points.is_empty() {
        text.push_str(&points_table(&document.points));
        text.push_str("\n\n");
        for (what, key) in &details.kinds {
            if let Some(errors) = document.errors.get(key) {
                text.push_str(&format!("{what}: {}\n", errors_in_words(errors)));
            }
        }
        text.push('\n');
    }
    text.push_str(&moves_text(answer));
    if let Some(caution) = &document.caution {
        text.push_str(&format!("\n{}.\n", wrap(caution)));
    }
    if let Some(file) = &document.file {
        text.push_str(&format!(
            "\nName {file} wherever a cell is named; a line file takes the path from its own folder.\n"
        ));
    }
    text
}

/// Every point beside the model's figure.
fn points_table(points: &[PointDocument]) -> String {
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
    let points = Table::of(points).with(head, |point| {
        let volts = |volts| words::volts(overwinter_model::Voltage::from_volts(volts));
        let celsius =
            |celsius| words::temperature(overwinter_model::Temperature::from_celsius(celsius));
        [
            point.point.clone(),
            point.quantity.clone(),
            point.temperature_c.map_or(String::new(), celsius),
            point.load.clone(),
            point.state.clone(),
            point.cutoff_v.map_or(String::new(), volts),
            digits(point.published.0),
            digits(point.modelled.0),
            error(point.error),
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

fn error(error: PointError) -> String {
    match error {
        PointError::Percent(error) => format!("{:+.1} %", error.0),
        PointError::Millivolts(error) => format!("{:+.0} mV", error.0),
    }
}

/// Errors of what is judged by its share, and of voltages, in words.
fn errors_in_words(errors: &Errors) -> String {
    let unit = match errors.unit {
        "mv" => "mV a cell",
        _ => "%",
    };
    format!(
        "median error {:.1} {unit}, worst {:.1} {unit}",
        errors.median, errors.worst
    )
}

fn moves_text(answer: &CellAnswer) -> String {
    let document = &answer.document;
    let like = document.like;
    if document.moved.is_empty() {
        return format!("Nothing moved: the points are those of {like}.\n");
    }
    let head = [
        ("moved", Column::Left),
        (like, Column::Right),
        (document.name.as_str(), Column::Right),
        ("unit", Column::Left),
        ("change", Column::Right),
    ];
    let moves = document.moved.iter().zip(&answer.details.moved);
    let moves = Table::of(moves).with(head, |(moved, (what, unit))| {
        let (from, to) = (moved.from.0, moved.to.0);
        [
            (*what).to_owned(),
            digits(from),
            digits(to),
            (*unit).to_owned(),
            format!("{:+.1} %", 100.0 * (to / from - 1.0)),
        ]
    });
    let table = moves.text();
    format!("{table}\n\nAll else is as in {like}: these points cannot tell it.\n")
}
