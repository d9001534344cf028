//! What was assumed about the cameras' draw, and what the line file gave.

use overwinter_line::line::{Assumed, Camera, Line, Origin, Signal};
use serde_json::{Value, json};

use super::rounded;
use crate::table::{Column, Table, terminal_width};

/// A number without needless digits.
fn short(number: f64) -> String {
    let rounded = (number * 1000.0).round() / 1000.0;
    format!("{rounded}")
}

/// A table of every figure that has an effect: the value that most cameras have, the range that
/// is usual, and the cameras that differ.
pub(super) fn text(line: &Line) -> String {
    let mut rows: Vec<[String; 5]> = Vec::new();
    for key in keys(line) {
        let having: Vec<(&Camera, &Assumed)> = line
            .cameras
            .iter()
            .filter_map(|camera| Some((camera, effective(camera, key)?)))
            .collect();
        if let Some(common) = most_common(&having) {
            rows.push(row(common, &having));
        }
    }
    rows.extend(signal_row(line));
    let head = [
        ("draw, at the pack", Column::Left),
        ("taken as", Column::Right),
        ("unit", Column::Left),
        ("usual range", Column::Left),
        ("otherwise", Column::Left),
    ];
    Table::of(rows).with(head, Clone::clone).text() + "\n"
}

/// What the signal makes of sessions, data and reports, where there are any.
fn signal_row(line: &Line) -> Option<[String; 5]> {
    let mut radios = line.cameras.iter().filter(|camera| camera.sends());
    let first = radios.next()?.settings.signal;
    let others = radios
        .filter(|camera| camera.settings.signal != first)
        .map(|camera| {
            let signal = camera.settings.signal;
            format!(
                "{} {} {}",
                camera.name,
                short(signal.factor()),
                signal.name()
            )
        });
    let best = Signal::Good.factor();
    let worst = Signal::Bad.factor();
    Some([
        format!("sessions, data, reports, signal {}", first.name()),
        short(first.factor()),
        "x".to_owned(),
        format!("{} to {}", short(best), short(worst)),
        others.collect::<Vec<_>>().join(", "),
    ])
}

/// Every key that any camera has, in the order of the figures.
fn keys(line: &Line) -> Vec<&'static str> {
    let mut keys: Vec<&'static str> = Vec::new();
    for assumed in line.cameras.iter().flat_map(|camera| &camera.assumed) {
        if !keys.contains(&assumed.figure.key) {
            keys.push(assumed.figure.key);
        }
    }
    keys
}

/// A camera's figure, if it has any effect.
fn effective<'a>(camera: &'a Camera, key: &str) -> Option<&'a Assumed> {
    let assumed = camera
        .assumed
        .iter()
        .find(|assumed| assumed.figure.key == key)?;
    relevant(camera, assumed).then_some(assumed)
}

/// The value that most cameras share; of several, the first in the file.
fn most_common<'a>(having: &[(&Camera, &'a Assumed)]) -> Option<&'a Assumed> {
    let count = |one: &Assumed| having.iter().filter(|(_, other)| same(one, other)).count();
    let most = having.iter().map(|(_, assumed)| count(assumed)).max()?;
    having
        .iter()
        .map(|(_, assumed)| *assumed)
        .find(|assumed| count(assumed) == most)
}

/// Two cameras' figures read the same.
fn same(one: &Assumed, other: &Assumed) -> bool {
    one.origin == other.origin && (one.value - other.value).abs() < 1e-12
}

fn row(common: &Assumed, having: &[(&Camera, &Assumed)]) -> [String; 5] {
    let given = |assumed: &Assumed| match assumed.origin {
        Origin::Given => " given",
        Origin::Usual => "",
    };
    let others = having
        .iter()
        .filter(|(_, assumed)| !same(common, assumed))
        .map(|(camera, assumed)| {
            let value = short(assumed.value);
            format!("{} {value}{}", camera.name, given(assumed))
        });
    let (low, high) = common.figure.range;
    [
        common.figure.what.to_owned(),
        format!("{}{}", short(common.value), given(common)),
        common.figure.unit.to_owned(),
        format!("{} to {}", short(low), short(high)),
        others.collect::<Vec<_>>().join(", "),
    ]
}

/// Whether a figure has any effect with the camera's settings.
fn relevant(camera: &Camera, assumed: &Assumed) -> bool {
    let settings = &camera.settings;
    match assumed.figure.key {
        "next_still_j" | "next_still_s" | "next_flash_s" => settings.shots > 1,
        "first_still_j" | "first_still_s" | "first_flash_s" | "flash_w" => settings.shots > 0,
        "video_wake_j" => settings.video_s > 0.0 && settings.shots == 0,
        "video_w" | "video_flash_w" => settings.video_s > 0.0,
        "session_j" | "session_s" | "data_j_per_mb" | "data_s_per_mb" => settings.upload.is_some(),
        "picture_mb" | "night_picture_mb" => settings.card_gb.is_some() && settings.shots > 0,
        "video_mb_per_s" => settings.card_gb.is_some() && settings.video_s > 0.0,
        "check_in_j" | "check_in_s" => settings.check_ins_per_day > 0.0,
        _ => true,
    }
}

/// Breaks a paragraph at 100 characters, as wide as the tables come, or at the terminal's width.
pub(super) fn wrap(paragraph: &str) -> String {
    let width = terminal_width().map_or(100, |width| width.min(100));
    let mut lines: Vec<String> = Vec::new();
    for word in paragraph.split(' ') {
        match lines.last_mut() {
            Some(line) if line.chars().count() + 1 + word.chars().count() <= width => {
                line.push(' ');
                line.push_str(word);
            }
            _ => lines.push(word.to_owned()),
        }
    }
    lines.join("\n")
}

/// Every figure for JSON.
pub(super) fn json(camera: &Camera) -> Value {
    let figures = camera.assumed.iter().map(|assumed| {
        json!({
            "key": assumed.figure.key,
            "value": rounded(assumed.value, 6),
            "unit": assumed.figure.unit,
            "origin": match assumed.origin { Origin::Given => "given", Origin::Usual => "usual" },
            "usual_range": [assumed.figure.range.0, assumed.figure.range.1],
        })
    });
    Value::Array(figures.collect())
}
