//! The answer: when to be back.

use serde::Serialize;

use super::{Cost, Latest, Plan, Visit, Visits, by_end_of};
use crate::answer::document::{IsoDate, Rounded, SetDocument};
use crate::answer::path::replayed;
use crate::line::Season;
use crate::odds::{Ends, Lost};

/// The answer.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Revisit {
    /// What a script reads.
    pub document: RevisitDocument,
    /// What is said beyond that.
    pub details: RevisitDetails,
}

/// Latest days, the risk by the end of each day, and the visits of a season.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct RevisitDocument {
    /// What the site is called.
    pub site: String,
    /// First day of the season.
    pub season_start: IsoDate,
    /// Length of the season.
    pub season_days: i32,
    /// The risk that is taken, a share.
    pub risk: Rounded<6>,
    /// Its standard error on so many seasons.
    pub risk_standard_error: Rounded<5>,
    /// How many seasons were sampled.
    pub paths: u32,
    /// From which seed.
    pub seed: u64,
    /// The cameras in their order.
    pub cameras: Vec<CameraRevisit>,
    /// The line as a whole.
    pub line: LineRevisit,
    /// The visits of the season; none where not even a visit a day keeps within the risk.
    pub visits: Option<VisitsDocument>,
}

/// When to be back at a camera, visited alone.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct CameraRevisit {
    /// Its name.
    pub name: String,
    /// The latest day.
    #[serde(flatten)]
    pub latest: LatestDocument,
    /// How many visits the season takes; none where a visit a day would not do.
    pub visits: Option<usize>,
    /// The risk that the season loses anything, with every visit on its latest day.
    pub season_risk: Option<Rounded<4>>,
}

/// When to be back at any camera.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct LineRevisit {
    /// The latest day.
    #[serde(flatten)]
    pub latest: LatestDocument,
    /// The camera that needs a visit first.
    pub earliest_camera: Option<EarliestCamera>,
    /// The risk that the season loses anything, with every visit on its latest day.
    pub season_risk: Option<Rounded<4>>,
}

/// A camera that needs a visit first.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct EarliestCamera {
    /// Its name.
    pub name: String,
    /// Its latest day.
    pub latest_day: Option<IsoDate>,
}

/// A latest day, and the risk by day.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct LatestDocument {
    /// The day; none where no visit is needed.
    pub latest_day: Option<IsoDate>,
    /// Days after the season's start.
    pub latest_days: Option<u32>,
    /// Whether the season's end does not come within the risk.
    pub visit_needed: bool,
    /// The risk at the end of that day, or of the season.
    pub risk_then: Rounded<4>,
    /// The risk at the end of the day after, which is more than is taken.
    pub risk_a_day_later: Option<Rounded<4>>,
    /// The risk by the end of each day of the season, the first that of its start.
    pub risk_by_day: Vec<Rounded<4>>,
}

/// The visits of a season.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct VisitsDocument {
    /// How many.
    pub count: usize,
    /// In their order.
    pub days: Vec<VisitDocument>,
    /// How many fresh sets each camera is due.
    pub fresh_sets_due: Vec<DueDocument>,
    /// What the walks cost.
    pub cost_walks: Option<Rounded<2>>,
    /// What the cells cost, if a set is changed only where it is due.
    pub cost_cells: Option<Rounded<2>>,
    /// What they cost, if every set is changed on each visit.
    pub cost_cells_all_changed: Option<Rounded<2>>,
    /// What stands behind an amount.
    pub currency: String,
}

/// A visit of all cameras.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct VisitDocument {
    /// The day.
    pub date: IsoDate,
    /// Days since the visit before, or since the season began.
    pub interval_days: u32,
    /// The risk by the end of that day, since the visit before.
    pub risk: Rounded<4>,
}

/// How many fresh sets a camera is due.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct DueDocument {
    /// Its name.
    pub camera: String,
    /// How many.
    pub sets: u32,
}

/// What is said beyond the document.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct RevisitDetails {
    /// From when to when.
    pub season: Season,
    /// Where the temperatures come from.
    pub weather: String,
    /// Whether a file's hours are replayed.
    pub replayed: bool,
    /// The set of each camera.
    pub sets: Vec<SetDocument>,
    /// From this day on the line would have to be visited more than once a day.
    pub not_even_daily_from: Option<IsoDate>,
}

impl Revisit {
    pub(super) fn of(plan: &Plan<'_>) -> Self {
        Self {
            document: document(plan),
            details: details(plan),
        }
    }
}

fn document(plan: &Plan<'_>) -> RevisitDocument {
    let line = plan.line;
    let cameras = line.cameras.iter().zip(&plan.odds.cameras);
    let cameras = cameras
        .zip(&plan.cameras)
        .map(|((camera, odds), (latest, visits))| CameraRevisit {
            name: camera.name.clone(),
            latest: latest_document(plan, *latest, &odds.lost[Lost::Record]),
            visits: visits.count(),
            season_risk: visits.season_risk().map(Rounded),
        });
    RevisitDocument {
        site: line.site.clone(),
        season_start: IsoDate(line.season.start),
        season_days: line.season.days(),
        risk: Rounded(plan.risk.share()),
        risk_standard_error: Rounded(plan.risk.standard_error(plan.paths)),
        paths: plan.paths.count,
        seed: plan.paths.seed,
        cameras: cameras.collect(),
        line: LineRevisit {
            latest: latest_document(plan, plan.any, &plan.odds.line_broken),
            earliest_camera: plan.earliest().map(|(name, latest)| EarliestCamera {
                name: name.to_owned(),
                latest_day: plan.date(latest).map(IsoDate),
            }),
            season_risk: plan.visits.season_risk().map(Rounded),
        },
        visits: visits_document(plan),
    }
}

fn latest_document(plan: &Plan<'_>, latest: Latest, ends: &Ends) -> LatestDocument {
    let days = 0..plan.line.season.days().unsigned_abs();
    LatestDocument {
        latest_day: plan.date(latest).map(IsoDate),
        latest_days: latest.days(),
        visit_needed: latest.days().is_some(),
        risk_then: match latest {
            Latest::NoVisit { risk } | Latest::Day { risk, .. } => Rounded(risk),
        },
        risk_a_day_later: match latest {
            Latest::NoVisit { .. } => None,
            Latest::Day { a_day_later, .. } => Some(Rounded(a_day_later)),
        },
        risk_by_day: days.map(|days| Rounded(by_end_of(ends, days))).collect(),
    }
}

fn visits_document(plan: &Plan<'_>) -> Option<VisitsDocument> {
    let Visits::Planned { visits, .. } = &plan.visits else {
        return None;
    };
    let cost = Cost::of(plan.line, visits.len(), &plan.due);
    let cameras = plan.line.cameras.iter().zip(&plan.due);
    let due = cameras.map(|(camera, sets)| DueDocument {
        camera: camera.name.clone(),
        sets: *sets,
    });
    Some(VisitsDocument {
        count: visits.len(),
        days: visits.iter().map(visit_document).collect(),
        fresh_sets_due: due.collect(),
        cost_walks: cost.walks.map(Rounded),
        cost_cells: cost.due_cells.map(Rounded),
        cost_cells_all_changed: cost.all_cells.map(Rounded),
        currency: plan.line.prices.currency.clone(),
    })
}

fn visit_document(visit: &Visit) -> VisitDocument {
    VisitDocument {
        date: IsoDate(visit.day),
        interval_days: visit.interval_days,
        risk: Rounded(visit.risk),
    }
}

fn details(plan: &Plan<'_>) -> RevisitDetails {
    let line = plan.line;
    RevisitDetails {
        season: line.season,
        weather: line.climate.origin.to_string(),
        replayed: replayed(&line.climate.origin),
        sets: line
            .cameras
            .iter()
            .map(|camera| (&camera.pack).into())
            .collect(),
        not_even_daily_from: match &plan.visits {
            Visits::NotEvenDaily(from) => Some(IsoDate(*from)),
            Visits::Planned { .. } => None,
        },
    }
}
