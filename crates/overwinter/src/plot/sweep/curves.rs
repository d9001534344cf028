//! One key with numbers: a line for each camera, with the band that most paths keep to.

use super::{Swept, SweptAxis, SweptCamera, first_to_end, header, longest_season, marker, of_all};
use crate::plot::axis::{Frame, Scale, THIN, labelled};
use crate::plot::discharge::STROKES;
use crate::plot::fill::pale;
use crate::plot::labels::apart;
use crate::plot::picture::{
    Align, EDGE, INK, LINE, Picture, Point, SOFT, Stroke, TEXT, Text, WIDTH, width_of,
};

/// The most lines; bands of more would lie over each other.
const MOST_LINES: usize = 6;

/// With more values than this their marks would run together.
const MOST_MARKS: usize = 40;

const FRAME_HEIGHT: i32 = 900;
const LEFT: i32 = 176;

/// One camera's line and the edges of its band.
struct Drawn {
    median: Vec<Point>,
    low: Vec<Point>,
    high: Vec<Point>,
    stroke: Stroke,
}

/// The picture.
pub(super) fn curves(swept: &Swept, axis: &SweptAxis, numbers: &[f64]) -> Picture {
    let mut picture = Picture::new();
    let shown = first_to_end(&swept.cameras, MOST_LINES);
    let mut notes =
        vec!["line: by then dead in half of the seasons; band: a tenth to nine tenths".to_owned()];
    notes.extend(of_all(shown.len(), swept.cameras.len()));
    header(&mut picture, swept, &notes);
    let frame = frame(picture.height + LINE, &shown);
    let top = top(&shown, longest_season(swept));
    let days = frame.upward(0.0..top);
    let values = frame.rightward(range(numbers));
    axes(&mut picture, &frame, (&values, &days), axis, numbers);
    let lines: Vec<Drawn> = shown
        .iter()
        .zip(STROKES.iter().cycle())
        .map(|(camera, stroke)| Drawn::new(camera, axis, numbers, (&values, &days), *stroke))
        .collect();
    // A narrow band on a wide one is seen, and one on as wide a one by its edges.
    for line in in_order(&lines, |line| -line.area()) {
        let band = line.low.iter().chain(line.high.iter().rev());
        picture.area(band.copied(), pale(line.stroke.colour));
    }
    let season = super::season(swept).filter(|season| *season < top);
    season_line(&mut picture, &frame, &days, season);
    // What shows through most gaps comes last: of lines along the season's end all are seen.
    let covering = || in_order(&lines, |line| -line.stroke.covers());
    for line in covering() {
        let edge = Stroke {
            width: 2,
            ..line.stroke
        };
        picture.path(line.low.iter().copied(), edge);
        picture.path(line.high.iter().copied(), edge);
    }
    for line in covering() {
        picture.path(line.median.iter().copied(), line.stroke);
    }
    if numbers.len() <= MOST_MARKS {
        marks(&mut picture, &lines);
    }
    frame.border(&mut picture);
    names(&mut picture, &frame, &shown, &lines);
    picture.height = frame.bottom + 2 * LINE + EDGE;
    picture
}

/// The lines from the least `key` to the greatest.
fn in_order(lines: &[Drawn], key: impl Fn(&Drawn) -> i64) -> Vec<&Drawn> {
    let mut lines: Vec<&Drawn> = lines.iter().collect();
    lines.sort_by_key(|line| key(line));
    lines
}

/// The cameras' marks along their lines. Where several would lie on each other they take turns.
fn marks(picture: &mut Picture, lines: &[Drawn]) {
    for (number, line) in lines.iter().enumerate() {
        for (place, at) in line.median.iter().enumerate() {
            let here = |other: &Drawn| {
                let there = other.median.get(place);
                there.is_some_and(|there| (there.1 - at.1).abs() <= marker::RADIUS as i32)
            };
            let before = lines[..number].iter().filter(|other| here(other)).count();
            let all = lines.iter().filter(|other| here(other)).count();
            if place % all.max(1) == before {
                marker::mark(picture, number, *at, line.stroke.colour);
            }
        }
    }
}

impl Drawn {
    /// How much its band covers.
    fn area(&self) -> i64 {
        let heights = self.low.iter().zip(&self.high);
        heights.map(|(low, high)| i64::from(low.1 - high.1)).sum()
    }

    fn new(
        camera: &SweptCamera,
        axis: &SweptAxis,
        numbers: &[f64],
        (values, days): (&Scale, &Scale),
        stroke: Stroke,
    ) -> Self {
        let order = axis.order();
        let of = |share: usize| {
            let points = order.iter().map(|&place| {
                let day = camera.points[place].within_season()[share];
                (values.at(numbers[place]), days.at(day))
            });
            points.collect()
        };
        Self {
            low: of(0),
            median: of(1),
            high: of(2),
            stroke,
        }
    }
}

/// Names of cameras to its right.
fn frame(top: i32, shown: &[&SweptCamera]) -> Frame {
    let names = shown.iter().map(|camera| width_of(&camera.name, TEXT));
    Frame {
        left: LEFT,
        top,
        right: WIDTH - EDGE - (names.max().unwrap_or(0) + 60).min(WIDTH / 3),
        bottom: top + FRAME_HEIGHT,
    }
}

/// The days that the scale reaches to: the season's, unless all bands end long before.
fn top(shown: &[&SweptCamera], season: f64) -> f64 {
    let points = shown.iter().flat_map(|camera| &camera.points);
    let longest = points
        .map(|point| point.within_season()[2])
        .fold(1.0, f64::max);
    if longest < 0.6 * season {
        longest * 1.08
    } else {
        season * 1.02
    }
}

/// A little more than the values on each side, for their marks.
fn range(numbers: &[f64]) -> std::ops::Range<f64> {
    let lowest = numbers.iter().copied().fold(f64::INFINITY, f64::min);
    let highest = numbers.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let margin = 0.02 * (highest - lowest);
    lowest - margin..highest + margin
}

fn axes(
    picture: &mut Picture,
    frame: &Frame,
    (values, days): (&Scale, &Scale),
    axis: &SweptAxis,
    numbers: &[f64],
) {
    let whole = |value: &f64| (value - value.round()).abs() < 1e-9;
    let mut ticks = values.ticks(200);
    if numbers.iter().all(whole) {
        // Between them there is nothing, as between two and three pictures.
        ticks.retain(whole);
    }
    for (value, label) in labelled(&ticks) {
        let x = values.at(value);
        picture.path(frame.down(x), THIN);
        picture.text(Text::new((x, frame.bottom + 36), label, Align::Middle));
    }
    frame.left_axis(picture, days, "days alive");
    let middle = i32::midpoint(frame.left, frame.right);
    let at = (middle, frame.bottom + 36 + LINE);
    picture.text(Text::new(at, axis.title.as_str(), Align::Middle));
}

fn season_line(picture: &mut Picture, frame: &Frame, days: &Scale, season: Option<f64>) {
    let Some(season) = season else {
        return;
    };
    let y = days.at(season);
    picture.path(frame.across(y), Stroke::solid(INK, 3).dashed(18, 10));
    let label = format!("the season's end, day {season:.0}: lines along it outlive it");
    let at = (frame.left, frame.top - LINE / 2);
    picture.text(Text::new(at, label, Align::Left).within(WIDTH - EDGE - frame.left));
}

/// Each camera's name beside the end of its line.
fn names(picture: &mut Picture, frame: &Frame, shown: &[&SweptCamera], lines: &[Drawn]) {
    let ends: Vec<Point> = lines
        .iter()
        .map(|line| {
            line.median
                .last()
                .copied()
                .unwrap_or((frame.right, frame.bottom))
        })
        .collect();
    let wanted: Vec<i32> = ends.iter().map(|end| end.1).collect();
    let places = apart(&wanted, LINE, frame.top, frame.bottom);
    for (number, ((camera, line), (end, y))) in shown
        .iter()
        .zip(lines)
        .zip(ends.iter().zip(places))
        .enumerate()
    {
        let leader = [*end, (frame.right, end.1), (frame.right + 24, y)];
        picture.path(leader, Stroke::solid(SOFT, 2));
        marker::mark(picture, number, (frame.right + 32, y), line.stroke.colour);
        let name = Text::new((frame.right + 54, y), camera.name.as_str(), Align::Left);
        picture.text(name.within(WIDTH - EDGE - frame.right - 54));
    }
}
