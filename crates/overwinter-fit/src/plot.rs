//! The plot of a fit: modelled against published voltages, and the errors of everything else by
//! temperature.

use std::error::Error;
use std::ops::Range;
use std::path::Path;

use overwinter_line::fit::{Residual, Role};
use overwinter_line::points::Measure;
use plotters::coord::types::RangedCoordf64;
use plotters::prelude::*;
use plotters::style::{FontStyle, register_font};

type Chart<'a, 'b> = ChartContext<'a, SVGBackend<'b>, Cartesian2d<RangedCoordf64, RangedCoordf64>>;

const SIZE: (u32, u32) = (980, 460);

/// Makes letters known by their measure; the picture itself leaves the face to its viewer.
pub(crate) fn register_letters() -> Result<(), Box<dyn Error>> {
    let letters = epaint_default_fonts::UBUNTU_LIGHT;
    register_font("sans-serif", FontStyle::Normal, letters)
        .map_err(|_| "the letters are no font")?;
    Ok(())
}

/// Draws `<name>.svg` into `folder`. Roles differ by shape, not by colour.
pub(crate) fn plot(
    folder: &Path,
    title: &str,
    name: &str,
    residuals: &[Residual],
) -> Result<(), Box<dyn Error>> {
    let path = folder.join(format!("{name}.svg"));
    let area = SVGBackend::new(&path, SIZE).into_drawing_area();
    area.fill(&WHITE)?;
    let area = area.titled(title, ("sans-serif", 22))?;
    let (left, right) = area.split_horizontally(SIZE.0 / 2);
    let (volts, others): (Vec<&Residual>, Vec<&Residual>) = residuals
        .iter()
        .partition(|r| r.point.measure == Measure::Absolute);
    if volts.is_empty() {
        errors(&area, &others)?;
    } else {
        voltages(&left, &volts)?;
        errors(&right, &others)?;
    }
    area.present()?;
    Ok(())
}

type Area<'a> = DrawingArea<SVGBackend<'a>, plotters::coord::Shift>;

fn voltages(area: &Area, residuals: &[&Residual]) -> Result<(), Box<dyn Error>> {
    let at = |r: &Residual| (r.point.row.value / r.cells, r.ours / r.cells);
    let range = padded(residuals.iter().flat_map(|r| [at(r).0, at(r).1]));
    let mut chart = chart(
        area,
        range.clone(),
        range.clone(),
        "published voltage of a cell in V",
        "modelled voltage of a cell in V",
    )?;
    let ends = [(range.start, range.start), (range.end, range.end)];
    chart.draw_series(LineSeries::new(ends, BLACK.mix(0.5)))?;
    scatter(&mut chart, residuals.iter().map(|r| (r.point.role, at(r))))
}

fn errors(area: &Area, residuals: &[&Residual]) -> Result<(), Box<dyn Error>> {
    let at = |r: &Residual| (r.point.row.temp_c.unwrap_or(20.0), 100.0 * r.off);
    let temperatures = padded(residuals.iter().map(|r| at(r).0));
    let percents = padded(residuals.iter().map(|r| at(r).1).chain([-20.0, 20.0]));
    let mut chart = chart(
        area,
        temperatures.clone(),
        percents,
        "temperature in °C",
        "error of durations, capacities, resistances in %",
    )?;
    let ends = [(temperatures.start, 0.0), (temperatures.end, 0.0)];
    chart.draw_series(LineSeries::new(ends, BLACK.mix(0.5)))?;
    scatter(&mut chart, residuals.iter().map(|r| (r.point.role, at(r))))
}

/// The range of some values with a margin, also if there is only one.
fn padded(values: impl Iterator<Item = f64>) -> Range<f64> {
    let (low, high) = values.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), v| {
        (low.min(v), high.max(v))
    });
    let margin = (0.05 * (high - low)).max(0.02);
    low - margin..high + margin
}

fn chart<'a, 'b>(
    area: &'a Area<'b>,
    x: Range<f64>,
    y: Range<f64>,
    x_label: &str,
    y_label: &str,
) -> Result<Chart<'a, 'b>, Box<dyn Error>> {
    let mut chart = ChartBuilder::on(area)
        .margin(12)
        .x_label_area_size(48)
        .y_label_area_size(64)
        .build_cartesian_2d(x, y)?;
    chart
        .configure_mesh()
        .x_desc(x_label)
        .y_desc(y_label)
        .light_line_style(TRANSPARENT)
        .bold_line_style(BLACK.mix(0.12))
        .label_style(("sans-serif", 16))
        .draw()?;
    Ok(chart)
}

fn scatter<'a, 'b: 'a>(
    chart: &mut Chart<'a, 'b>,
    points: impl Iterator<Item = (Role, (f64, f64))>,
) -> Result<(), Box<dyn Error>> {
    let points: Vec<_> = points.collect();
    let of = |role| {
        points
            .iter()
            .filter(move |(own, _)| *own == role)
            .map(|&(_, at)| at)
    };
    chart
        .draw_series(of(Role::Fitted).map(|at| Circle::new(at, 3, BLACK.mix(0.6).filled())))?
        .label(Role::Fitted.word())
        .legend(|(x, y)| Circle::new((x + 8, y), 3, BLACK.mix(0.6).filled()));
    chart
        .draw_series(of(Role::HeldOut).map(|at| Cross::new(at, 4, BLACK)))?
        .label(Role::HeldOut.word())
        .legend(|(x, y)| Cross::new((x + 8, y), 4, BLACK));
    if of(Role::WeakPrior).next().is_some() {
        chart
            .draw_series(of(Role::WeakPrior).map(|at| TriangleMarker::new(at, 5, BLACK)))?
            .label(Role::WeakPrior.word())
            .legend(|(x, y)| TriangleMarker::new((x + 8, y), 5, BLACK));
    }
    chart
        .configure_series_labels()
        .position(SeriesLabelPosition::UpperLeft)
        .background_style(WHITE.mix(0.8))
        .border_style(BLACK.mix(0.4))
        .label_font(("sans-serif", 16))
        .draw()?;
    Ok(())
}
