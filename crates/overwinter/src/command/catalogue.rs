//! `catalogue`: the cells and what they rest on, as text and JSON.

use overwinter_line::answer::catalogue::{Catalogue, CellDocument, Errors, TestedDocument};
use overwinter_line::words;
use overwinter_model::Voltage;

use super::json_text;
use super::paragraph::wrap;
use crate::table::{Column, Table};

/// The answer for a script.
#[must_use]
pub fn json(catalogue: &Catalogue) -> String {
    json_text(catalogue)
}

/// The answer for a person.
#[must_use]
pub fn text(catalogue: &Catalogue) -> String {
    let head = [
        ("name", Column::Left),
        ("what", Column::Left),
        ("Ah", Column::Right),
        ("fresh", Column::Right),
        ("Wh", Column::Right),
        ("g", Column::Right),
        ("published points", Column::Left),
    ];
    let cells = Table::of(&catalogue.cells).with(head, |cell| {
        [
            cell.name.to_owned(),
            cell.title.to_owned(),
            format!("{:.2}", cell.capacity_ah.0),
            words::volts(Voltage::from_volts(cell.fresh_v.0)),
            format!("{:.1}", cell.energy_wh.0),
            format!("{:.0}", cell.mass_g.0),
            tested(&cell.tested),
        ]
    });
    let mut text = cells.text();
    text.push_str("\n\n");
    text.push_str(&accuracies(&catalogue.cells));
    text.push_str("\n\n");
    text.push_str(&wrap(
        "Ah and Wh are what a vanishing load would get at 20 °C; what a camera gets is for forecast \
         to say. Held-out points are those that the fit never saw; errors are of them, median and \
         what nine of ten keep below, volts of one cell. Of makes sold under one name one in \
         ten holds less than the last column. Sources and every point: datasheets-notes, the note of the same name. A cell of your \
         own: catalogue --from POINTS.toml.",
    ));
    text.push('\n');
    text
}

/// How well each cell fits its points.
fn accuracies(cells: &[CellDocument]) -> String {
    let head = [
        ("name", Column::Left),
        ("fitted", Column::Right),
        ("held out", Column::Right),
        ("durations, median", Column::Right),
        ("90 %", Column::Right),
        ("voltages, median", Column::Right),
        ("90 %", Column::Right),
        ("1 make in 10 below", Column::Right),
    ];
    let cells = Table::of(cells).with(head, |cell| {
        let one_in_ten = format!("{:.2} Ah", cell.one_in_ten_ah.0);
        let Some(accuracy) = &cell.accuracy else {
            let [name, none, nothing] = [cell.name, "0", "-"].map(str::to_owned);
            let blank = || nothing.clone();
            return [
                name,
                none.clone(),
                none,
                blank(),
                blank(),
                blank(),
                blank(),
                one_in_ten,
            ];
        };
        let percent = |error: f64| format!("{:.1} %", 100.0 * error);
        let millivolts = |error: f64| format!("{:.0} mV", 1000.0 * error);
        let [duration, duration_90] = pair(accuracy.held_out.durations, percent);
        let [voltage, voltage_90] = pair(accuracy.held_out.voltages, millivolts);
        [
            cell.name.to_owned(),
            accuracy.fitted.points.to_string(),
            accuracy.held_out.points.to_string(),
            duration,
            duration_90,
            voltage,
            voltage_90,
            one_in_ten,
        ]
    });
    cells.text()
}

/// Median and 90 % error, or nothing.
fn pair(errors: Option<Errors>, said: impl Fn(f64) -> String) -> [String; 2] {
    errors.map_or_else(
        || ["-".to_owned(), "-".to_owned()],
        |errors| [said(errors.median), said(errors.ninetieth)],
    )
}

/// Range of the points that a cell rests on.
fn tested(tested: &TestedDocument) -> String {
    let frost = tested.heaviest_in_frost_ma.0;
    let frost = if frost > 0.0 {
        format!(", in frost to {frost:.0} mA")
    } else {
        String::new()
    };
    format!(
        "{:.0} to {:.0} °C, to {:.0} mA{frost}",
        tested.coldest_c.0, tested.warmest_c.0, tested.heaviest_ma.0
    )
}
