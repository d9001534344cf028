//! What a fit leaves beside the note: a table of residuals, a plot and summary lines.

use std::error::Error;
use std::path::Path;

use overwinter::points::{Measure, evaluate};
use overwinter_model::cell::catalogue::CatalogueCell;

use crate::plot;
use crate::points::{Group, Point, Role};

/// One line of the table of residuals.
pub(crate) struct Residual<'a> {
    pub(crate) point: &'a Point,
    pub(crate) ours: f64,
    /// Cells in series in what was tested.
    pub(crate) cells: f64,
    /// Relative, or in the row's unit; with its sign.
    pub(crate) off: f64,
}

impl Residual<'_> {
    /// The distance without its sign; volts are judged by the cell.
    fn error(&self) -> f64 {
        match self.point.measure {
            Measure::Relative => self.off.abs(),
            Measure::Absolute => (self.off / self.cells).abs(),
        }
    }
}

/// Writes the table of residuals and the plot, and prints the summary.
pub(crate) fn write(
    folder: &Path,
    entry: &CatalogueCell,
    points: &[Point],
) -> Result<(), Box<dyn Error>> {
    let residuals: Vec<Residual> = points
        .iter()
        .map(|point| {
            let modelled = evaluate(entry, &point.row);
            let ours = modelled.as_ref().map_or(f64::NAN, |m| m.ours);
            let cells = modelled.map_or(1.0, |m| f64::from(m.in_series));
            let reference = point.row.value;
            let off = match point.measure {
                Measure::Relative => ours / reference - 1.0,
                Measure::Absolute => ours - reference,
            };
            Residual {
                point,
                ours,
                cells,
                off,
            }
        })
        .collect();
    if residuals.is_empty() {
        return Ok(());
    }
    table(folder, entry.name, &residuals)?;
    plot::plot(folder, entry.title, entry.name, &residuals)?;
    summary(&residuals);
    Ok(())
}

fn table(folder: &Path, name: &str, residuals: &[Residual]) -> Result<(), Box<dyn Error>> {
    let mut out = csv::Writer::from_path(folder.join(format!("{name}-residuals.csv")))?;
    out.write_record([
        "id",
        "role",
        "quantity",
        "temp_C",
        "load",
        "state",
        "cutoff_V",
        "published",
        "ours",
        "error",
        "error_unit",
        "source_id",
    ])?;
    for Residual {
        point, ours, off, ..
    } in residuals
    {
        let row = &point.row;
        let number = |value: Option<f64>| value.map_or(String::new(), |v| v.to_string());
        let unit = match point.measure {
            Measure::Relative => "relative",
            Measure::Absolute => "V",
        };
        out.write_record([
            row.id.as_str(),
            point.role.word(),
            &row.quantity,
            &number(row.temp_c),
            &row.condition_load,
            &row.state,
            &number(row.cutoff_v),
            &row.value.to_string(),
            &format!("{ours:.4}"),
            &format!("{off:.4}"),
            unit,
            &row.source_id,
        ])?;
    }
    out.flush()?;
    Ok(())
}

/// Median, 90 % and worst error of each group, fitted and held out.
fn summary(residuals: &[Residual]) {
    for group in Group::ALL {
        for role in [Role::Fitted, Role::HeldOut, Role::WeakPrior] {
            let mut errors: Vec<f64> = residuals
                .iter()
                .filter(|r| r.point.role == role && Group::of(&r.point.row) == group)
                .map(|r| r.error())
                .collect();
            errors.sort_by(f64::total_cmp);
            let quantile = |share: f64| {
                #[expect(
                    clippy::cast_possible_truncation,
                    clippy::cast_sign_loss,
                    reason = "a rank of a list that is in memory"
                )]
                let rank = (share * (errors.len() - 1) as f64).round() as usize;
                errors[rank]
            };
            if !errors.is_empty() {
                println!(
                    "  {:<32} {:<11} n {:>3}  median {:.3}  p90 {:.3}  worst {:.3}",
                    group.word(),
                    role.word(),
                    errors.len(),
                    quantile(0.5),
                    quantile(0.9),
                    quantile(1.0)
                );
            }
        }
    }
}
