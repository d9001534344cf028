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

/// A value that was read off a meter lies nearer to the truth than this.
const OF_A_RANGE: f64 = 1.2;

/// What is taken, and the range where the file gives one.
fn given(value: &FigureValue) -> String {
    let [low, high] = value.range;
    match (value.given, high > low * OF_A_RANGE) {
        (false, _) => short(value.value),
        (true, false) => format!("{} given", short(value.value)),
        (true, true) => format!("{} to {} given", short(low), short(high)),
    }
}

fn row(figure: &FigureRow) -> [String; 5] {
    let others = figure.others.iter();
    let others = others.map(|(camera, value)| format!("{camera} {}", given(value)));
    let [low, high] = figure.usual_range.map(short);
    [
        figure.what.to_owned(),
        given(&figure.common),
        figure.unit.to_owned(),
        format!("{low} to {high}"),
        others.collect::<Vec<_>>().join(", "),
    ]
}
