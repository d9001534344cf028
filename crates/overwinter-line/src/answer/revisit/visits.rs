//! Going round the whole line again and again: how often in a season, and what it costs.

use time::{Date, Duration};

use super::risk::{Latest, Risk};
use crate::host::{Host, Work};
use crate::line::{Camera, Line, PackChoice, Season};
use crate::odds::{LineOdds, OddsError, Paths, sample_line};
use crate::run::SeasonAir;

/// A visit of all cameras: fresh cells and an empty card in each.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Visit {
    /// The day.
    pub(super) day: Date,
    /// Days since the visit before, or since the season began.
    pub(super) interval_days: u32,
    /// Share of the paths that have lost pictures by the end of that day, since the visit before.
    pub(super) risk: f64,
}

/// The visits of a season.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Visits {
    /// As many as it takes.
    Planned {
        /// In their order; none where the line outlives the season.
        visits: Vec<Visit>,
        /// The risk from the last visit to the season's end.
        risk_after: f64,
    },
    /// From this day on, the line would have to be visited more than once a day.
    NotEvenDaily(Date),
}

impl Visits {
    /// How many, if a visit a day is enough.
    pub(super) fn count(&self) -> Option<usize> {
        match self {
            Self::Planned { visits, .. } => Some(visits.len()),
            Self::NotEvenDaily(_) => None,
        }
    }

    /// The risk of losing anything in the whole season, if every visit comes on its day: one minus
    /// the product of what is kept in each stretch, as if one stretch told nothing of the next.
    pub(super) fn season_risk(&self) -> Option<f64> {
        match self {
            Self::Planned { visits, risk_after } => {
                let kept: f64 = visits.iter().map(|visit| 1.0 - visit.risk).product();
                Some(1.0 - kept * (1.0 - risk_after))
            }
            Self::NotEvenDaily(_) => None,
        }
    }
}

/// What visits cost, as far as the line file says.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Cost {
    /// The walks.
    pub(super) walks: Option<f64>,
    /// The cells, if every camera gets a fresh set on each of them.
    pub(super) all_cells: Option<f64>,
    /// The cells, if a camera gets a fresh set only where it is due.
    pub(super) due_cells: Option<f64>,
}

/// How visits are worked out.
pub(super) struct Walks<'a> {
    /// The risk that is taken.
    pub(super) risk: Risk,
    pub(super) paths: Paths,
    pub(super) host: Host<'a>,
    /// Steps are days.
    pub(super) work: &'a Work<'a>,
}

impl Walks<'_> {
    /// Samples every camera of a line on its own cells.
    ///
    /// # Errors
    /// [`OddsError`].
    pub(super) fn sample(&self, line: &Line) -> Result<LineOdds, OddsError> {
        let cameras: Vec<(&Camera, &PackChoice)> = line
            .cameras
            .iter()
            .map(|camera| (camera, &camera.pack))
            .collect();
        sample_line(
            line,
            &SeasonAir::new(line),
            &cameras,
            self.paths,
            &self.host,
        )
    }

    /// Visits the line each time on the latest day within the risk that any camera has lost pictures,
    /// the first time on `first`. Each stretch is sampled from its own first day on.
    ///
    /// # Errors
    /// [`OddsError`].
    pub(super) fn visits(&self, line: &Line, first: Latest) -> Result<Visits, OddsError> {
        let mut visits = Vec::new();
        let mut start = line.season.start;
        let mut latest = first;
        loop {
            let (days, risk_then) = match latest {
                Latest::NoVisit { risk: risk_after } => {
                    return Ok(Visits::Planned { visits, risk_after });
                }
                Latest::Day { days, risk, .. } => (days, risk),
            };
            if days == 0 {
                return Ok(Visits::NotEvenDaily(start));
            }
            self.work.advance(days as usize);
            start += Duration::days(i64::from(days));
            visits.push(Visit {
                day: start,
                interval_days: days,
                risk: risk_then,
            });
            latest = self.next(line, start, days)?;
        }
    }

    /// On how many of the line's `visits` a camera is due: its own latest day, the first of them
    /// `first`, comes before the next visit. `alone` is the line with that camera only.
    ///
    /// # Errors
    /// [`OddsError`].
    pub(super) fn due(
        &self,
        alone: &Line,
        visits: &[Visit],
        first: Latest,
    ) -> Result<u32, OddsError> {
        let last_day = |start: Date, latest: Latest| {
            let days = latest.days()?;
            Some(start + Duration::days(i64::from(days)))
        };
        let mut times = 0;
        let mut within = last_day(alone.season.start, first);
        for (place, visit) in visits.iter().enumerate() {
            let Some(last) = within else {
                break;
            };
            let beyond = |next: &Visit| next.day > last;
            if visits.get(place + 1).is_none_or(beyond) {
                times += 1;
                let latest = self.next(alone, visit.day, visit.interval_days)?;
                within = last_day(visit.day, latest);
            }
        }
        Ok(times)
    }

    /// When to be back after a visit on `start`. It looks twice as far ahead as the interval before,
    /// and further only if that is within the risk: a whole season for each visit would take long.
    fn next(&self, line: &Line, start: Date, before: u32) -> Result<Latest, OddsError> {
        let mut ahead = before.max(7);
        loop {
            ahead = ahead.saturating_mul(2);
            let horizon = start.checked_add(Duration::days(i64::from(ahead)));
            let end = horizon.map_or(line.season.end, |end| end.min(line.season.end));
            let stretch = Line {
                season: Season { start, end },
                ..line.clone()
            };
            let odds = self.sample(&stretch)?;
            let days = stretch.season.days().unsigned_abs();
            let latest = Latest::new(&odds.line_broken, days, self.risk);
            if latest.days().is_some() || end == line.season.end {
                return Ok(latest);
            }
        }
    }
}

impl Cost {
    /// Of so many visits, on so many of which each camera is due.
    pub(super) fn of(line: &Line, visits: usize, due: &[u32]) -> Self {
        let times = visits as f64;
        let set = |camera: &Camera| {
            let pack = &camera.pack;
            line.prices.of(&pack.cell.name, pack.count())
        };
        let all = line.cameras.iter().map(set);
        let cameras = line.cameras.iter().zip(due);
        let due = cameras.map(|(camera, due)| Some(set(camera)? * f64::from(*due)));
        Self {
            walks: line.prices.per_visit.map(|price| price * times),
            all_cells: all.sum::<Option<f64>>().map(|price| price * times),
            due_cells: due.sum(),
        }
    }
}
