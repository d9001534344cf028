//! The sun's height over its direction, a line for each of some days, and what lenses see of it.

use overwinter_line::answer::sun::SunAnswer;
use overwinter_line::sky::{DaySun, SunSeason};
use overwinter_model::{Place, SUNRISE_ALTITUDE_DEG, SunDay, Time};
use plotters::style::RGBColor;

use super::{Lens, frame};
use crate::plot::axis::{Frame, Scale, THIN};
use crate::plot::labels::{self, Span};
use crate::plot::picture::{
    Align, GRID, INK, LINE as TEXT_LINE, Picture, Point, SOFT, Stroke, TEXT, Text, width_of,
};

/// Height of the plot.
const HEIGHT: i32 = 620;

/// Inside a lens's field.
const FIELD: RGBColor = RGBColor(0xe6, 0xe6, 0xe6);

/// Thin paths are drawn for every so many days.
const EVERY_DAYS: usize = 7;

/// A path's points, minutes apart.
const STEP_MIN: u16 = 10;

/// The lowest top of the scale, degrees.
const LOWEST_TOP_DEG: f64 = 20.0;

/// Directions by name, degrees from north through east; beyond a turn for a plot around north.
const DIRECTIONS: [(f64, &str); 13] = [
    (-180.0, "S"),
    (-135.0, "SW"),
    (-90.0, "W"),
    (-45.0, "NW"),
    (0.0, "N"),
    (45.0, "NE"),
    (90.0, "E"),
    (135.0, "SE"),
    (180.0, "S"),
    (225.0, "SW"),
    (270.0, "W"),
    (315.0, "NW"),
    (360.0, "N"),
];

/// Both scales of the plot, with the noon sun in its middle.
struct Scales {
    directions: Scale,
    /// First direction of the scale.
    from_deg: f64,
    heights: Scale,
    top_deg: f64,
}

impl Scales {
    fn new(frame: &Frame, place: &Place, season: &SunSeason) -> Self {
        let from_deg = if place.latitude_deg() < 0.0 {
            -180.0
        } else {
            0.0
        };
        let highest = season.days.iter().map(|day| day.noon_elevation_deg);
        let top_deg = highest.fold(LOWEST_TOP_DEG, f64::max) + 6.0;
        Self {
            directions: frame.rightward(from_deg..from_deg + 360.0),
            from_deg,
            heights: frame.upward(0.0..top_deg),
            top_deg,
        }
    }

    /// A direction as it stands on the scale.
    fn on_scale(&self, azimuth_deg: f64) -> f64 {
        (azimuth_deg - self.from_deg).rem_euclid(360.0) + self.from_deg
    }

    fn at(&self, azimuth_deg: f64, height_deg: f64) -> Point {
        (self.directions.at(azimuth_deg), self.heights.at(height_deg))
    }
}

pub(super) fn draw(picture: &mut Picture, answer: &SunAnswer, lenses: &[Lens<'_>]) {
    let (place, season) = (&answer.details.place, &answer.details.sun);
    let frame = frame(picture.height, HEIGHT);
    let scales = Scales::new(&frame, place, season);
    for (_, sun) in lenses {
        field(picture, &scales, sun.facing_deg, season.within_deg);
    }
    frame.left_axis(picture, &scales.heights, "height, degrees");
    for (azimuth_deg, _) in directions(&scales) {
        picture.path(frame.down(scales.directions.at(azimuth_deg)), THIN);
    }
    for day in season.days.iter().step_by(EVERY_DAYS) {
        path(picture, &scales, place, day, Stroke::solid(GRID, 2));
    }
    for (_, sun) in lenses {
        rim(picture, &scales, sun.facing_deg, season.within_deg);
    }
    named_paths(picture, &scales, answer);
    frame.border(picture);
    let below = frame.bottom + 40;
    for (azimuth_deg, name) in directions(&scales) {
        let at = (scales.directions.at(azimuth_deg), below);
        picture.text(Text::new(at, name, Align::Middle));
    }
    picture.height = facings(picture, &scales, &frame, below + TEXT_LINE, lenses);
}

fn directions(scales: &Scales) -> impl Iterator<Item = (f64, &'static str)> {
    let range = scales.from_deg..=scales.from_deg + 360.0;
    DIRECTIONS
        .into_iter()
        .filter(move |(azimuth_deg, _)| range.contains(azimuth_deg))
}

/// How high a lens's field reaches, by the direction from its axis: `cos h cos d = cos within`.
fn field_height_deg(from_axis_deg: f64, within_deg: f64) -> f64 {
    let cosine = within_deg.to_radians().cos() / from_axis_deg.to_radians().cos();
    cosine.clamp(-1.0, 1.0).acos().to_degrees()
}

/// The rim of a lens's field in the pieces that lie on the scale.
fn rims(scales: &Scales, facing_deg: f64, within_deg: f64) -> Vec<Vec<(f64, f64)>> {
    let facing = scales.on_scale(facing_deg);
    // Of 90 degrees everything before the lens is within, to the zenith.
    let side = within_deg.min(89.9);
    let steps = 60;
    let on_scale = scales.from_deg..=scales.from_deg + 360.0;
    [-360.0, 0.0, 360.0]
        .into_iter()
        .map(|turn| {
            let rim = (0..=steps).map(|step| {
                let away = side * (2.0 * f64::from(step) / f64::from(steps) - 1.0);
                (facing + turn + away, field_height_deg(away, within_deg))
            });
            rim.filter(|(azimuth_deg, _)| on_scale.contains(azimuth_deg))
                .collect()
        })
        .filter(|rim: &Vec<_>| rim.len() > 1)
        .collect()
}

fn field(picture: &mut Picture, scales: &Scales, facing_deg: f64, within_deg: f64) {
    for rim in rims(scales, facing_deg, within_deg) {
        let ends = [rim.first(), rim.last()].map(|end| end.map_or(0.0, |end| end.0));
        let top = rim
            .iter()
            .map(|&(azimuth, height)| scales.at(azimuth, height));
        let below = ends
            .into_iter()
            .rev()
            .map(|azimuth| scales.at(azimuth, 0.0));
        picture.area(top.chain(below).collect::<Vec<_>>(), FIELD);
    }
}

fn rim(picture: &mut Picture, scales: &Scales, facing_deg: f64, within_deg: f64) {
    for rim in rims(scales, facing_deg, within_deg) {
        let seen = rim
            .into_iter()
            .filter(|(_, height)| *height <= scales.top_deg);
        picture.path(
            seen.map(|(azimuth, height)| scales.at(azimuth, height)),
            Stroke::solid(SOFT, 2),
        );
    }
}

/// The sun of one day from rise to set, cut where it leaves the scale on one side.
fn path(picture: &mut Picture, scales: &Scales, place: &Place, day: &DaySun, stroke: Stroke) {
    let sun = SunDay::new(place, day.date.into());
    let mut piece: Vec<(f64, Point)> = Vec::new();
    for minute in (0..=24 * 60).step_by(usize::from(STEP_MIN)) {
        let at = sun.direction(Time::from_seconds(60.0 * f64::from(minute)));
        let height_deg = at.elevation_deg();
        let azimuth_deg = scales.on_scale(at.azimuth_deg());
        let up = height_deg > SUNRISE_ALTITUDE_DEG;
        let goes_on = piece
            .last()
            .is_none_or(|(before, _)| (azimuth_deg - before).abs() < 180.0);
        if !up || !goes_on {
            picture.path(piece.drain(..).map(|(_, point)| point), stroke);
        }
        if up {
            piece.push((azimuth_deg, scales.at(azimuth_deg, height_deg)));
        }
    }
    picture.path(piece.into_iter().map(|(_, point)| point), stroke);
}

/// First and last day, and those with the lowest and the highest noon, by name above their noon.
fn named_paths(picture: &mut Picture, scales: &Scales, answer: &SunAnswer) {
    let (place, season) = (&answer.details.place, &answer.details.sun);
    let by_height = |one: &&DaySun, other: &&DaySun| {
        one.noon_elevation_deg.total_cmp(&other.noon_elevation_deg)
    };
    let days = || season.days.iter();
    let chosen = [
        days().min_by(by_height),
        days().max_by(by_height),
        days().next(),
        days().next_back(),
    ];
    let mut named: Vec<&DaySun> = Vec::new();
    for day in chosen.into_iter().flatten() {
        // Two paths so close would have one label over the other.
        let apart = |other: &&DaySun| {
            let heights = [other, &day].map(|day| scales.heights.at(day.noon_elevation_deg));
            heights[0].abs_diff(heights[1]) < TEXT.unsigned_abs() * 3 / 2
        };
        let rises = day.noon_elevation_deg > SUNRISE_ALTITUDE_DEG;
        if rises && !named.iter().any(apart) {
            named.push(day);
        }
    }
    for day in named {
        path(picture, scales, place, day, Stroke::solid(INK, 4));
        let sun = SunDay::new(place, day.date.into());
        let noon = scales.on_scale(sun.direction(day.noon).azimuth_deg());
        let (x, y) = scales.at(noon, day.noon_elevation_deg);
        let date = answer.document.season.name_of(day.date);
        let label = Text::new((x, y - TEXT * 3 / 4), date, Align::Middle);
        picture.text_on_paper(label);
    }
}

/// Names of cameras under their facings; gives the lower end of it all.
fn facings(
    picture: &mut Picture,
    scales: &Scales,
    frame: &Frame,
    top: i32,
    lenses: &[Lens<'_>],
) -> i32 {
    let names: Vec<(i32, Text, Span)> = lenses
        .iter()
        .map(|(name, sun)| {
            let x = scales.directions.at(scales.on_scale(sun.facing_deg));
            let name = format!("{name} {:.0}°", sun.facing_deg);
            let text = Text::new((0, 0), name, Align::Left).within(frame.width() / 3);
            let length = width_of(&text.text, TEXT);
            let span = Span {
                start: x - length / 2,
                length,
            };
            (x, text, span.between(frame.left, frame.right))
        })
        .collect();
    let spans: Vec<Span> = names.iter().map(|(_, _, span)| *span).collect();
    let rows = labels::rows(&spans, TEXT / 2);
    let mut bottom = top;
    for ((x, text, span), row) in names.into_iter().zip(rows) {
        // Rows of at most twelve cameras, so it fits.
        let y = top + row as i32 * TEXT_LINE;
        picture.path(
            [(x, frame.bottom - 26), (x, frame.bottom)],
            Stroke::solid(INK, 6),
        );
        picture.text(Text {
            at: (span.start, y),
            ..text
        });
        bottom = bottom.max(y);
    }
    bottom + TEXT_LINE / 2
}
