//! One key with names: for each camera a row for each value, a bar from a tenth to nine tenths
//! with a mark at half.

use super::{Swept, SweptAxis, SweptCamera, SweptPoint, first_to_end, header, longest_season};
use super::{marker, of_all};
use crate::plot::axis::{Frame, Scale, THIN, labelled};
use crate::plot::picture::{
    Align, EDGE, GRID, INK, LINE, Picture, SOFT, Stroke, TEXT, Text, WIDTH, width_of,
};

/// The most values of a camera, and the most rows of all cameras.
const MOST_VALUES: usize = 36;
const MOST_ROWS: usize = 72;

/// From one row to the next.
const STEP: i32 = 56;

/// Half the height of a bar.
const HALF: i32 = 10;

/// The picture.
pub(super) fn dots(swept: &Swept, axis: &SweptAxis) -> Picture {
    let mut picture = Picture::new();
    let values = axis.labels.len().min(MOST_VALUES);
    let shown = first_to_end(&swept.cameras, (MOST_ROWS / values.max(1)).max(1));
    let mut notes = vec![format!(
        "{}; mark: by then dead in half of the seasons; bar: a tenth to nine tenths",
        axis.title
    )];
    notes.extend(of_all(shown.len(), swept.cameras.len()));
    if values < axis.labels.len() {
        notes.push(format!(
            "the first {values} of {} values",
            axis.labels.len()
        ));
    }
    header(&mut picture, swept, &notes);
    let frame = frame(&picture, axis, values, &shown, longest_season(swept));
    let days = frame.rightward(0.0..longest_season(swept));
    for (day, label) in labelled(&days.ticks(170)) {
        let x = days.at(day);
        picture.path(frame.down(x), THIN);
        picture.text(Text::new((x, frame.bottom + 36), label, Align::Middle));
    }
    let middle = i32::midpoint(frame.left, frame.right);
    let at = (middle, frame.bottom + 36 + LINE);
    picture.text(Text::new(
        at,
        "days alive; + outlives the season",
        Align::Middle,
    ));
    let mut y = frame.top;
    for camera in &shown {
        y += LINE / 2;
        let name = Text::new((EDGE, y), camera.name.as_str(), Align::Left).bold();
        picture.text_on_paper(name.within(WIDTH - 2 * EDGE));
        y += LINE / 2 + STEP / 2;
        for (label, point) in axis.labels.iter().zip(&camera.points).take(values) {
            row(&mut picture, &frame, &days, y, label, point);
            y += STEP;
        }
        y -= STEP / 2;
    }
    if let Some(season) = super::season(swept) {
        let down = frame.down(days.at(season));
        picture.path(down, Stroke::solid(INK, 3).dashed(18, 10));
    }
    frame.border(&mut picture);
    picture.height = frame.bottom + 36 + LINE + LINE / 2 + EDGE;
    picture
}

/// Values' names to its left, days of the longest bars to its right.
fn frame(
    picture: &Picture,
    axis: &SweptAxis,
    values: usize,
    shown: &[&SweptCamera],
    longest: f64,
) -> Frame {
    let names = axis.labels.iter().take(values);
    let names = names.map(|name| width_of(name, TEXT)).max();
    let days = format!("{longest:.0}+ ({longest:.0}+ to {longest:.0}+)");
    let top = picture.height;
    // A few dozen rows at most.
    let height = shown.len() as i32 * (LINE + STEP * values as i32);
    Frame {
        left: (EDGE + names.unwrap_or(0) + 20).min(WIDTH / 2),
        top,
        right: WIDTH - EDGE - width_of(&days, TEXT) - 40,
        bottom: top + height + 10,
    }
}

fn row(
    picture: &mut Picture,
    frame: &Frame,
    days: &Scale,
    y: i32,
    label: &str,
    point: &SweptPoint,
) {
    let name = Text::new((frame.left - 16, y), label, Align::Right);
    picture.text(name.within(frame.left - EDGE - 16));
    let [low, median, high] = point.within_season().map(|day| days.at(day));
    picture.path([(frame.left, y), (low, y)], Stroke::solid(GRID, 3));
    picture.block((low, y - HALF), (high, y + HALF), SOFT);
    marker::mark(picture, 0, (median, y), INK);
    let [low, median, high] = point.written();
    let text = format!("{median} ({low} to {high})");
    picture.text(Text::new((frame.right + 24, y), text, Align::Left));
}
