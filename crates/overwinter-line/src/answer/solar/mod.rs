//! `solar`: the smallest panel and store that carry each camera with stated odds.

mod detail;
mod map;
mod options;
mod sampler;
mod shortfall;
mod siting;
mod size;
mod target_odds;
mod weeks;

pub use detail::{Detail, Why, WithoutSun};
pub use map::{Map, Point};
pub use options::{Choice, Kind};
pub use sampler::Lasting;
pub use shortfall::{Cause, Shortfall};
pub use siting::{BestPlane, Siting, Try};
pub use size::{Size, StoreSize};
pub use target_odds::TargetOdds;
pub use weeks::Week;

use overwinter_model::harvest::Controller;
use serde::Serialize;

use super::document::SetDocument;
use super::path::replayed;
use super::refused;
use super::request::LineRequest;
use crate::host::Host;
use crate::line::{Camera, Charges, Line, LineFile, Season, Supply};
use crate::odds::{OddsError, Paths};
use crate::problem::Failure;
use crate::run::SeasonAir;
use crate::weak_store;
use sampler::Sampler;

/// How many seasons are sampled unless it is said: so many sizes are tried that more would take
/// long.
pub const PATHS: u32 = 400;

/// What is asked for.
#[derive(Clone, Debug, PartialEq)]
pub struct SolarRequest {
    /// The line.
    pub line: LineRequest,
    /// The odds asked for.
    pub target: TargetOdds,
    /// Which seasons are sampled for each size.
    pub paths: Paths,
}

/// What panels and stores do for the cameras of a line.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Solar {
    /// What the site is called.
    pub site: String,
    /// From when to when.
    pub season: Season,
    /// Where the temperatures come from.
    pub weather: String,
    /// Whether a file's hours are replayed.
    pub replayed: bool,
    /// What stands behind an amount.
    pub currency: String,
    /// The odds asked for.
    pub target: TargetOdds,
    /// How they were sampled.
    pub paths: Paths,
    /// Its cameras in their order.
    pub cameras: Vec<Planned>,
}

/// What panels and stores do for a camera.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Planned {
    /// Its name.
    pub name: String,
    /// Its cells.
    pub set: SetDocument,
    /// Its battery input.
    pub supply: Supply,
    /// How its panel stands; a usual one of a watt where its file has none.
    pub panel: Option<PanelTaken>,
    /// The size in the file.
    pub own: Option<Size>,
    /// Odds of every size.
    pub map: Map,
    /// The smallest that do.
    pub answer: Answer,
    /// Why none does, where none carries it, or none on the panel alone.
    pub shortfall: Option<Shortfall>,
    /// What else could be done.
    pub choices: Vec<Choice>,
    /// One size looked at closely.
    pub detail: Option<Detail>,
    /// What is said of a store that carries the camera alone and is weak in frost.
    pub weak_alone: Option<String>,
    /// What is to be minded of the store that is looked at closely, if it is weak in frost.
    pub weak_detail: Option<String>,
}

/// How a panel stands, and what of that is not in the file.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PanelTaken {
    /// Keys that have an effect and are not in the file.
    pub usual_keys: Vec<&'static str>,
    /// From the horizontal.
    pub tilt_deg: f64,
    /// From north through east.
    pub azimuth_deg: f64,
    /// What a controller that follows the highest power passes on, a share.
    pub controller: Option<f64>,
    /// The cells of its own store, and the share of what comes in that they give back; none where it charges
    /// the pack.
    pub store: Option<(String, f64)>,
    /// How far the temperature of what is charged lags behind the air's.
    pub lag_h: f64,
}

impl PanelTaken {
    fn of(camera: &Camera) -> Option<Self> {
        let panel = camera.panel.as_ref()?;
        let store = &panel.store;
        Some(Self {
            usual_keys: panel.usual.clone(),
            tilt_deg: panel.plane.tilt_deg(),
            azimuth_deg: panel.plane.azimuth_deg(),
            controller: match panel.controller {
                Controller::MaximumPower { efficiency } => Some(efficiency),
                _ => None,
            },
            store: (panel.charges(&camera.pack) == Charges::Store)
                .then(|| (store.cell.name.clone(), store.efficiency)),
            lag_h: panel.lag.as_hours(),
        })
    }
}

impl Planned {
    /// Whether the panel charges the pack, and has no store of its own.
    #[must_use]
    pub fn charges_pack(&self) -> bool {
        let mut stores = self.map.stores.iter();
        stores.any(|store| store.strings.is_some())
    }

    /// The size in the file, and how long it lasts.
    #[must_use]
    pub fn own_lasting(&self) -> Option<(Size, Lasting)> {
        let detail = self.detail.as_ref()?;
        (detail.why == Why::Own).then_some((detail.size, detail.lasting))
    }

    /// Whether the cells last with the odds asked for, without any panel.
    #[must_use]
    pub fn cells_alone_do(&self, target: TargetOdds) -> bool {
        let alone = self.choices.iter().find(|one| one.kind == Kind::CellsAlone);
        alone.is_some_and(|alone| target.reached(alone.lasting.alive))
    }
}

/// The smallest sizes that do; `None` where none of the map does.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Answer {
    /// Alive at the season's end with the odds asked for, on whatever.
    pub smallest: Option<Point>,
    /// The store never empty with these odds; only for a panel with a store of its own.
    pub panel_alone: Option<Point>,
}

/// Tries panels and stores on every camera of `line`, which `file` holds.
///
/// # Errors
/// [`Failure::Request`] if the line cannot be sampled; [`Failure::Input`] if the file has something
/// wrong about panels that a camera does not have yet.
pub fn answer(
    file: &LineFile<'_>,
    line: &Line,
    request: &SolarRequest,
    host: &Host<'_>,
) -> Result<Solar, Failure> {
    let SolarRequest { target, paths, .. } = *request;
    let with_panels = file.with_panels(line)?;
    let air = SeasonAir::new(line);
    let pairs = || line.cameras.iter().zip(&with_panels.cameras);
    let steps = pairs().map(|(own, camera)| candidates(own, camera)).sum();
    let work = host.begin(Some(steps), "panels and stores tried");
    let host = host.unwatched();
    let sampler = Sampler {
        line,
        air: &air,
        paths,
        host: &host,
        work: &work,
    };
    let cameras = pairs().map(|(own, camera)| plan(&sampler, own, camera, target));
    Ok(Solar {
        cameras: cameras.collect::<Result<_, _>>().map_err(refused)?,
        site: line.site.clone(),
        season: line.season,
        weather: line.climate.origin.to_string(),
        replayed: replayed(&line.climate.origin),
        currency: line.prices.currency.clone(),
        target,
        paths,
    })
}

fn own_size(camera: &Camera) -> Option<Size> {
    let panel = camera.panel.as_ref()?;
    Some(Size::of(camera, panel))
}

/// About how many candidates a camera has, for somebody who waits.
fn candidates(own: &Camera, camera: &Camera) -> usize {
    let size = own_size(own);
    let panels = size::panels(size.map(|size| size.panel_w)).len();
    let stores = size::stores(camera, size).len();
    panels * stores + options::MOST + siting::MOST + 2
}

/// `own` as its file has it; `camera` with a panel in any case.
fn plan(
    sampler: &Sampler<'_>,
    own: &Camera,
    camera: &Camera,
    target: TargetOdds,
) -> Result<Planned, OddsError> {
    let size = own_size(own);
    let map = Map::new(sampler, camera, size)?;
    let does =
        |share: fn(&Lasting) -> f64| move |point: &Point| target.reached(share(&point.lasting));
    let alive: fn(&Lasting) -> f64 = |lasting| lasting.alive;
    let never_empty: fn(&Lasting) -> f64 = |lasting| lasting.never_empty;
    let has_store = map.stores.iter().any(|store| store.strings.is_none());
    let answer = Answer {
        smallest: map.smallest(does(alive)),
        panel_alone: map.smallest(does(never_empty)).filter(|_| has_store),
    };
    let lacking = match answer {
        Answer { smallest: None, .. } => Some(alive),
        Answer {
            panel_alone: None, ..
        } if has_store => Some(never_empty),
        _ => None,
    };
    let shortfall = match lacking {
        Some(share) => Shortfall::of(sampler, camera, &map, share)?,
        None => None,
    };
    let detail = Detail::new(sampler, camera, size, &answer, shortfall.as_ref())?;
    let line = sampler.line;
    Ok(Planned {
        choices: options::choices(sampler, camera, &answer)?,
        weak_alone: answer
            .panel_alone
            .and_then(|point| weak_store::beside(line, &point.size.put_on(camera))),
        weak_detail: detail
            .as_ref()
            .and_then(|detail| weak_store::caution(line, &detail.size.put_on(camera))),
        detail,
        name: camera.name.clone(),
        set: (&camera.pack).into(),
        supply: camera.supply,
        panel: PanelTaken::of(camera),
        own: size,
        map,
        answer,
        shortfall,
    })
}
