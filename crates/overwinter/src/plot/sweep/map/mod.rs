//! Two keys: for each camera a map of the days that half of the paths survive.

mod contour;

use std::ops::Range;

use plotters::style::RGBColor;

use super::{Swept, SweptAxis, SweptCamera, first_to_end, header, of_all};
use crate::plot::axis::{Frame, Scale, labelled};
use crate::plot::discharge::letter;
use crate::plot::grid::Grid;
use crate::plot::picture::{
    Align, EDGE, INK, LINE, PAPER, Picture, SOFT, Stroke, TEXT, Text, WIDTH, width_of,
};
use crate::table::evenly;

/// The most maps of one picture.
const MOST_MAPS: usize = 6;

/// The most cells across and up; narrower ones could not be told apart.
const MOST_ACROSS: usize = 120;
const MOST_UP: usize = 80;

/// Height of a map, as far as its cells leave a choice.
const HEIGHT: i32 = 900;

/// The lowest and the highest cell.
const CELL_HEIGHTS: (i32, i32) = (10, 76);

/// From the lightest to the darkest cell.
const LIGHTEST: f64 = 0xf0 as f64;
const DARKEST: f64 = 0x30 as f64;

/// One direction of the maps: which values are drawn, in which order.
struct Side<'a> {
    axis: &'a SweptAxis,
    places: Vec<usize>,
}

impl<'a> Side<'a> {
    fn new(axis: &'a SweptAxis, most: usize) -> Self {
        let order = axis.order();
        let kept = evenly(order.len(), most);
        Self {
            axis,
            places: kept.into_iter().map(|place| order[place]).collect(),
        }
    }

    fn label(&self, cell: usize) -> &str {
        &self.axis.labels[self.places[cell]]
    }

    fn left_out(&self) -> Option<String> {
        let (shown, all) = (self.places.len(), self.axis.labels.len());
        (shown < all).then(|| format!("{shown} of {all} values of {}", self.axis.title))
    }
}

/// Cells of one camera: days, and whether that is the season's end.
struct Cells {
    across: usize,
    days: Vec<f64>,
    labels: Vec<String>,
}

impl Cells {
    fn of(camera: &SweptCamera, across: &Side<'_>, up: &Side<'_>, first_is_across: bool) -> Self {
        let (mut days, mut labels) = (Vec::new(), Vec::new());
        for &row in &up.places {
            for &column in &across.places {
                let place = if first_is_across {
                    column * up.axis.labels.len() + row
                } else {
                    row * across.axis.labels.len() + column
                };
                let point = &camera.points[place];
                let [_, label, _] = point.written();
                days.push(point.median());
                labels.push(label);
            }
        }
        Self {
            across: across.places.len(),
            days,
            labels,
        }
    }

    fn up(&self) -> usize {
        self.days.len() / self.across
    }

    fn at(&self, column: usize, row: usize) -> f64 {
        self.days[row * self.across + column]
    }
}

/// The picture. Names go up the side, where there is room for them.
pub(super) fn map(swept: &Swept, first: &SweptAxis, second: &SweptAxis) -> Picture {
    let mut picture = Picture::new();
    let shown = first_to_end(&swept.cameras, MOST_MAPS);
    let first_is_across = first.numbers.is_some() || second.numbers.is_none();
    let (across, up) = if first_is_across {
        (first, second)
    } else {
        (second, first)
    };
    let (across, mut up) = (Side::new(across, MOST_ACROSS), Side::new(up, MOST_UP));
    if up.axis.numbers.is_none() {
        // Names are read from the top.
        up.places.reverse();
    }
    let mut notes =
        vec!["days by which it is dead in half of the seasons; + outlives the season".to_owned()];
    notes.extend(of_all(shown.len(), swept.cameras.len()));
    notes.extend(across.left_out());
    notes.extend(up.left_out());
    header(&mut picture, swept, &notes);
    let maps: Vec<Cells> = shown
        .iter()
        .map(|camera| Cells::of(camera, &across, &up, first_is_across))
        .collect();
    let days = range(&maps);
    let levels = match same_everywhere(&maps) {
        Some(days) => {
            let text = format!("{days:.0} days in every cell");
            let at = (EDGE, picture.height);
            picture.text(Text::new(at, text, Align::Left));
            picture.height += LINE;
            Vec::new()
        }
        None => colour_bar(&mut picture, &days),
    };
    let coded = !fit(
        &across,
        grid(&picture, &across, &up).x(1) - grid(&picture, &across, &up).x(0),
    );
    let coded = coded && across.axis.numbers.is_none();
    for (camera, cells) in shown.iter().zip(&maps) {
        let name = Text::new((EDGE, picture.height), camera.name.as_str(), Align::Left).bold();
        picture.text(name.within(WIDTH - 2 * EDGE));
        picture.height += LINE / 2 + 10;
        let grid = grid(&picture, &across, &up);
        fill(&mut picture, &grid, cells, &days, &levels);
        sides(&mut picture, &grid, (&across, &up), coded);
    }
    if coded {
        for (place, _) in across.places.iter().enumerate() {
            let text = format!("{}  {}", letter(place), across.label(place));
            let text = Text::new((EDGE, picture.height), text, Align::Left);
            picture.text(text.within(WIDTH - 2 * EDGE));
            picture.height += LINE;
        }
    }
    picture.height += EDGE;
    picture
}

/// The days of all cells, if they are the same.
fn same_everywhere(maps: &[Cells]) -> Option<f64> {
    let mut days = maps.iter().flat_map(|cells| cells.days.iter().copied());
    let first = days.next()?;
    days.all(|day| (day - first).abs() < 1e-9).then_some(first)
}

/// From the fewest to the most days; never empty.
fn range(maps: &[Cells]) -> Range<f64> {
    let days = || maps.iter().flat_map(|cells| cells.days.iter().copied());
    let lowest = days().fold(f64::INFINITY, f64::min).floor();
    let highest = days().fold(f64::NEG_INFINITY, f64::max).ceil();
    if highest - lowest >= 1.0 {
        lowest..highest
    } else {
        (highest - 1.0).max(0.0)..highest.max(1.0)
    }
}

/// More days are darker; a little blue, so that it reads as one scale, in grey as well.
fn shade(day: f64, days: &Range<f64>) -> RGBColor {
    let share = (day - days.start) / (days.end - days.start);
    // Between the two shades, so it fits.
    let grey = (LIGHTEST + share.clamp(0.0, 1.0) * (DARKEST - LIGHTEST)).round() as u8;
    RGBColor(grey.saturating_sub(18), grey, grey.saturating_add(15))
}

/// Letters that can be read on a shade.
fn ink_on(RGBColor(_, green, _): RGBColor) -> RGBColor {
    if green < 0x80 { PAPER } else { INK }
}

/// What the shades mean; gives the days at its ticks.
fn colour_bar(picture: &mut Picture, days: &Range<f64>) -> Vec<f64> {
    const STEPS: i32 = 100;
    let unit = "days";
    let left = EDGE + width_of(unit, TEXT) + 40;
    let (top, bottom) = (picture.height - 10, picture.height + 30);
    let right = WIDTH - EDGE - 40;
    picture.text(Text::new(
        (EDGE, i32::midpoint(top, bottom)),
        unit,
        Align::Left,
    ));
    let scale = Scale::new(days.clone(), left, right);
    for step in 0..STEPS {
        let at = |step: i32| left + (right - left) * step / STEPS;
        let middle = f64::from(2 * step + 1) / f64::from(2 * STEPS);
        let day = days.start + middle * (days.end - days.start);
        picture.block((at(step), top), (at(step + 1), bottom), shade(day, days));
    }
    let frame = [
        (left, top),
        (right, top),
        (right, bottom),
        (left, bottom),
        (left, top),
    ];
    picture.path(frame, Stroke::solid(SOFT, 2));
    let ticks = labelled(&scale.ticks(220));
    for (day, label) in &ticks {
        let x = scale.at(*day);
        picture.path([(x, bottom), (x, bottom + 12)], Stroke::solid(SOFT, 3));
        picture.text(Text::new((x, bottom + 36), label, Align::Middle));
    }
    picture.height = bottom + 36 + LINE;
    ticks.into_iter().map(|(day, _)| day).collect()
}

/// The next map's place in a picture: labels to its left and below.
fn grid(picture: &Picture, across: &Side<'_>, up: &Side<'_>) -> Grid {
    let labels = up.places.iter().enumerate();
    let labels = labels.map(|(cell, _)| width_of(up.label(cell), TEXT)).max();
    let rows = up.places.len();
    let (low, high) = CELL_HEIGHTS;
    // At most eighty rows.
    let cell = (HEIGHT / rows as i32).clamp(low, high);
    let top = picture.height;
    let frame = Frame {
        left: (TEXT + LINE + labels.unwrap_or(0) + 20).min(WIDTH / 2),
        top,
        right: WIDTH - EDGE - 30,
        bottom: top + cell * rows as i32,
    };
    Grid {
        frame,
        across: across.places.len(),
        up: rows,
    }
}

/// Whether every label fits below its column.
fn fit(side: &Side<'_>, room: i32) -> bool {
    let mut labels = (0..side.places.len()).map(|cell| width_of(side.label(cell), TEXT));
    labels.all(|width| width + 16 <= room)
}

/// The cells with their days, or with lines between days where they are too small.
fn fill(picture: &mut Picture, grid: &Grid, cells: &Cells, days: &Range<f64>, levels: &[f64]) {
    for row in 0..grid.up {
        for column in 0..grid.across {
            let corner = (grid.x(column), grid.y(row + 1));
            let other = (grid.x(column + 1), grid.y(row));
            picture.block(corner, other, shade(cells.at(column, row), days));
        }
    }
    let width = grid.x(1) - grid.x(0);
    let widest = cells.labels.iter().map(|label| width_of(label, TEXT)).max();
    if widest.unwrap_or(0) + 12 > width || grid.y(0) - grid.y(1) < TEXT + 6 {
        contour::lines(picture, grid, cells, levels);
        return;
    }
    for row in 0..grid.up {
        for column in 0..grid.across {
            let label = cells.labels[row * cells.across + column].as_str();
            let colour = ink_on(shade(cells.at(column, row), days));
            let text = Text::new(grid.middle(column, row), label, Align::Middle);
            picture.text(text.colour(colour));
        }
    }
}

/// Values and titles of both axes, as many as there is room for.
fn sides(picture: &mut Picture, grid: &Grid, (across, up): (&Side<'_>, &Side<'_>), coded: bool) {
    let frame = &grid.frame;
    let width = (grid.x(1) - grid.x(0)).max(1);
    let widest = (0..grid.across).map(|cell| width_of(across.label(cell), TEXT));
    let every = if coded {
        1
    } else {
        usize::try_from((widest.max().unwrap_or(0) + 24) / width + 1).unwrap_or(1)
    };
    for column in (0..grid.across).step_by(every) {
        let label = if coded {
            letter(column)
        } else {
            across.label(column).to_owned()
        };
        let at = (grid.middle(column, 0).0, frame.bottom + 36);
        picture.text(Text::new(at, label, Align::Middle));
    }
    let height = (grid.y(0) - grid.y(1)).max(1);
    let every = usize::try_from(LINE / height + 1).unwrap_or(1);
    for row in (0..grid.up).step_by(every) {
        let at = (frame.left - 14, grid.middle(0, row).1);
        let text = Text::new(at, up.label(row), Align::Right);
        picture.text(text.within(frame.left - TEXT - LINE - 14));
    }
    let at = (TEXT, frame.middle());
    picture.text(Text::new(at, up.axis.title.as_str(), Align::Middle).upright());
    let middle = i32::midpoint(frame.left, frame.right);
    let at = (middle, frame.bottom + 36 + LINE);
    picture.text(Text::new(at, across.axis.title.as_str(), Align::Middle));
    picture.height = frame.bottom + 36 + 2 * LINE + LINE / 2;
}
