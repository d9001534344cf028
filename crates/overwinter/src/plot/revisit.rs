//! Risk of lost pictures by the end of each day without a visit.

use overwinter_line::line::Season;
use overwinter_line::words;
use plotters::style::RGBColor;
use time::{Date, Duration};

use super::MOST_CAMERAS;
use super::axis::{Frame, Scale, THIN, labelled};
use super::discharge::{STROKES, letter};
use super::picture::{
    Align, EDGE, INK, LINE, Picture, Point, SOFT, Stroke, TEXT, TITLE, Text, WIDTH, width_of,
};

/// What to draw.
#[derive(Clone, Debug, PartialEq)]
pub struct Risks {
    /// Over the picture.
    pub title: String,
    /// The first day.
    pub start: Date,
    /// The risk that is taken, 0 to 1.
    pub risk: f64,
    /// That of any camera of the line.
    pub any: RiskCurve,
    /// Those of the cameras.
    pub cameras: Vec<RiskCurve>,
}

impl Risks {
    /// The days that the curves run over.
    fn season(&self) -> Season {
        let days = i64::try_from(self.any.by_day.len()).unwrap_or(i64::MAX);
        Season {
            start: self.start,
            end: self.start.saturating_add(Duration::days(days.max(1) - 1)),
        }
    }
}

/// A risk that grows with the days.
#[derive(Clone, Debug, PartialEq)]
pub struct RiskCurve {
    /// Whose.
    pub name: String,
    /// Risk by the end of the first day and of each that follows, 0 to 1.
    pub by_day: Vec<f64>,
    /// When to be back, in words.
    pub latest: String,
    /// The same in days after the start, where a visit is needed.
    pub latest_days: Option<u32>,
}

const FRAME_HEIGHT: i32 = 900;
const LEFT: i32 = 176;

/// The curve of the line as a whole.
const BOLD: Stroke = Stroke::solid(INK, 15);

/// Heights of a curve at which its letter may stand, as shares of its last value, the best first.
const LETTER_HEIGHTS: [f64; 9] = [0.5, 0.65, 0.35, 0.8, 0.22, 0.9, 0.58, 0.42, 0.72];

/// Places along a curve at which its letter may stand in their stead.
const STEPS: usize = 24;

/// Half of the room that a letter takes.
const LETTER: i32 = TEXT * 5 / 8;

/// Curves of risk, with the risk that is taken across them.
///
/// Of more than twelve cameras those are drawn that need a visit first.
#[must_use]
pub fn revisit(risks: &Risks) -> Picture {
    let mut picture = Picture::new();
    let shown = first_to_fail(&risks.cameras);
    let top = header(&mut picture, risks, shown.len());
    let frame = Frame {
        left: LEFT,
        top,
        right: WIDTH - EDGE - width_of("100 %", TEXT) - 20,
        bottom: top + FRAME_HEIGHT,
    };
    let days = frame.rightward(0.0..(risks.any.by_day.len().max(2) - 1) as f64);
    let percent = frame.upward(0.0..100.0);
    axes(&mut picture, &frame, &days, &percent, risks);
    let path = |curve: &RiskCurve| -> Vec<Point> {
        let points = curve.by_day.iter().enumerate();
        points
            .map(|(day, risk)| (days.at(day as f64), percent.at(100.0 * risk)))
            .collect()
    };
    picture.path(path(&risks.any), BOLD);
    for (curve, stroke) in shown.iter().zip(strokes()) {
        picture.path(path(curve), stroke);
    }
    frame.border(&mut picture);
    letters(&mut picture, &shown, &days, &percent);
    picture.height = frame.bottom + 3 * LINE + 30;
    entry(&mut picture, BOLD, "", &risks.any);
    for ((place, curve), stroke) in shown.iter().enumerate().zip(strokes()) {
        entry(&mut picture, stroke, &letter(place), curve);
    }
    picture.height += EDGE;
    picture
}

/// More dashes, for as many cameras as are drawn.
const MORE: [Stroke; 7] = [
    Stroke::solid(RGBColor(0x7a, 0x2e, 0x6e), 6).dashed(6, 10),
    Stroke::solid(RGBColor(0x00, 0x5f, 0x9e), 6).dashed(90, 24),
    Stroke::solid(RGBColor(0xb0, 0x4a, 0x00), 6).dashed(46, 34),
    Stroke::solid(RGBColor(0x3f, 0x9a, 0xc9), 6).dashed(20, 8),
    Stroke::solid(RGBColor(0x00, 0x7a, 0x5a), 6).dashed(10, 26),
    Stroke::solid(RGBColor(0x8a, 0x8a, 0x8a), 6).dashed(70, 40),
    Stroke::solid(RGBColor(0x7a, 0x2e, 0x6e), 6).dashed(120, 12),
];

/// Thin ones, none like the bold nor like another.
fn strokes() -> impl Iterator<Item = Stroke> {
    STROKES.into_iter().skip(1).chain(MORE)
}

fn first_to_fail(cameras: &[RiskCurve]) -> Vec<&RiskCurve> {
    let mut cameras: Vec<&RiskCurve> = cameras.iter().collect();
    if cameras.len() > MOST_CAMERAS {
        cameras.sort_by_key(|curve| curve.latest_days.unwrap_or(u32::MAX));
        cameras.truncate(MOST_CAMERAS);
    }
    cameras
}

/// Title and note; where the frame begins.
fn header(picture: &mut Picture, risks: &Risks, shown: usize) -> i32 {
    let y = EDGE + TITLE / 2;
    let title = Text::title((EDGE, y), risks.title.as_str());
    picture.text(title.within(WIDTH - 2 * EDGE));
    if shown == risks.cameras.len() {
        return y + LINE;
    }
    let all = risks.cameras.len();
    let note = format!("{shown} of {all} cameras: those that need a visit first");
    picture.text(Text::new((EDGE, y + LINE), note, Align::Left));
    y + 2 * LINE
}

fn axes(picture: &mut Picture, frame: &Frame, days: &Scale, percent: &Scale, risks: &Risks) {
    let season = risks.season();
    let room = width_of(&season.name_of(season.end), TEXT) + TEXT / 2;
    for (value, label) in labelled(&days.ticks(room.max(170))) {
        let x = days.at(value);
        picture.path(frame.down(x), THIN);
        picture.text(Text::new((x, frame.bottom + 36), label, Align::Middle));
        // Ticks lie within a season, which is at most 1200 days long.
        let date = risks.start.saturating_add(Duration::days(value as i64));
        let below = (x, frame.bottom + 36 + LINE);
        picture.text(Text::new(below, season.name_of(date), Align::Middle));
    }
    frame.left_axis(picture, percent, "risk, %");
    let middle = i32::midpoint(frame.left, frame.right);
    let below = (middle, frame.bottom + 36 + 2 * LINE);
    let what = format!(
        "days after {}, and the date; risk by the end of that day",
        words::date(risks.start)
    );
    picture.text(Text::new(below, what, Align::Middle));
    let y = percent.at(100.0 * risks.risk);
    picture.path(frame.across(y), Stroke::solid(SOFT, 4).dashed(18, 10));
    let label = format!("{} %", words::plain(100.0 * risks.risk));
    picture.text(Text::new((frame.right + 14, y), label, Align::Left));
}

/// A letter on each curve where it meets no other: at a height, or, where the risk never rises or
/// no height is free, along its way from the right.
fn letters(picture: &mut Picture, shown: &[&RiskCurve], days: &Scale, percent: &Scale) {
    let mut taken: Vec<Point> = Vec::new();
    for (place, curve) in shown.iter().enumerate() {
        let last = curve.by_day.last().copied().unwrap_or(0.0);
        let at = |share: f64| {
            let day = curve.by_day.iter().position(|risk| *risk >= share * last)?;
            let risk = curve.by_day.get(day)?;
            Some((days.at(day as f64), percent.at(100.0 * risk)))
        };
        let free = |&(x, y): &Point| {
            let meets =
                |&(tx, ty): &Point| (x - tx).abs() < 2 * LETTER && (y - ty).abs() < 2 * LETTER;
            !taken.iter().any(meets)
        };
        let along = |step: usize| {
            let day = curve.by_day.len() * (STEPS - step) / (STEPS + 1);
            let risk = curve.by_day.get(day)?;
            Some((days.at(day as f64), percent.at(100.0 * risk)))
        };
        let heights = LETTER_HEIGHTS.into_iter().filter(|_| last > 0.0);
        let mut points = heights.filter_map(at).chain((0..STEPS).filter_map(along));
        if let Some(point) = points.find(free) {
            taken.push(point);
            picture.text_on_paper(Text::new(point, letter(place), Align::Middle).bold());
        }
    }
}

/// A line of the key: stroke, letter, name and when to be back.
fn entry(picture: &mut Picture, stroke: Stroke, letter: &str, curve: &RiskCurve) {
    let y = picture.height + LINE / 2;
    picture.path([(LEFT, y), (LEFT + 150, y)], stroke);
    if !letter.is_empty() {
        picture.text(Text::new((LEFT + 190, y), letter, Align::Middle).bold());
    }
    let right = WIDTH - EDGE;
    let room = right - width_of(&curve.latest, TEXT) - 40 - (LEFT + 230);
    let name = Text::new((LEFT + 230, y), curve.name.as_str(), Align::Left);
    picture.text(name.within(room));
    picture.text(Text::new((right, y), curve.latest.as_str(), Align::Right));
    picture.height += LINE;
}
