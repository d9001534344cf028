//! The season of each camera: charge, voltage and ends over the dates, and the air below them.

mod air;
mod ends;
mod panel;

use overwinter_model::season::{End, Outcome};

use super::axis::Frame;
use super::dates::{DateAxis, LABELS_HEIGHT, full};
use super::picture::{Align, EDGE, LINE, Picture, TITLE, Text, WIDTH};
use super::{MOST_CAMERAS, labels};
use crate::line::{Camera, Line};
use crate::run::CameraRun;

/// Left edge of every plot: room for a title, and values up to `100`.
const LEFT: i32 = 176;

/// Right edge of every plot: room for limits by name, and a title.
const RIGHT: i32 = WIDTH - 400;

/// Between two panels.
const GAP: i32 = 44;

/// The course of a line's season: for each camera the charge left and the lowest voltage of each
/// day, with its limits and its ends, and below them the temperature of the air.
///
/// `runs` belong to the line's cameras in their order. Of more than twelve cameras those are
/// drawn that end first.
#[must_use]
pub fn forecast(line: &Line, runs: &[CameraRun]) -> Picture {
    let all: Vec<(&Camera, &CameraRun)> = line.cameras.iter().zip(runs).collect();
    let count = all.len();
    let shown = first_to_end(all);
    let mut picture = Picture::new();
    header(&mut picture, line, &shown, count);
    let dates = DateAxis::new(&line.season, &frame(0, 1));
    let height = plot_height(shown.len());
    for (camera, run) in shown {
        panel::draw(&mut picture, line, &dates, (camera, run), height);
        picture.height += GAP;
    }
    let bottom = air::draw(&mut picture, line, &dates);
    dates.labels(&mut picture, bottom);
    picture.height = bottom + LABELS_HEIGHT + EDGE;
    picture
}

/// A plot's rectangle below `top`.
fn frame(top: i32, height: i32) -> Frame {
    Frame {
        left: LEFT,
        top,
        right: RIGHT,
        bottom: top + height,
    }
}

/// One camera fills a page's width well; of many, each gets less. The least is what the axes'
/// titles need.
fn plot_height(cameras: usize) -> i32 {
    match cameras {
        0..=1 => 640,
        2..=3 => 460,
        _ => 360,
    }
}

/// All in their order, or of too many those that end first, in the order in which they end.
fn first_to_end<'a>(
    mut cameras: Vec<(&'a Camera, &'a CameraRun)>,
) -> Vec<(&'a Camera, &'a CameraRun)> {
    if cameras.len() > MOST_CAMERAS {
        cameras.sort_by(|(_, a), (_, b)| {
            let (a, b) = (end_days(&a.outcome), end_days(&b.outcome));
            a.partial_cmp(&b).unwrap_or(std::cmp::Ordering::Equal)
        });
        cameras.truncate(MOST_CAMERAS);
    }
    cameras
}

/// When a camera is dead, else when it first fails in something, else never.
fn end_days(outcome: &Outcome) -> [f64; 2] {
    let days = |end: Option<End>| end.map_or(f64::INFINITY, |end| end.after.as_days());
    let night = days(outcome.night_pictures_lost);
    [days(outcome.dead), night.min(days(outcome.uploads_failed))]
}

fn header(picture: &mut Picture, line: &Line, shown: &[(&Camera, &CameraRun)], all: usize) {
    let y = EDGE + TITLE / 2;
    let site = Text::title((EDGE, y), line.site.as_str());
    picture.text(site.within(WIDTH - 2 * EDGE));
    let season = &line.season;
    let mut dates = format!("{} to {}", full(season.start), full(season.end));
    if shown.len() < all {
        dates += &format!("; the {} of {all} cameras that end first", shown.len());
    }
    picture.text(Text::new((EDGE, y + LINE), dates, Align::Left));
    picture.height = y + 2 * LINE;
    let broken = shown
        .iter()
        .any(|(camera, run)| panel::is_broken(camera, run));
    panel::key(picture, broken);
    picture.height += GAP / 2;
}
