//! What was assumed about the cameras' draw, and what the line file gave.

use serde_json::{Value, json};

use super::rounded;
use crate::table::{Column, Table, terminal_width};
use overwinter_line::line::{Assumed, Camera, Figure, Line, Origin, Signal, Usual};

/// A number without needless digits.
fn short(number: f64) -> String {
    let rounded = (number * 1000.0).round() / 1000.0;
    format!("{rounded}")
}

/// A table of every figure that has an effect: the value that most cameras have, the range that
/// is usual, and the cameras that differ.
pub(super) fn text(line: &Line) -> String {
    let mut rows: Vec<[String; 5]> = Vec::new();
    for figure in Figure::in_answers() {
        let cameras = line.cameras.iter();
        let having: Vec<Having<'_>> = cameras
            .filter_map(|camera| Having::of(camera, figure))
            .collect();
        if let Some(common) = most_common(&having) {
            rows.push(row(figure, common, &having));
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

/// A figure in a camera where it has an effect.
struct Having<'a> {
    /// The camera's name.
    camera: &'a str,
    /// What cameras of its kind usually have.
    usual: &'static Usual,
    /// What is taken.
    assumed: Assumed,
}

impl<'a> Having<'a> {
    /// A camera's figure, if it has any effect.
    fn of(camera: &'a Camera, figure: Figure) -> Option<Self> {
        let usual = figure.usual(camera.kind)?;
        figure.is_used_with(&camera.settings).then_some(Self {
            camera: &camera.name,
            usual,
            assumed: camera.assumed[figure],
        })
    }

    /// Two cameras' figures read the same.
    fn same(&self, other: &Self) -> bool {
        let (one, other) = (self.assumed, other.assumed);
        one.origin == other.origin && (one.value - other.value).abs() < 1e-12
    }

    /// The value, and whether it is given.
    fn value(&self) -> String {
        let given = match self.assumed.origin {
            Origin::Given => " given",
            Origin::Usual => "",
        };
        format!("{}{given}", short(self.assumed.value))
    }
}

/// The value that most of these cameras share; of several, the first in the file.
fn most_common<'a>(having: &'a [Having<'a>]) -> Option<&'a Having<'a>> {
    let count = |one: &Having<'_>| having.iter().filter(|other| one.same(other)).count();
    let most = having.iter().map(count).max()?;
    having.iter().find(|one| count(one) == most)
}

fn row(figure: Figure, common: &Having<'_>, having: &[Having<'_>]) -> [String; 5] {
    let others = having.iter().filter(|one| !common.same(one));
    let others = others.map(|one| format!("{} {}", one.camera, one.value()));
    let (low, high) = common.usual.range;
    [
        common.usual.what.to_owned(),
        common.value(),
        figure.unit().sign().to_owned(),
        format!("{} to {}", short(low), short(high)),
        others.collect::<Vec<_>>().join(", "),
    ]
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
    let figures = camera.figures().map(|(figure, usual, assumed)| {
        json!({
            "key": figure.key(),
            "value": rounded(assumed.value, 6),
            "unit": figure.unit().sign(),
            "origin": match assumed.origin { Origin::Given => "given", Origin::Usual => "usual" },
            "usual_range": [usual.range.0, usual.range.1],
        })
    });
    Value::Array(figures.collect())
}
