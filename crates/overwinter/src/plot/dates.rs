//! The date axis of a season.

use overwinter_line::line::Season;
use overwinter_line::words::day_of_year;
use time::{Date, Month};

use super::axis::{Frame, Scale, THIN};
use super::picture::{Align, LINE, Picture, SOFT, Stroke, TEXT, Text, width_of};

/// A season this short is labelled by days in place of months.
const FEW_DAYS: i32 = 45;

/// The dates of a season along a frame.
pub(super) struct DateAxis {
    /// Days since the season began.
    pub(super) scale: Scale,
    /// Where lines go down.
    ticks: Vec<i32>,
    /// Middle and text.
    labels: Vec<(i32, String)>,
    years: Vec<(i32, String)>,
}

impl DateAxis {
    pub(super) fn new(season: &Season, frame: &Frame) -> Self {
        let scale = frame.rightward(0.0..f64::from(season.days()));
        let (ticks, labels) = if season.days() <= FEW_DAYS {
            by_days(season, frame, &scale)
        } else {
            by_months(season, frame, &scale)
        };
        let years = year_labels(season, &scale);
        Self {
            scale,
            ticks,
            labels,
            years,
        }
    }

    /// Lines down through a frame.
    pub(super) fn grid(&self, picture: &mut Picture, frame: &Frame) {
        for &x in &self.ticks {
            picture.path(frame.down(x), THIN);
        }
    }

    /// Dates and years below a frame.
    pub(super) fn labels(&self, picture: &mut Picture, bottom: i32) {
        for &x in &self.ticks {
            picture.path([(x, bottom), (x, bottom + 12)], Stroke::solid(SOFT, 2));
        }
        let rows = [
            (&self.labels, bottom + 40),
            (&self.years, bottom + 40 + LINE),
        ];
        for (labels, y) in rows {
            for (x, label) in labels {
                picture.text(Text::new((*x, y), label, Align::Middle));
            }
        }
    }
}

/// Height of dates and years.
pub(super) const LABELS_HEIGHT: i32 = 2 * LINE + 20;

type Marks = (Vec<i32>, Vec<(i32, String)>);

/// A tick every so many days, labelled where it stands.
fn by_days(season: &Season, frame: &Frame, scale: &Scale) -> Marks {
    let room = width_of("30 Nov", TEXT) + TEXT / 2;
    let day_width = f64::from(frame.width()) / f64::from(season.days());
    let step = [1, 2, 7, 14]
        .into_iter()
        .find(|&step| f64::from(step) * day_width >= f64::from(room))
        .unwrap_or(21);
    let days = (0..season.days()).step_by(step as usize);
    days.map(|day| {
        let x = scale.at(f64::from(day));
        let date = season.first_day().plus(day).date();
        (x, (x, day_of_year(date)))
    })
    .unzip()
}

/// A tick at the start of each month, its name between it and the next where there is room; in a
/// long season one every few months, named where it stands.
fn by_months(season: &Season, frame: &Frame, scale: &Scale) -> Marks {
    let room = width_of("May", TEXT);
    let month_width = f64::from(frame.width()) * 30.0 / f64::from(season.days());
    let every = [1, 3, 6]
        .into_iter()
        .find(|&months| f64::from(months) * month_width >= f64::from(room + 12))
        .unwrap_or(12);
    let mut ticks = Vec::new();
    let mut labels = Vec::new();
    for (days, month) in parts(season, |date| date.month()) {
        let from = scale.at(f64::from(days.start));
        let to = scale.at(f64::from(days.end));
        let starts_here = days.start > 0 && (u8::from(month) - 1).is_multiple_of(every);
        if starts_here {
            ticks.push(from);
        }
        if every == 1 && to - from >= room {
            labels.push((i32::midpoint(from, to), name(month)));
        } else if every > 1 && starts_here {
            labels.push((from, name(month)));
        }
    }
    (ticks, labels)
}

fn year_labels(season: &Season, scale: &Scale) -> Vec<(i32, String)> {
    let room = width_of("2000", TEXT);
    let years = parts(season, Date::year).into_iter();
    years
        .map(|(days, year)| (scale.at(days.start.into()), scale.at(days.end.into()), year))
        .filter(|(from, to, _)| to - from >= room)
        .map(|(from, to, year)| (i32::midpoint(from, to), year.to_string()))
        .collect()
}

/// The season cut wherever `of` changes: days since its start, and the value there.
fn parts<T: PartialEq>(season: &Season, of: impl Fn(Date) -> T) -> Vec<(std::ops::Range<i32>, T)> {
    let mut parts: Vec<(std::ops::Range<i32>, T)> = Vec::new();
    for day in 0..season.days() {
        let value = of(season.first_day().plus(day).date());
        match parts.last_mut() {
            Some((days, same)) if *same == value => days.end = day + 1,
            _ => parts.push((day..day + 1, value)),
        }
    }
    parts
}

/// The first three letters, as in `Nov`.
fn name(month: Month) -> String {
    month.to_string().chars().take(3).collect()
}
