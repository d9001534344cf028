//! The share of the paths in which a camera still does what it is there for.

use overwinter_line::line::Season;
use overwinter_line::odds::Ends;
use overwinter_line::words::day_of_year;
use overwinter_model::Time;
use plotters::style::RGBColor;

use super::super::super::axis::{Frame, Scale};
use super::super::super::dates::DateAxis;
use super::super::super::picture::{
    Align, INK, LINE, Picture, Point, SOFT, Stroke, TEXT, Text, width_of,
};
use super::super::panel::CHARGE_FILL;
use super::super::shape::Shape;
use super::{COLUMN, SWATCH, Seen};

/// Told apart from [`CHARGE_FILL`] by lightness, in grey too.
const NIGHT_FILL: RGBColor = RGBColor(0x7f, 0xad, 0xca);
const LINE_OVER: Stroke = Stroke::solid(INK, 4);
const GUIDE: Stroke = Stroke::solid(SOFT, 2).dashed(6, 10);

/// Shares of the paths that still have it on the dates that are told.
const TOLD: [f64; 2] = [0.9, 0.5];

/// Fewer cards than this that fill up are not worth a line.
const FEW: f64 = 0.01;

/// Something that a camera still does, until it ends.
pub(super) struct Still<'a> {
    what: &'static str,
    shape: Shape,
    /// Of the area under its line; else the line is dashed.
    fill: Option<RGBColor>,
    ends: &'a Ends,
}

impl<'a> Still<'a> {
    /// What a camera does: areas first, the larger one first.
    pub(super) fn of_camera(seen: &Seen<'a>) -> Vec<Self> {
        let sampled = seen.sampled;
        let still = |what, shape, fill, ends| Self {
            what,
            shape,
            fill,
            ends,
        };
        let mut all = vec![still(
            "alive",
            Shape::Cross,
            Some(CHARGE_FILL),
            &sampled.dead,
        )];
        if let Some(ends) = &sampled.night_pictures {
            all.push(still(
                "night pictures",
                Shape::Triangle,
                Some(NIGHT_FILL),
                ends,
            ));
        }
        if let Some(ends) = &sampled.uploads {
            all.push(still("uploads", Shape::Square, None, ends));
        }
        if sampled.card_full.ended_share(f64::INFINITY) >= FEW {
            all.push(still(
                "room on card",
                Shape::Diamond,
                None,
                &sampled.card_full,
            ));
        }
        all
    }

    /// Share of the paths that still have it so many days after the start.
    fn share(&self, days: f64) -> f64 {
        1.0 - self.ends.ended_share(days)
    }

    /// The last good day before fewer than `share` of the paths have it, and its year.
    fn last_day(&self, season: &Season, share: f64) -> (String, Option<i32>) {
        match self.ends.days_at(1.0 - share) {
            None => ("the end".to_owned(), None),
            Some(days) if days < 1.0 => ("no day".to_owned(), None),
            Some(days) => {
                let day = season.last_good_day(Time::from_days(days));
                (day_of_year(day), Some(day.year()))
            }
        }
    }
}

/// A line of text for each with its last days, below a line that says in how many paths; in a season
/// longer than a year their years below them, since both in one line would not fit. Gives how many
/// lines.
pub(super) fn last_days(
    picture: &mut Picture,
    season: &Season,
    (left, mut y): Point,
    still: &[Still<'_>],
) -> i32 {
    let right = left + COLUMN;
    let step = width_of("the end", TEXT) + 10;
    let places = [right - step, right];
    let top = y;
    picture.text(Text::new((left + SWATCH + 16, y), "until", Align::Left).colour(SOFT));
    for (place, share) in places.into_iter().zip(TOLD) {
        let head = format!("in {:.0} %", 100.0 * share);
        picture.text(Text::new((place, y), head, Align::Right).colour(SOFT));
    }
    y += LINE;
    for still in still {
        still.swatch(picture, (left, y));
        picture.text(Text::new((left + SWATCH + 16, y), still.what, Align::Left));
        let mut next = y + LINE;
        for (place, share) in places.into_iter().zip(TOLD) {
            let (day, year) = still.last_day(season, share);
            picture.text(Text::new((place, y), day, Align::Right));
            if let Some(year) = year.filter(|_| season.is_long()) {
                let below = (place, y + LINE);
                picture.text(Text::new(below, year.to_string(), Align::Right));
                next = y + 2 * LINE;
            }
        }
        y = next;
    }
    (y - top) / LINE
}

impl Still<'_> {
    fn swatch(&self, picture: &mut Picture, (x, y): Point) {
        if let Some(fill) = self.fill {
            picture.block((x, y - 20), (x + SWATCH, y + 20), fill);
        } else {
            picture.path([(x, y), (x + SWATCH, y)], LINE_OVER.dashed(14, 8));
        }
        self.shape.draw(picture, (x + SWATCH / 2, y));
    }

    fn course(&self, dates: &DateAxis, scale: &Scale, days: i32) -> Vec<Point> {
        let days = (0..=days).map(f64::from);
        days.map(|days| (dates.scale.at(days), scale.at(self.share(days))))
            .collect()
    }
}

/// Draws a camera's frame.
pub(super) fn draw(
    picture: &mut Picture,
    frame: &Frame,
    dates: &DateAxis,
    season: &Season,
    still: &[Still<'_>],
) {
    let scale = frame.upward(0.0..1.0);
    let courses = still
        .iter()
        .map(|still| still.course(dates, &scale, season.days()));
    let courses: Vec<_> = courses.collect();
    for (still, course) in still.iter().zip(&courses) {
        if let Some(fill) = still.fill {
            let ground = [(frame.right, frame.bottom), (frame.left, frame.bottom)];
            picture.area(course.iter().copied().chain(ground), fill);
        }
    }
    dates.grid(picture, frame);
    frame.left_values(picture, &frame.upward(0.0..100.0));
    for share in TOLD {
        picture.path(frame.across(scale.at(share)), GUIDE);
    }
    for (still, course) in still.iter().zip(courses) {
        let stroke = match still.fill {
            Some(_) => LINE_OVER,
            None => LINE_OVER.dashed(14, 8),
        };
        picture.path(course, stroke);
    }
    frame.border(picture);
    for still in still {
        for share in TOLD {
            if let Some(days) = still.ends.days_at(1.0 - share) {
                let at = (dates.scale.at(days), scale.at(share));
                still.shape.draw(picture, at);
            }
        }
    }
}
