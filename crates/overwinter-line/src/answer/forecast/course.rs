//! The season of each camera by its days, for pictures.

use overwinter_model::season::{End, Ending, Outcome};
use overwinter_model::{Temperature, Voltage};
use serde::Serialize;

use crate::answer::document::SetDocument;
use crate::answer::ends::{HALF, NINE_TENTHS, TENTH};
use crate::line::{Camera, Charges, Line, Supply};
use crate::odds::{Ends, Lost, Odds};
use crate::run::{CameraRun, DayTrace, SeasonAir};

/// The season by its days.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Course {
    /// Mean temperature of each day, and as cold as it got or an ordinary one gets.
    pub air: Vec<(Temperature, Temperature)>,
    /// How many cameras the line has.
    pub of_cameras: usize,
    /// All of them in their order, or of too many those that end first, in the order in which they end.
    pub cameras: Vec<CameraCourse>,
}

/// A camera's season by its days.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct CameraCourse {
    /// Its name.
    pub name: String,
    /// Its cells.
    pub set: SetDocument,
    /// Whether it has a modem.
    pub has_modem: bool,
    /// Its battery input.
    pub supply: Supply,
    /// Watt-hours that its panel's store holds, if it has one.
    pub store_wh: Option<f64>,
    /// What became of it along the path.
    pub outcome: Outcome,
    /// The same day by day.
    pub days: Vec<DayTrace>,
    /// Over the sampled seasons, if they were asked for.
    pub sampled: Option<SampledCourse>,
}

/// Sampled seasons of a camera by their days.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SampledCourse {
    /// Charge left at the end of each day, 0 to 1: what a tenth, half and nine tenths of the seasons stay under.
    pub charge: Vec<[f64; 3]>,
    /// What is in a panel's store at the end of each day, watt-hours, mean of the seasons.
    pub in_store_wh: Vec<f64>,
    /// When it was dead.
    pub dead: Ends,
    /// When night pictures ended, where there is a flash.
    pub night_pictures: Option<Ends>,
    /// When uploads ended, where anything is sent.
    pub uploads: Option<Ends>,
    /// When the card was full.
    pub card_full: Ends,
}

impl Course {
    /// Of the cameras with these numbers.
    pub(super) fn of(
        line: &Line,
        air: &SeasonAir,
        runs: &[CameraRun],
        odds: Option<&[Odds]>,
        shown: &[usize],
    ) -> Self {
        let cameras = shown.iter().filter_map(|&number| {
            let (camera, run) = (line.cameras.get(number)?, runs.get(number)?);
            let odds = odds.and_then(|odds| odds.get(number));
            Some(CameraCourse::of(camera, run, odds))
        });
        Self {
            air: air.days().collect(),
            of_cameras: line.cameras.len(),
            cameras: cameras.collect(),
        }
    }
}

impl CameraCourse {
    fn of(camera: &Camera, run: &CameraRun, odds: Option<&Odds>) -> Self {
        let store = camera.panel.as_ref().filter(|panel| {
            // A pack that is charged is its own store.
            panel.charges(&camera.pack) == Charges::Store
        });
        Self {
            name: camera.name.clone(),
            set: (&run.pack).into(),
            has_modem: camera.kind.has_modem(),
            supply: camera.supply,
            store_wh: store.map(|panel| panel.store.capacity.as_watt_hours()),
            outcome: run.outcome,
            days: run.days.clone(),
            sampled: odds.map(|odds| SampledCourse::of(camera, odds)),
        }
    }

    /// The lowest voltage of each day under any event that may have come.
    pub fn lowest(&self) -> impl Iterator<Item = Option<Voltage>> + '_ {
        self.days.iter().map(|day| day.lowest)
    }
}

impl SampledCourse {
    fn of(camera: &Camera, odds: &Odds) -> Self {
        let shares = [TENTH, HALF, NINE_TENTHS];
        let charge = (0..).map_while(|day| {
            let [low, median, high] = shares.map(|share| odds.charge.at(day, share));
            Some([low?, median?, high?])
        });
        let paths = odds.lost[Lost::Camera].paths();
        let in_store = (0..).map_while(|day| odds.sun.in_store_wh(day, paths));
        let lit = camera.draw.night_trigger.is_lit();
        Self {
            charge: charge.collect(),
            in_store_wh: in_store.collect(),
            dead: odds.lost[Lost::Camera].clone(),
            night_pictures: lit.then(|| odds.lost[Lost::NightPictures].clone()),
            uploads: camera.sends().then(|| odds.lost[Lost::Uploads].clone()),
            card_full: odds.lost[Lost::CardRoom].clone(),
        }
    }
}

/// Numbers of the cameras that are shown by the day: all in their order, or of more than `most` those that
/// end first, in the order in which they end.
pub(super) fn shown(runs: &[CameraRun], most: usize) -> Vec<usize> {
    let mut cameras: Vec<usize> = (0..runs.len()).collect();
    if cameras.len() > most {
        cameras.sort_by(|&a, &b| {
            let (a, b) = (end_days(&runs[a].outcome), end_days(&runs[b].outcome));
            a.partial_cmp(&b).unwrap_or(std::cmp::Ordering::Equal)
        });
        cameras.truncate(most);
    }
    cameras
}

/// When a camera is dead, else when it first fails in something, else never.
fn end_days(outcome: &Outcome) -> [f64; 2] {
    let days = |end: Option<End>| end.map_or(f64::INFINITY, |end| end.after.as_days());
    let night = days(outcome.ends[Ending::NightPictures]);
    [
        days(outcome.ends[Ending::Camera]),
        night.min(days(outcome.ends[Ending::Uploads])),
    ]
}
