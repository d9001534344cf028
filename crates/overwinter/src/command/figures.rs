//! The figures of the cameras' draw, as a table.

use overwinter_line::answer::figures::{FigureRow, FigureValue, SignalRow};

use crate::table::{Column, Table};

/// A number without needless digits.
fn short(number: f64) -> String {
    let rounded = (number * 1000.0).round() / 1000.0;
    format!("{rounded}")
}

/// Every figure that has an effect: the value that most cameras have, the range that is usual, and the
/// cameras that differ.
pub(super) fn table(figures: &[FigureRow], signal: Option<&SignalRow>) -> String {
    let rows = figures.iter().map(row).chain(signal.map(signal_row));
    let head = [
        ("draw, at the pack", Column::Left),
        ("taken as", Column::Right),
        ("unit", Column::Left),
        ("usual range", Column::Left),
        ("otherwise", Column::Left),
    ];
    Table::of(rows).with(head, Clone::clone).text() + "\n"
}

fn signal_row(signal: &SignalRow) -> [String; 5] {
    let (name, factor) = signal.first;
    let [best, worst] = signal.range.map(short);
    let others = signal.others.iter();
    let others = others.map(|(camera, factor, name)| format!("{camera} {} {name}", short(*factor)));
    [
        format!("sessions, data, reports, signal {name}"),
        short(factor),
        "x".to_owned(),
        format!("{best} to {worst}"),
        others.collect::<Vec<_>>().join(", "),
    ]
}

fn row(figure: &FigureRow) -> [String; 5] {
    let told = |value: &FigureValue| {
        let given = if value.given { " given" } else { "" };
        short(value.value) + given
    };
    let others = figure.others.iter();
    let others = others.map(|(camera, value)| format!("{camera} {}", told(value)));
    let [low, high] = figure.usual_range.map(short);
    [
        figure.what.to_owned(),
        told(&figure.common),
        figure.unit.to_owned(),
        format!("{low} to {high}"),
        others.collect::<Vec<_>>().join(", "),
    ]
}
