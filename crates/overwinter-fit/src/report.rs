//! What a fit leaves beside the note: a table of residuals, two plots and lines of the summary.

use std::error::Error;
use std::path::Path;

use overwinter_line::fit::{Errors, Group, Point, Residual, Role, residuals};
use overwinter_line::points::Measure;
use overwinter_model::cell::catalogue::CatalogueCell;

use crate::{plot, residual_plot};

/// Writes the table of residuals and the plots, and gives the summary.
pub(crate) fn write(
    folder: &Path,
    entry: &CatalogueCell,
    points: &[Point],
) -> Result<Vec<Summary>, Box<dyn Error>> {
    let residuals = residuals(&entry.into(), points);
    if residuals.is_empty() {
        return Ok(Vec::new());
    }
    table(folder, entry.name, &residuals)?;
    plot::plot(folder, entry.title, entry.name, &residuals)?;
    residual_plot::plot(folder, entry, &residuals)?;
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
    pub(crate) cell: &'static str,
    pub(crate) group: Group,
    pub(crate) role: Role,
    pub(crate) errors: Errors,
}

fn summary(cell: &'static str, residuals: &[Residual]) -> Vec<Summary> {
    let mut lines = Vec::new();
    for group in Group::ALL {
        for role in Role::ALL {
            let of_group = residuals
                .iter()
                .filter(|r| r.point.role == role && Group::of(&r.point.row) == group);
            let Some(errors) = Errors::of(of_group) else {
                continue;
            };
            lines.push(Summary {
                cell,
                group,
                role,
                errors,
            });
        }
    }
    lines
}

impl Summary {
    /// For a person.
    pub(crate) fn line(&self) -> String {
        format!(
            "  {:<32} {:<11} n {:>3}  median {:.3}  p90 {:.3}  worst {:.3}",
            self.group.word(),
            self.role.word(),
            self.errors.points,
            self.errors.median,
            self.errors.ninetieth,
            self.errors.worst
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
            &line.errors.points.to_string(),
            &format!("{:.3}", line.errors.median),
            &format!("{:.3}", line.errors.ninetieth),
            &format!("{:.3}", line.errors.worst),
        ])?;
    }
    out.flush()?;
    Ok(())
}
