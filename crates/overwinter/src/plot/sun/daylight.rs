//! Hours of the day over the dates: night, twilight, day, and when the sun stands in a lens.

use overwinter_line::sky::{Above, DaySun, Spell, SunSeason};
use plotters::style::RGBColor;

use super::{Lens, frame};
use crate::plot::axis::THIN;
use crate::plot::dates::DateAxis;
use crate::plot::picture::{Align, PAPER, Picture, Point, SOFT, Stroke, TEXT, Text, width_of};

/// Height of the plot.
const HEIGHT: i32 = 560;

/// Hours without sun or twilight.
const NIGHT: RGBColor = RGBColor(0x8a, 0x8a, 0x94);

/// Civil twilight.
const TWILIGHT: RGBColor = RGBColor(0xc2, 0xc2, 0xca);

/// The sun in a lens.
const IN_LENS: RGBColor = RGBColor(0xe6, 0xe6, 0xe6);

/// Draws the plot below what is there and gives its lower edge.
pub(super) fn draw(
    picture: &mut Picture,
    season: &SunSeason,
    dates: &DateAxis,
    lenses: &[Lens<'_>],
) -> i32 {
    let frame = frame(picture.height, HEIGHT);
    let hours = frame.upward(0.0..24.0);
    picture.block((frame.left, frame.top), (frame.right, frame.bottom), NIGHT);
    let at = |day: usize, hour: f64| -> Point { (dates.scale.at(day as f64), hours.at(hour)) };
    bands(picture, season, |day| &day.civil, TWILIGHT, at);
    bands(picture, season, |day| &day.up, PAPER, at);
    dates.grid(picture, &frame);
    for hour in [6.0, 12.0, 18.0] {
        picture.path(frame.across(hours.at(hour)), THIN);
    }
    for hour in (0..=24).step_by(6) {
        let at = (frame.left - 14, hours.at(f64::from(hour)));
        picture.text(Text::new(at, hour.to_string(), Align::Right));
    }
    let title = (TEXT, frame.middle());
    picture.text(Text::new(title, "hour of the clock", Align::Middle).upright());
    let spells: Vec<(&str, Vec<Outline>)> = lenses
        .iter()
        .map(|(name, sun)| {
            let outlines = sun.spells.iter().map(|spell| {
                let since = season.days.iter().position(|day| day.date == spell.first);
                let since = since.unwrap_or(0);
                Outline::new(spell, |day, hour| at(since + day, hour))
            });
            (*name, outlines.collect())
        })
        .collect();
    let all = || spells.iter().flat_map(|(_, outlines)| outlines);
    for outline in all() {
        picture.area(outline.closed(), IN_LENS);
    }
    for outline in all() {
        picture.path(outline.closed(), Stroke::solid(SOFT, 3));
    }
    let mut taken = Vec::new();
    for (name, outlines) in &spells {
        if let Some(longest) = outlines.iter().max_by_key(|outline| outline.size()) {
            label(picture, name, longest, &mut taken);
        }
    }
    frame.border(picture);
    frame.bottom
}

/// Areas over the days on which the sun stands above a height, from when to when: around noon one for
/// all days on end, and one a day for the rest, next to midnight.
fn bands(
    picture: &mut Picture,
    season: &SunSeason,
    above: impl Fn(&DaySun) -> &Above,
    fill: RGBColor,
    at: impl Fn(usize, f64) -> Point,
) {
    let mut lower: Vec<Point> = Vec::new();
    let mut upper: Vec<Point> = Vec::new();
    let close = |picture: &mut Picture, lower: &mut Vec<Point>, upper: &mut Vec<Point>| {
        upper.reverse();
        if !lower.is_empty() {
            picture.area(
                lower.drain(..).chain(upper.drain(..)).collect::<Vec<_>>(),
                fill,
            );
        }
    };
    for (index, day) in season.days.iter().enumerate() {
        let mut any = false;
        for (from, to) in above(day).spans() {
            let at_noon = (*from..=*to).contains(&day.noon);
            let (from, to) = (from.as_hours(), to.as_hours());
            if at_noon {
                // A day is as wide as it is: its area has two corners on each side.
                lower.extend([at(index, from), at(index + 1, from)]);
                upper.extend([at(index, to), at(index + 1, to)]);
                any = true;
            } else {
                picture.block(at(index, to), at(index + 1, from), fill);
            }
        }
        if !any {
            close(picture, &mut lower, &mut upper);
        }
    }
    close(picture, &mut lower, &mut upper);
}

/// The dates and hours of a spell.
struct Outline {
    /// The starts of each day's hours, at both sides of the day.
    lower: Vec<Point>,
    /// Their ends.
    upper: Vec<Point>,
}

impl Outline {
    fn new(spell: &Spell, at: impl Fn(usize, f64) -> Point) -> Self {
        let side = |of: fn(&(u16, u16)) -> u16| {
            let days = spell.minutes.iter().enumerate();
            let corners = days.flat_map(|(day, minutes)| {
                let hour = f64::from(of(minutes)) / 60.0;
                [at(day, hour), at(day + 1, hour)]
            });
            corners.collect()
        };
        Self {
            lower: side(|minutes| minutes.0),
            upper: side(|minutes| minutes.1),
        }
    }

    fn closed(&self) -> Vec<Point> {
        let around = self.lower.iter().chain(self.upper.iter().rev());
        around.chain(self.lower.first()).copied().collect()
    }

    /// Roughly how large it is in the picture.
    fn size(&self) -> i32 {
        let pairs = self.lower.iter().zip(&self.upper);
        pairs.map(|(lower, upper)| lower.1 - upper.1).sum()
    }

    /// The middle of its hours at a share of its days.
    fn middle(&self, share: f64) -> Option<Point> {
        // A place in a list, so it fits.
        let place = (share * self.lower.len() as f64) as usize;
        let (lower, upper) = (self.lower.get(place)?, self.upper.get(place)?);
        Some((lower.0, i32::midpoint(lower.1, upper.1)))
    }
}

/// Where along its days a name is tried, the middle first.
const TRIED: [f64; 7] = [0.5, 0.35, 0.65, 0.2, 0.8, 0.1, 0.9];

/// A camera's name in its longest spell, where it does not lie over another; without room for it,
/// none: the paths above name every camera.
fn label(picture: &mut Picture, name: &str, outline: &Outline, taken: &mut Vec<(Point, i32)>) {
    let text = Text::new((0, 0), name, Align::Middle).within((super::RIGHT - super::LEFT) / 3);
    let half = width_of(&text.text, TEXT) / 2 + 8;
    let free = TRIED.iter().find_map(|share| {
        let (x, y) = outline.middle(*share)?;
        let x = x.clamp(super::LEFT + half, super::RIGHT - half);
        let meets = |&((other_x, other_y), other_half): &(Point, i32)| {
            (other_x - x).abs() < half + other_half && (other_y - y).abs() < TEXT
        };
        (!taken.iter().any(meets)).then_some((x, y))
    });
    if let Some(at) = free {
        taken.push((at, half));
        picture.text_on_paper(Text { at, ..text });
    }
}
