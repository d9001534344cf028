//! Along the expected path: each camera's charge, voltage and ends.

use overwinter_line::answer::forecast::Course;
use overwinter_line::line::Season;

use super::super::axis::Frame;
use super::super::dates::{DateAxis, LABELS_HEIGHT};
use super::super::picture::{Align, EDGE, LINE, Picture, TEXT, Text, WIDTH};
use super::{GAP, air, panel};

/// Left edge of every plot: room for a title, and values up to `100`.
pub(super) const LEFT: i32 = 176;

/// Right edge of every plot: room for limits by name, and a title.
pub(super) const RIGHT: i32 = WIDTH - 400;

const AIR_HEIGHT: i32 = 380;

/// Draws a panel for each camera below what is there, and the air below them.
pub(super) fn draw(picture: &mut Picture, season: &Season, course: &Course) {
    let shown = &course.cameras;
    let broken = shown.iter().any(panel::is_broken);
    panel::key(picture, broken);
    picture.height += GAP / 2;
    let dates = DateAxis::new(season, &frame(0, 1));
    let height = plot_height(shown.len());
    for camera in shown {
        panel::draw(picture, season, &dates, camera, height);
        picture.height += GAP;
    }
    let heading = Text::new((LEFT, picture.height + LINE / 2), "air", Align::Left);
    picture.text(heading.bold());
    let frame = frame(picture.height + LINE, AIR_HEIGHT);
    air::draw(picture, &course.air, &dates, &frame);
    let title = Text::new((TEXT, frame.middle()), "air, °C", Align::Middle);
    picture.text(title.upright());
    dates.labels(picture, frame.bottom);
    picture.height = frame.bottom + LABELS_HEIGHT + EDGE;
}

/// A plot's rectangle below `top`.
pub(super) fn frame(top: i32, height: i32) -> Frame {
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
