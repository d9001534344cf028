//! Charge left: the middle of the paths, the median and the expected path.

use overwinter_line::words::temperature;
use overwinter_model::season::{Cause, Ending};

use super::super::super::axis::{Frame, Scale};
use super::super::super::dates::DateAxis;
use super::super::super::picture::{Align, INK, Picture, Point, Stroke, TEXT, Text, width_of};
use super::super::panel::{CHARGE_FILL, CHARGE_LINE, charge_course};
use super::super::shape::Shape;
use super::{COLUMN, SWATCH, Seen};

const EDGE_LINE: Stroke = Stroke {
    width: 2,
    ..CHARGE_LINE
};
const MEDIAN: Stroke = Stroke {
    width: 7,
    ..CHARGE_LINE
};
const EXPECTED: Stroke = Stroke::solid(INK, 3).dashed(12, 8);
const STORE: Stroke = Stroke::solid(INK, 5);

/// What the band and its lines are, on one line of text.
pub(super) fn key(picture: &mut Picture, (mut x, y): Point) {
    let mut entry = |picture: &mut Picture, text: &str| {
        let from = x;
        picture.text(Text::new((from + SWATCH + 16, y), text, Align::Left));
        x += SWATCH + 16 + width_of(text, TEXT) + 50;
        from
    };
    let band = entry(picture, "8 of 10 seasons");
    let [top, bottom] = [y - 17, y + 17];
    picture.block((band, top), (band + SWATCH, bottom), CHARGE_FILL);
    for edge in [top, bottom] {
        picture.path([(band, edge), (band + SWATCH, edge)], EDGE_LINE);
    }
    let median = entry(picture, "median");
    picture.path([(median, y), (median + SWATCH, y)], MEDIAN);
    let expected = entry(picture, "expected path to its end");
    picture.path([(expected, y), (expected + SWATCH, y)], EXPECTED);
    Shape::Cross.draw(picture, (expected + SWATCH - 13, y));
}

/// What the line of a panel's store is.
pub(super) fn store_key(picture: &mut Picture, (x, y): Point) {
    picture.path([(x, y), (x + SWATCH, y)], STORE);
    let at = (x + SWATCH + 16, y);
    let text = "panel's store, mean of all seasons";
    picture.text(Text::new(at, text, Align::Left));
}

/// Why the camera dies on the expected path, if it does: mostly with charge left in its cells. Gives
/// how many lines of text.
pub(super) fn why_dead(picture: &mut Picture, (x, y): Point, seen: &Seen<'_>) -> i32 {
    let Some(end) = &seen.camera.outcome.ends[Ending::Camera] else {
        return 0;
    };
    let why = match end.cause {
        Cause::WeakestCellEmpty => "weakest cell empty".to_owned(),
        _ => {
            let cold = temperature(end.air).replace('-', "\u{2212}");
            format!("voltage too low at {cold}")
        }
    };
    Shape::Cross.draw(picture, (x + 15, y));
    picture.text(Text::new((x + 45, y), why, Align::Left).within(COLUMN - 45));
    1
}

/// Draws a camera's frame.
pub(super) fn draw(picture: &mut Picture, frame: &Frame, dates: &DateAxis, seen: &Seen<'_>) {
    let share = frame.upward(0.0..1.0);
    let [low, median, high] = [0, 1, 2].map(|place| course(seen, dates, &share, place));
    if !low.is_empty() {
        picture.area(low.iter().chain(high.iter().rev()).copied(), CHARGE_FILL);
    }
    dates.grid(picture, frame);
    frame.left_values(picture, &frame.upward(0.0..100.0));
    picture.path(low, EDGE_LINE);
    picture.path(high, EDGE_LINE);
    picture.path(median, MEDIAN);
    picture.path(store_course(seen, dates, &share), STORE);
    let expected = charge_course(dates, &share, seen.camera);
    let end = expected.last().copied();
    picture.path(expected, EXPECTED);
    frame.border(picture);
    if let (Some(end), Some(_)) = (end, seen.camera.outcome.ends[Ending::Camera]) {
        Shape::Cross.draw(picture, end);
    }
}

/// The charge at the end of each day that one of the three shares of the seasons stays under.
fn course(seen: &Seen<'_>, dates: &DateAxis, scale: &Scale, place: usize) -> Vec<Point> {
    (1..)
        .zip(&seen.sampled.charge)
        .map(|(day, left)| (dates.scale.at(f64::from(day)), scale.at(left[place])))
        .collect()
}

/// What is in a panel's store at the end of each day, as a share of what it holds.
fn store_course(seen: &Seen<'_>, dates: &DateAxis, scale: &Scale) -> Vec<Point> {
    let Some(holds_wh) = seen.camera.store_wh else {
        return Vec::new();
    };
    (1..)
        .zip(&seen.sampled.in_store_wh)
        .map(|(day, wh)| (dates.scale.at(f64::from(day)), scale.at(wh / holds_wh)))
        .collect()
}
