//! The plot of what a fit leaves: errors over how long the load is on, and over temperature.

mod axis;
#[cfg(test)]
mod tests;

use std::error::Error;
use std::ops::Range;
use std::path::Path;

use overwinter_line::fit::{Group, Residual, Role};
use overwinter_line::points::load_span;
use overwinter_model::cell::catalogue::CatalogueCell;
use plotters::prelude::*;

use axis::{AT_ONCE_S, Across, Axis, ends};

/// Narrow, so that the letters can be read on a telephone.
const WIDTH: u32 = 520;
const HEAD: u32 = 104;
const PANEL: u32 = 260;
const FOOT: u32 = 26;
const LETTERS: (&str, u32) = ("sans-serif", 16);

/// A panel with fewer points says nothing.
const FEWEST: usize = 3;

/// Half of a marker, pixels.
const HALF: i32 = 4;

/// What is around the points whatever they are, so that the cells' pictures compare.
const LEAST_PERCENT: f64 = 20.0;
const LEAST_MV: f64 = 50.0;

type Area<'a> = DrawingArea<SVGBackend<'a>, plotters::coord::Shift>;

/// One point of a panel.
#[derive(Clone, Copy)]
struct Mark {
    at: (f64, f64),
    role: Role,
    group: Group,
}

/// A panel: its points, its axes.
struct Panel {
    marks: Vec<Mark>,
    across: Across,
    volts: bool,
}

/// Draws `<name>-residuals.svg` into `folder`. Roles and kinds differ by filling and shape, not by colour.
pub(crate) fn plot(
    folder: &Path,
    entry: &CatalogueCell,
    residuals: &[Residual],
) -> Result<(), Box<dyn Error>> {
    let (panels, left_out): (Vec<Panel>, Vec<Panel>) = panels(entry, residuals)
        .into_iter()
        .partition(|panel| panel.marks.len() >= FEWEST);
    let height = HEAD + PANEL * u32::try_from(panels.len())? + FOOT;
    let path = folder.join(format!("{}-residuals.svg", entry.name));
    let area = SVGBackend::new(&path, (WIDTH, height)).into_drawing_area();
    area.fill(&WHITE)?;
    let (head, rest) = area.split_vertically(HEAD);
    legend(&head, entry.title, residuals)?;
    let (body, foot) = rest.split_vertically(height - HEAD - FOOT);
    for (area, panel) in body.split_evenly((panels.len(), 1)).iter().zip(&panels) {
        // Panels along the same axis show the same stretch of it.
        let alike = panels.iter().filter(|other| other.across == panel.across);
        let values = alike.flat_map(|other| other.marks.iter().map(|mark| mark.at.0));
        draw(area, panel, panel.across.range(values))?;
    }
    let empty: Vec<&str> = left_out.iter().map(Panel::words).collect();
    if !empty.is_empty() {
        let text = format!("Fewer than {FEWEST} points: {}.", empty.join(", "));
        foot.draw(&Text::new(text, (12, 2), ("sans-serif", 13)))?;
    }
    area.present()?;
    Ok(())
}

fn panels(entry: &CatalogueCell, residuals: &[Residual]) -> [Panel; 4] {
    let of = |volts: bool, across: Across| {
        let own = residuals.iter().filter(|r| {
            (Group::of(&r.point.row) == Group::Voltages) == volts && r.ours.is_finite()
        });
        let marks = own.filter_map(|r| mark(entry, r, across)).collect();
        Panel {
            marks,
            across,
            volts,
        }
    };
    [
        of(false, Across::Span),
        of(true, Across::Span),
        of(false, Across::Temperature),
        of(true, Across::Temperature),
    ]
}

fn mark(entry: &CatalogueCell, residual: &Residual, across: Across) -> Option<Mark> {
    let row = &residual.point.row;
    let group = Group::of(row);
    let x = match across {
        Across::Span => {
            let span = load_span(&entry.into(), row).ok()?;
            span.as_seconds().max(AT_ONCE_S).log10()
        }
        Across::Temperature => row.temp_c?,
    };
    let y = match group {
        Group::Voltages => 1000.0 * residual.off / residual.cells,
        Group::Services | Group::Resistances => 100.0 * residual.off,
    };
    Some(Mark {
        at: (x, y),
        role: residual.point.role,
        group,
    })
}

impl Panel {
    const fn words(&self) -> &'static str {
        match (self.across, self.volts) {
            (Across::Span, false) => "durations, capacities, resistances by load time",
            (Across::Span, true) => "voltages by load time",
            (Across::Temperature, false) => "durations, capacities, resistances by temperature",
            (Across::Temperature, true) => "voltages by temperature",
        }
    }

    /// Its vertical axis, and what it shows at least to both sides of zero.
    const fn error(&self) -> (&'static str, f64) {
        if self.volts {
            ("off by, mV a cell", LEAST_MV)
        } else {
            ("off by, %", LEAST_PERCENT)
        }
    }
}

fn draw(area: &Area, panel: &Panel, x: Range<f64>) -> Result<(), Box<dyn Error>> {
    let across = panel.across;
    let (label, least) = panel.error();
    let high = panel.marks.iter().map(|mark| mark.at.1);
    let (low, high) = ends(high.chain([-least, least]));
    let margin = 0.05 * (high - low);
    let axis = Axis {
        range: x.clone(),
        ticks: across.ticks(),
    };
    let mut chart = ChartBuilder::on(area)
        .margin(4)
        .margin_right(18)
        .caption(panel.words(), LETTERS)
        .x_label_area_size(44)
        .y_label_area_size(62)
        .build_cartesian_2d(axis, low - margin..high + margin)?;
    chart
        .configure_mesh()
        .x_desc(across.label())
        .y_desc(label)
        .x_label_formatter(&|at| across.word(*at))
        .y_label_formatter(&|at| format!("{at:.0}"))
        .y_labels(7)
        .light_line_style(TRANSPARENT)
        .bold_line_style(BLACK.mix(0.12))
        .label_style(LETTERS)
        .draw()?;
    let zero = [(x.start, 0.0), (x.end, 0.0)];
    chart.draw_series(LineSeries::new(zero, BLACK.stroke_width(2)))?;
    for mark in &panel.marks {
        let place = chart.backend_coord(&mark.at);
        let (left, top) = area.get_base_pixel();
        draw_mark(area, (place.0 - left, place.1 - top), mark.role, mark.group)?;
    }
    Ok(())
}

/// A point at a pixel: a square is a resistance, a cross is from memory; filled is fitted.
fn draw_mark(
    area: &Area,
    (x, y): (i32, i32),
    role: Role,
    group: Group,
) -> Result<(), Box<dyn Error>> {
    let style = match role {
        Role::Fitted => BLACK.mix(0.55).filled(),
        Role::HeldOut | Role::WeakPrior => BLACK.stroke_width(1),
    };
    if role == Role::WeakPrior {
        area.draw(&Cross::new((x, y), HALF, style))?;
    } else if group == Group::Resistances {
        let corners = [(x - HALF, y - HALF), (x + HALF, y + HALF)];
        area.draw(&Rectangle::new(corners, style))?;
    } else {
        area.draw(&Circle::new((x, y), HALF, style))?;
    }
    Ok(())
}

/// What the picture is of, and what its marks are.
fn legend(area: &Area, title: &str, residuals: &[Residual]) -> Result<(), Box<dyn Error>> {
    area.draw(&Text::new(title.to_owned(), (12, 8), ("sans-serif", 18)))?;
    let what = "Our figure less the published one";
    area.draw(&Text::new(what, (12, 30), LETTERS))?;
    let any = |role: Role, group: Group| {
        residuals.iter().any(|r| {
            let own = Group::of(&r.point.row);
            r.point.role == role && (own == Group::Resistances) == (group == Group::Resistances)
        })
    };
    let entries = [
        (Role::Fitted, Group::Services, "fitted"),
        (Role::HeldOut, Group::Services, "held out"),
        (Role::WeakPrior, Group::Services, "from memory"),
        (Role::Fitted, Group::Resistances, "resistance, fitted"),
        (Role::HeldOut, Group::Resistances, "resistance, held out"),
    ];
    for (role, group, word) in entries {
        if !any(role, group) {
            continue;
        }
        let (x, y) = match (role, group) {
            (Role::Fitted, Group::Resistances) => (18, 86),
            (_, Group::Resistances) => (188, 86),
            (Role::Fitted, _) => (18, 64),
            (Role::HeldOut, _) => (188, 64),
            (Role::WeakPrior, _) => (358, 64),
        };
        draw_mark(area, (x, y), role, group)?;
        area.draw(&Text::new(word, (x + 12, y - 9), LETTERS))?;
    }
    Ok(())
}
