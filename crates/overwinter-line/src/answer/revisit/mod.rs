//! `revisit`: the latest day to be back at a stated risk, for each camera and for the line.

mod document;
mod risk;
mod visits;

pub use document::{
    CameraRevisit, DueDocument, EarliestCamera, LatestDocument, LineRevisit, Revisit,
    RevisitDetails, RevisitDocument, VisitDocument, VisitsDocument,
};
pub use risk::Risk;

use super::refused;
use super::request::LineRequest;
use crate::host::Host;
use crate::line::{Camera, Line};
use crate::odds::{Ends, LineOdds, Lost, OddsError, Paths};
use crate::problem::Failure;
use risk::{Latest, by_end_of};
use visits::{Cost, Visit, Visits, Walks};

/// What is asked for.
#[derive(Clone, Debug, PartialEq)]
pub struct RevisitRequest {
    /// The line.
    pub line: LineRequest,
    /// The risk that is taken.
    pub risk: Risk,
    /// Which seasons are sampled.
    pub paths: Paths,
}

/// When to be back.
struct Plan<'a> {
    /// The line.
    line: &'a Line,
    /// The risk that is taken.
    risk: Risk,
    /// How the odds were sampled.
    paths: Paths,
    /// The odds of the whole season on one set of cells.
    odds: LineOdds,
    /// The latest day of each camera, and the visits of a season in which it is visited alone.
    cameras: Vec<(Latest, Visits)>,
    /// The latest day on which the risk that any camera has lost pictures is within what is taken.
    any: Latest,
    /// The visits of a season in which the line is visited each time on that day.
    visits: Visits,
    /// On how many of these visits each camera is due for a fresh set.
    due: Vec<u32>,
}

/// Works out when to be back so that no more than `risk` of the seasons have lost pictures before:
/// night pictures without enough light, a full card, or a dead camera.
///
/// # Errors
/// [`Failure::Request`] if the line cannot be sampled.
pub fn answer(line: &Line, request: &RevisitRequest, host: &Host<'_>) -> Result<Revisit, Failure> {
    plan(line, request.risk, request.paths, host).map(|plan| Revisit::of(&plan))
}

fn plan<'a>(
    line: &'a Line,
    risk: Risk,
    paths: Paths,
    host: &Host<'_>,
) -> Result<Plan<'a>, Failure> {
    let season_days = line.season.days().unsigned_abs();
    let seasons = 2 + line.cameras.len();
    let work = host.begin(Some(seasons * season_days as usize), "days sampled");
    let walks = Walks {
        risk,
        paths,
        host: host.unwatched(),
        work: &work,
    };
    let odds = walks.sample(line).map_err(refused)?;
    work.advance(season_days as usize);
    let visits = |line: &Line, ends: &Ends| {
        let first = Latest::new(ends, season_days, risk);
        let visits = walks.visits(line, first);
        visits.map(|visits| (first, visits)).map_err(refused)
    };
    let (any, together) = visits(line, &odds.line_broken)?;
    let cameras = line.cameras.iter().zip(&odds.cameras);
    let cameras = cameras.map(|(camera, odds)| match line.cameras.len() {
        1 => Ok((any, together.clone())),
        _ => visits(&alone(line, camera), &odds.lost[Lost::Record]),
    });
    let cameras: Vec<(Latest, Visits)> = cameras.collect::<Result<_, _>>()?;
    Ok(Plan {
        due: due(line, &cameras, &together, &walks).map_err(refused)?,
        cameras,
        line,
        risk,
        paths,
        odds,
        any,
        visits: together,
    })
}

/// On how many visits of the line each of its cameras is due.
fn due(
    line: &Line,
    cameras: &[(Latest, Visits)],
    together: &Visits,
    walks: &Walks<'_>,
) -> Result<Vec<u32>, OddsError> {
    let Visits::Planned { visits, .. } = together else {
        return Ok(Vec::new());
    };
    let cameras = line.cameras.iter().zip(cameras);
    let due = cameras.map(|(camera, (first, _))| walks.due(&alone(line, camera), visits, *first));
    due.collect()
}

/// A line of one camera.
fn alone(line: &Line, camera: &Camera) -> Line {
    Line {
        cameras: vec![camera.clone()],
        ..line.clone()
    }
}

impl Plan<'_> {
    /// The date of a latest day, if a visit is needed.
    fn date(&self, latest: Latest) -> Option<time::Date> {
        let days = latest.days()?;
        // A season is at most 1200 days long.
        let days = i32::try_from(days).unwrap_or(i32::MAX);
        Some(self.line.season.first_day().plus(days).date())
    }

    /// The camera that needs a visit first, with its latest day.
    fn earliest(&self) -> Option<(&str, Latest)> {
        let cameras = self.line.cameras.iter().zip(&self.cameras);
        let needing = cameras.filter_map(|(camera, (latest, _))| {
            let days = latest.days()?;
            Some((days, camera.name.as_str(), *latest))
        });
        let first = needing.min_by_key(|(days, ..)| *days);
        first.map(|(_, name, latest)| (name, latest))
    }
}
