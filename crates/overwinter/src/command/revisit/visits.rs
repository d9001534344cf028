//! Going round the whole line again and again: how often in a season, and what it costs.

use time::{Date, Duration};

use super::risk::{Latest, Risk};
use crate::line::{Camera, Line, PackChoice, Season};
use crate::odds::{LineOdds, OddsError, Paths, sample_line};
use crate::progress::Progress;
use crate::run::SeasonAir;

/// A visit of all cameras: fresh cells and an empty card in each.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Visit {
    /// The day.
    pub day: Date,
    /// Days since the visit before, or since the season began.
    pub interval_days: u32,
}

/// The visits of a season.
#[derive(Clone, Debug, PartialEq)]
pub enum Visits {
    /// In their order; none where the line outlives the season.
    Planned(Vec<Visit>),
    /// From this day on, the line would have to be visited more than once a day.
    NotEvenDaily(Date),
}

impl Visits {
    /// How many, if a visit a day is enough.
    #[must_use]
    pub fn count(&self) -> Option<usize> {
        match self {
            Self::Planned(visits) => Some(visits.len()),
            Self::NotEvenDaily(_) => None,
        }
    }
}

/// What visits cost, as far as the line file says.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cost {
    /// The walks.
    pub walks: Option<f64>,
    /// The cells that are put in on them.
    pub cells: Option<f64>,
}

/// Samples every camera of a line on its own cells.
///
/// # Errors
/// [`OddsError`].
pub(super) fn sample(line: &Line, paths: Paths) -> Result<LineOdds, OddsError> {
    let cameras: Vec<(&Camera, &PackChoice)> = line
        .cameras
        .iter()
        .map(|camera| (camera, &camera.pack))
        .collect();
    sample_line(line, &SeasonAir::new(line), &cameras, paths)
}

/// Visits the line each time on the latest day within the risk that any camera has lost pictures,
/// the first time on `first`. Each stretch is sampled from its own first day on.
///
/// # Errors
/// [`OddsError`].
pub(super) fn visits(
    line: &Line,
    first: Latest,
    risk: Risk,
    paths: Paths,
    progress: &Progress,
) -> Result<Visits, OddsError> {
    let mut visits = Vec::new();
    let mut start = line.season.start;
    let mut latest = first;
    while let Latest::Day { days, .. } = latest {
        if days == 0 {
            return Ok(Visits::NotEvenDaily(start));
        }
        progress.advance(days as usize);
        start += Duration::days(i64::from(days));
        visits.push(Visit {
            day: start,
            interval_days: days,
        });
        latest = next(line, start, days, risk, paths)?;
    }
    Ok(Visits::Planned(visits))
}

/// When to be back after a visit on `start`. It looks twice as far ahead as the interval before,
/// and further only if that is within the risk: a whole season for each visit would take long.
fn next(
    line: &Line,
    start: Date,
    before: u32,
    risk: Risk,
    paths: Paths,
) -> Result<Latest, OddsError> {
    let mut ahead = before.max(7);
    loop {
        ahead = ahead.saturating_mul(2);
        let horizon = start.checked_add(Duration::days(i64::from(ahead)));
        let end = horizon.map_or(line.season.end, |end| end.min(line.season.end));
        let stretch = Line {
            season: Season { start, end },
            ..line.clone()
        };
        let odds = sample(&stretch, paths)?;
        let days = stretch.season.days().unsigned_abs();
        let latest = Latest::new(&odds.line_broken, days, risk);
        if latest != Latest::NoVisit || end == line.season.end {
            return Ok(latest);
        }
    }
}

impl Cost {
    /// Of so many visits.
    #[must_use]
    pub fn of(line: &Line, visits: usize) -> Self {
        let times = visits as f64;
        let sets = line
            .cameras
            .iter()
            .map(|camera| line.prices.of(&camera.pack.cell.name, camera.pack.count()));
        Self {
            walks: line.prices.per_visit.map(|price| price * times),
            cells: sets.sum::<Option<f64>>().map(|price| price * times),
        }
    }
}
