//! Days of each camera on each cell, as bars.

use plotters::style::RGBColor;

use super::MOST_CAMERAS;
use super::axis::{Frame, Scale, THIN, labelled};
use super::picture::{
    Align, EDGE, INK, LINE, PAPER, Picture, Point, SOFT, Stroke, TEXT, TITLE, Text, WIDTH, width_of,
};

/// What to compare.
#[derive(Clone, Debug, PartialEq)]
pub struct Comparison {
    /// Over the picture.
    pub title: String,
    /// Length of the season.
    pub season_days: f64,
    /// How many seasons were sampled.
    pub seasons: u32,
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
    /// Days by which the camera is dead in a tenth of the seasons; `None` beyond the season.
    pub p10: Option<f64>,
    /// The same for half of them.
    pub p50: Option<f64>,
    /// The same for nine tenths.
    pub p90: Option<f64>,
    /// Days by which it takes no more pictures by night in half of the seasons; as
    /// [`CellDays::p50`] where it has no flash.
    pub night_p50: Option<f64>,
    /// Share of the seasons that it outlives, 0 to 1.
    pub alive_at_end: f64,
}

/// Height of a bar.
const BAR: i32 = 40;

/// From one bar to the next.
const STEP: i32 = 54;

/// Days with night pictures: light enough for the whisker over it, darker than paper in grey too.
const FILL: RGBColor = RGBColor(0xb4, 0xc6, 0xd4);

/// The range from one season in ten to nine in ten.
const WHISKER: Stroke = Stroke::solid(INK, 5);

/// Half of the height of a whisker's ends.
const CAP: i32 = 11;

/// How far an arrow points beyond the season.
const TIP: i32 = 34;

/// Days by cell: a group of bars for each camera, with the end of the season across them. A bar ends
/// where half of the sampled seasons have ended the camera, a whisker spans the tenth to the ninth
/// tenth of them. A bar that reaches the season's end is an arrow: more than half outlive it.
///
/// Of more than twelve cameras those are drawn that end first on their first cell.
#[must_use]
pub fn compare(comparison: &Comparison) -> Picture {
    let mut picture = Picture::new();
    let shown = first_to_end(&comparison.cameras);
    header(&mut picture, comparison, shown.len());
    let frame = frame(&picture, &shown);
    let scale = frame.rightward(0.0..comparison.season_days.max(1.0));
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
        picture.text_on_paper(name.within(WIDTH - 2 * EDGE));
        y += LINE / 2;
        for cell in &camera.cells {
            let tip = bar(&mut picture, &frame, &scale, y, cell);
            let tip = tip.max(whisker(&mut picture, &frame, &scale, y + BAR / 2, cell));
            labels(&mut picture, &frame, (tip, y + BAR / 2), cell);
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
        let days = |camera: &CameraDays| {
            let first = camera.cells.first();
            first.map_or(0.0, |cell| cell.p50.unwrap_or(f64::INFINITY))
        };
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
    key(picture, comparison.seasons);
    // The season's label.
    picture.height += LINE / 2;
}

/// What fills, whiskers and arrows are.
fn key(picture: &mut Picture, seasons: u32) {
    let swatch = EDGE + 90;
    let mut entry = |draw: &dyn Fn(&mut Picture, i32), what: &str| {
        let y = picture.height;
        draw(picture, y);
        picture.text(Text::new((swatch + 20, y), what, Align::Left));
        picture.height += LINE;
    };
    let block = |picture: &mut Picture, y: i32, fill: RGBColor| {
        let corners = [
            (EDGE, y - 16),
            (swatch, y - 16),
            (swatch, y + 16),
            (EDGE, y + 16),
        ];
        picture.area(corners, fill);
        let round = corners.into_iter().chain([corners[0]]);
        picture.path(round, Stroke::solid(INK, 2));
    };
    entry(
        &|picture, y| block(picture, y, FILL),
        &format!("night pictures: until then in half of {seasons} sampled seasons"),
    );
    entry(
        &|picture, y| block(picture, y, PAPER),
        "alive, by day only: until then in half of them",
    );
    entry(
        &|picture, y| {
            picture.path([(EDGE, y), (swatch, y)], WHISKER);
            for x in [EDGE, swatch] {
                picture.path([(x, y - CAP), (x, y + CAP)], WHISKER);
            }
        },
        "alive: from 1 season in 10 dead to 9 in 10 dead; no right end: later",
    );
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
        right: WIDTH - EDGE - width_of("outlives, 100 %", TEXT) - TIP - 40,
        bottom: top + height + 10,
    }
}

/// A bar that is filled as far as night pictures go, and empty to where the camera ends; gives where
/// it ends.
fn bar(picture: &mut Picture, frame: &Frame, scale: &Scale, top: i32, cell: &CellDays) -> i32 {
    let (bottom, middle) = (top + BAR, top + BAR / 2);
    let end = cell.p50.map_or(frame.right, |days| scale.at(days));
    let mut outline = vec![(frame.left, top), (end, top)];
    let mut tip = end;
    if cell.p50.is_none() {
        tip = end + TIP;
        outline.extend([(end, top - 5), (tip, middle), (end, bottom + 5)]);
    }
    outline.extend([(end, bottom), (frame.left, bottom)]);
    picture.area(outline.iter().copied(), PAPER);
    match cell.night_p50 {
        None => picture.area(outline.iter().copied(), FILL),
        Some(days) => picture.block((frame.left, top), (scale.at(days), bottom), FILL),
    }
    picture.path(outline, Stroke::solid(INK, 2));
    tip
}

/// The range of the seasons, open to the right where it goes beyond the season; gives where it ends.
fn whisker(picture: &mut Picture, frame: &Frame, scale: &Scale, y: i32, cell: &CellDays) -> i32 {
    let Some(first) = cell.p10 else {
        return frame.left;
    };
    let first = scale.at(first);
    let last = cell.p90.map_or(frame.right + TIP, |days| scale.at(days));
    picture.path([(first, y), (last, y)], WHISKER);
    let closed = cell.p90.map(|_| last);
    for x in [Some(first), closed].into_iter().flatten() {
        picture.path([(x, y - CAP), (x, y + CAP)], WHISKER);
    }
    last
}

/// The cell's name before its bar, and its days or odds behind it.
fn labels(picture: &mut Picture, frame: &Frame, (tip, y): Point, cell: &CellDays) {
    let room = frame.left - EDGE - 16;
    let name = Text::new((frame.left - 16, y), cell.cell.as_str(), Align::Right);
    picture.text(name.within(room));
    let value = cell.p50.map_or_else(
        || format!("outlives, {:.0} %", 100.0 * cell.alive_at_end),
        |days| format!("{days:.0}"),
    );
    picture.text_on_paper(Text::new((tip + 16, y), value, Align::Left));
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
