//! Over sampled paths: a row for each camera, its charge on the left, whether it still works on the
//! right.

mod charge;
mod working;

use super::super::axis::{Frame, plain};
use super::super::dates::{DateAxis, LABELS_HEIGHT};
use super::super::picture::{Align, EDGE, LINE, Picture, TEXT, Text, WIDTH};
use super::{GAP, air, cells};
use overwinter_line::answer::forecast::{CameraCourse, SampledCourse};
use overwinter_line::line::Season;
use overwinter_model::Temperature;
use working::Still;

/// One camera on the expected path and over all paths.
pub(super) struct Seen<'a> {
    camera: &'a CameraCourse,
    sampled: &'a SampledCourse,
}

impl<'a> Seen<'a> {
    /// A camera, if seasons were sampled.
    pub(super) fn of(camera: &'a CameraCourse) -> Option<Self> {
        let sampled = camera.sampled.as_ref()?;
        Some(Self { camera, sampled })
    }
}

/// Room for values up to `100` on the left of a frame.
const VALUES: i32 = 112;

/// Width of a frame: two of them with their values, and half of a date's width on the right.
const COLUMN: i32 = (WIDTH - EDGE - VALUES - (VALUES + EDGE) - 2 * EDGE) / 2;

/// Left edges of the frames of charge and of what still works.
const LEFT: [i32; 2] = [EDGE + VALUES, EDGE + VALUES + COLUMN + EDGE + VALUES];

const AIR_HEIGHT: i32 = 280;

/// A swatch of the key.
const SWATCH: i32 = 60;

/// Draws a row for each camera below what is there, then the dates and the air.
pub(super) fn draw(
    picture: &mut Picture,
    season: &Season,
    air: &[(Temperature, Temperature)],
    shown: &[Seen<'_>],
) {
    charge::key(picture, (EDGE, picture.height));
    picture.height += LINE;
    if shown.iter().any(|seen| seen.camera.store_wh.is_some()) {
        charge::store_key(picture, (EDGE, picture.height));
        picture.height += LINE;
    }
    heads(picture);
    let height = plot_height(shown.len());
    let dates = LEFT.map(|left| DateAxis::new(season, &frame(left, 0, 1)));
    let mut bottom = picture.height;
    for seen in shown {
        bottom = row(picture, season, &dates, seen, height);
        picture.height = bottom + GAP;
    }
    for dates in &dates {
        dates.labels(picture, bottom);
    }
    let [left, _] = LEFT;
    let y = bottom + LABELS_HEIGHT + LINE / 2;
    picture.text(Text::new((left, y), "air, °C", Align::Left).bold());
    let frame = frame(left, y + LINE / 2, AIR_HEIGHT);
    air::draw(picture, air, &dates[0], &frame);
    picture.height = frame.bottom + TEXT / 2 + EDGE;
}

/// A plot's rectangle in the column that begins at `left`.
fn frame(left: i32, top: i32, height: i32) -> Frame {
    Frame {
        left,
        top,
        right: left + COLUMN,
        bottom: top + height,
    }
}

/// One camera fills a page's width well; of many, each gets less.
fn plot_height(cameras: usize) -> i32 {
    match cameras {
        0..=1 => 520,
        2..=3 => 380,
        _ => 260,
    }
}

/// What the columns show.
fn heads(picture: &mut Picture) {
    let y = picture.height + LINE / 2;
    let heads = ["charge left, %", "still working, % of seasons"];
    for (left, head) in LEFT.into_iter().zip(heads) {
        picture.text(Text::new((left, y), head, Align::Left).bold());
    }
    picture.height = y + LINE / 2 + GAP / 2;
}

/// A camera's name, its last days and its two frames; gives their lower edge.
fn row(
    picture: &mut Picture,
    season: &Season,
    dates: &[DateAxis; 2],
    seen: &Seen<'_>,
    height: i32,
) -> i32 {
    let [left, right] = LEFT;
    let still = Still::of_camera(seen);
    let y = picture.height + LINE / 2;
    let name = Text::new((left, y), seen.camera.name.as_str(), Align::Left).bold();
    picture.text(name.within(COLUMN));
    let mut pack = cells(&seen.camera.set);
    if let Some(wh) = seen.camera.store_wh {
        pack += &format!(", store of {} Wh", plain(wh));
    }
    let pack = Text::new((left, y + LINE), pack, Align::Left);
    picture.text(pack.within(COLUMN));
    let on_left = 2 + charge::why_dead(picture, (left, y + 2 * LINE), seen);
    let on_right = working::last_days(picture, season, (right, y), &still);
    let top = picture.height + LINE * on_left.max(on_right) + LINE / 4;
    let frames = LEFT.map(|left| frame(left, top, height));
    charge::draw(picture, &frames[0], &dates[0], seen);
    working::draw(picture, &frames[1], &dates[1], season, &still);
    frames[0].bottom
}
