//! What a fit leaves beside the note: a table of residuals, a plot and lines of the summary.

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

/// Writes the table of residuals and the plot, and gives the summary.
pub(crate) fn write(
    folder: &Path,
    entry: &CatalogueCell,
    points: &[Point],
) -> Result<Vec<Summary>, Box<dyn Error>> {
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
        return Ok(Vec::new());
    }
    table(folder, entry.name, &residuals)?;
    plot::plot(folder, entry.title, entry.name, &residuals)?;
    Ok(summary(entry.name, &residuals))
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

/// How one cell fits one group of points.
#[derive(Clone, Debug)]
pub(crate) struct Summary {
    cell: &'static str,
    group: Group,
    role: Role,
    points: usize,
    median: f64,
    ninetieth: f64,
    worst: f64,
}

fn summary(cell: &'static str, residuals: &[Residual]) -> Vec<Summary> {
    let mut lines = Vec::new();
    for group in Group::ALL {
        for role in [Role::Fitted, Role::HeldOut, Role::WeakPrior] {
            let mut errors: Vec<f64> = residuals
                .iter()
                .filter(|r| r.point.role == role && Group::of(&r.point.row) == group)
                .map(Residual::error)
                .collect();
            errors.sort_by(f64::total_cmp);
            let (Some(median), Some(ninetieth), Some(&worst)) = (
                quantile(&errors, 0.5),
                quantile(&errors, 0.9),
                errors.last(),
            ) else {
                continue;
            };
            lines.push(Summary {
                cell,
                group,
                role,
                points: errors.len(),
                median,
                ninetieth,
                worst,
            });
        }
    }
    lines
}

/// The error that `share` of the sorted errors keep below.
fn quantile(sorted: &[f64], share: f64) -> Option<f64> {
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a rank of a list that is in memory"
    )]
    let rank = (share * sorted.len().checked_sub(1)? as f64).round() as usize;
    sorted.get(rank).copied()
}

impl Summary {
    /// For a person.
    pub(crate) fn line(&self) -> String {
        format!(
            "  {:<32} {:<11} n {:>3}  median {:.3}  p90 {:.3}  worst {:.3}",
            self.group.word(),
            self.role.word(),
            self.points,
            self.median,
            self.ninetieth,
            self.worst
        )
    }
}

/// Writes the summary of all cells: relative errors, volts a cell for voltages.
pub(crate) fn write_summary(folder: &Path, lines: &[Summary]) -> Result<(), Box<dyn Error>> {
    let mut out = csv::Writer::from_path(folder.join("summary.csv"))?;
    out.write_record(["cell", "group", "role", "points", "median", "p90", "worst"])?;
    for line in lines {
        out.write_record([
            line.cell,
            line.group.word(),
            line.role.word(),
            &line.points.to_string(),
            &format!("{:.3}", line.median),
            &format!("{:.3}", line.ninetieth),
            &format!("{:.3}", line.worst),
        ])?;
    }
    out.flush()?;
    Ok(())
}
