//! Days of each camera on each cell, as bars.

use plotters::style::RGBColor;

use super::MOST_CAMERAS;
use super::axis::{Frame, THIN, labelled};
use super::picture::{
    Align, EDGE, INK, LINE, PAPER, Picture, SOFT, Stroke, TEXT, TITLE, Text, WIDTH, width_of,
};

/// What to compare.
#[derive(Clone, Debug, PartialEq)]
pub struct Comparison {
    /// Over the picture.
    pub title: String,
    /// Length of the season.
    pub season_days: f64,
    /// The cameras, each with the same cells in the same order.
    pub cameras: Vec<CameraDays>,
}

/// One camera's bars.
#[derive(Clone, Debug, PartialEq)]
pub struct CameraDays {
    /// Its name.
    pub name: String,
    /// Its cells.
    pub cells: Vec<CellDays>,
}

/// One bar.
#[derive(Clone, Debug, PartialEq)]
pub struct CellDays {
    /// The cell's name.
    pub cell: String,
    /// How many days the camera lasts on it.
    pub days: f64,
    /// For how many of them it takes pictures by night; all of them where it has no flash.
    pub night_days: f64,
    /// It is alive when the season ends.
    pub outlives: bool,
}

/// Height of a bar.
const BAR: i32 = 40;

/// From one bar to the next.
const STEP: i32 = 54;

/// From the darkest to the lightest bar.
const DARKEST: f64 = 0x4a as f64;
const LIGHTEST: f64 = 0xd0 as f64;

/// Days by cell: a group of bars for each camera, with the end of the season across them. A bar
/// that reaches it ends in an arrow: that camera outlives the season on that cell.
///
/// Of more than twelve cameras those are drawn that end first on their first cell.
#[must_use]
pub fn compare(comparison: &Comparison) -> Picture {
    let mut picture = Picture::new();
    let shown = first_to_end(&comparison.cameras);
    header(&mut picture, comparison, shown.len());
    let frame = frame(&picture, &shown);
    let longest = shown
        .iter()
        .flat_map(|camera| &camera.cells)
        .map(|cell| cell.days)
        .fold(comparison.season_days, f64::max);
    let scale = frame.rightward(0.0..longest.max(1.0));
    let ticks = labelled(&scale.ticks(170));
    for (days, label) in &ticks {
        let x = scale.at(*days);
        picture.path(frame.down(x), THIN);
        picture.text(Text::new((x, frame.bottom + 36), label, Align::Middle));
    }
    let middle = i32::midpoint(frame.left, frame.right);
    let below = frame.bottom + 36 + LINE;
    picture.text(Text::new((middle, below), "days", Align::Middle));
    let season = scale.at(comparison.season_days);
    let mut y = frame.top;
    for camera in &shown {
        y += LINE / 2;
        let name = Text::new((EDGE, y), camera.name.as_str(), Align::Left).bold();
        picture.text_on_paper(name);
        y += LINE / 2;
        for (place, cell) in camera.cells.iter().enumerate() {
            let fill = shade(place, camera.cells.len());
            let ends = (scale.at(cell.night_days), scale.at(cell.days));
            bar(&mut picture, &frame, y, ends, cell, fill);
            y += STEP;
        }
        let first = y - STEP * camera.cells.len() as i32;
        picture.path(
            [(frame.left, first - 6), (frame.left, y - 8)],
            Stroke::solid(SOFT, 3),
        );
    }
    season_line(&mut picture, &frame, season, comparison.season_days);
    picture.height = below + LINE / 2 + EDGE;
    picture
}

fn first_to_end(cameras: &[CameraDays]) -> Vec<&CameraDays> {
    let mut cameras: Vec<&CameraDays> = cameras.iter().collect();
    if cameras.len() > MOST_CAMERAS {
        let days = |camera: &CameraDays| camera.cells.first().map_or(0.0, |cell| cell.days);
        cameras.sort_by(|a, b| days(a).total_cmp(&days(b)));
        cameras.truncate(MOST_CAMERAS);
    }
    cameras
}

fn header(picture: &mut Picture, comparison: &Comparison, shown: usize) {
    let y = EDGE + TITLE / 2;
    let title = Text::title((EDGE, y), comparison.title.as_str());
    picture.text(title.within(WIDTH - 2 * EDGE));
    picture.height = y + LINE;
    let all = comparison.cameras.len();
    if shown < all {
        let first = comparison.cameras.first();
        let cell = first.and_then(|camera| camera.cells.first());
        let on = cell.map_or_else(String::new, |cell| format!(" on {}", cell.cell));
        let note = format!("{shown} of {all} cameras: those that end first{on}");
        picture.text(Text::new((EDGE, picture.height), note, Align::Left));
        picture.height += LINE;
    }
    let by_day_only = |cell: &CellDays| cell.night_days < cell.days;
    if comparison
        .cameras
        .iter()
        .flat_map(|camera| &camera.cells)
        .any(by_day_only)
    {
        let key = "filled: with night pictures; empty: by day only";
        picture.text(Text::new((EDGE, picture.height), key, Align::Left));
        picture.height += LINE;
    }
    // The season's label.
    picture.height += LINE / 2;
}

/// Names of cells to its left, values of the longest bars to its right.
fn frame(picture: &Picture, shown: &[&CameraDays]) -> Frame {
    let cells = shown.iter().flat_map(|camera| &camera.cells);
    let names = cells.map(|cell| width_of(&cell.cell, TEXT)).max();
    let height: i32 = shown
        .iter()
        // A line file's cameras and the catalogue's cells are few.
        .map(|camera| LINE + STEP * camera.cells.len() as i32)
        .sum();
    let top = picture.height + LINE / 2;
    Frame {
        left: (EDGE + names.unwrap_or(0) + 20).min(WIDTH / 2),
        top,
        right: WIDTH - EDGE - width_of("➤ outlives", TEXT) - 60,
        bottom: top + height + 10,
    }
}

/// Cells from dark to light, in their order.
fn shade(place: usize, of: usize) -> RGBColor {
    let share = place as f64 / (of.saturating_sub(1).max(1)) as f64;
    // Between the two shades, so it fits.
    let grey = (DARKEST + share * (LIGHTEST - DARKEST)).round() as u8;
    // A little blue: it reads as one scale, and in grey as well.
    RGBColor(grey.saturating_sub(18), grey, grey.saturating_add(22))
}

/// A bar that is filled as far as night pictures go, and empty to where the camera ends.
fn bar(
    picture: &mut Picture,
    frame: &Frame,
    top: i32,
    (night_end, end): (i32, i32),
    cell: &CellDays,
    fill: RGBColor,
) {
    let (bottom, middle) = (top + BAR, top + BAR / 2);
    let at = (frame.left - 16, middle);
    picture.text(Text::new(at, cell.cell.as_str(), Align::Right).within(frame.left - EDGE - 16));
    let mut outline = vec![(frame.left, top), (end, top)];
    let mut tip = end;
    if cell.outlives {
        tip = end + 34;
        outline.extend([(end, top - 5), (tip, middle), (end, bottom + 5)]);
    }
    outline.extend([(end, bottom), (frame.left, bottom)]);
    picture.area(outline.iter().copied(), PAPER);
    let full = cell.outlives && cell.night_days >= cell.days;
    let filled = if full {
        outline.clone()
    } else {
        vec![
            (frame.left, top),
            (night_end, top),
            (night_end, bottom),
            (frame.left, bottom),
        ]
    };
    picture.area(filled, fill);
    picture.path(outline, Stroke::solid(INK, 2));
    let value = if cell.outlives {
        "outlives".to_owned()
    } else {
        format!("{:.0}", cell.days)
    };
    picture.text_on_paper(Text::new((tip + 16, middle), value, Align::Left));
}

fn season_line(picture: &mut Picture, frame: &Frame, x: i32, days: f64) {
    let down = [(x, frame.top - 6), (x, frame.bottom)];
    picture.path(down, Stroke::solid(INK, 4).dashed(18, 10));
    let label = format!("season, {days:.0} days");
    let half = width_of(&label, TEXT) / 2;
    let middle = x.min(WIDTH - EDGE - half);
    let at = (middle, frame.top - LINE / 2 - 4);
    picture.text(Text::new(at, label, Align::Middle));
}
