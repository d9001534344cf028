//! Measured curves: voltage against charge.

use overwinter_tests::files::reference_files;
use overwinter_tests::tables::{Row, Table};

/// One discharge of one cell.
pub(crate) struct Curve {
    pub(crate) make: String,
    pub(crate) chemistry: String,
    pub(crate) cell: String,
    pub(crate) current_ma: u32,
    /// Milliampere-hours delivered, and volts at the rig, in their order.
    pub(crate) points: Vec<(f64, f64)>,
}

impl Curve {
    /// Whether it still ran after so much charge.
    pub(crate) fn reaches(&self, charge_mah: f64) -> bool {
        self.points
            .last()
            .is_some_and(|(last, _)| *last >= charge_mah)
    }
}

/// Every curve of the tables that `variable` names, or of the project's own.
pub(crate) fn curves(variable: &str) -> Vec<Curve> {
    let mut curves: Vec<Curve> = Vec::new();
    for path in reference_files(variable, "makes") {
        let Some(table) =
            Table::read(&path).filter(|table| table.columns.iter().any(|c| c == "q_mAh"))
        else {
            println!("FILE\t{}\tnot a table of curves", path.display());
            continue;
        };
        for row in &table.rows {
            add(&mut curves, row);
        }
    }
    assert!(!curves.is_empty(), "no curve");
    curves
}

fn add(curves: &mut Vec<Curve>, row: &Row) {
    let (Some(current_ma), Some(charge), Some(volts)) = (
        row.number("current_ma"),
        row.number("q_mAh"),
        row.number("voltage_V"),
    ) else {
        println!("SKIP\t{}\ta figure is missing", row.text("make"));
        return;
    };
    let (make, cell) = (row.text("make"), row.text("cell"));
    let current_ma = current_ma as u32;
    let known = curves.iter_mut().find(|curve| {
        (curve.make.as_str(), curve.cell.as_str(), curve.current_ma) == (make, cell, current_ma)
    });
    match known {
        Some(curve) => curve.points.push((charge, volts)),
        None => curves.push(Curve {
            make: make.to_owned(),
            chemistry: row.text("chemistry").to_owned(),
            cell: cell.to_owned(),
            current_ma,
            points: vec![(charge, volts)],
        }),
    }
}
