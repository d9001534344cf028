//! `solar`: the smallest panel and store that carry each camera with stated odds.

mod detail;
mod map;
mod options;
mod place;
mod sampler;
mod shortfall;
mod size;
mod wanted;
mod weeks;

pub use detail::{Detail, Why, WithoutSun};
pub use map::{Map, Point};
pub use options::{Choice, Kind};
pub use place::{BestPlane, InPlace, Try};
pub use sampler::Lasting;
pub use shortfall::{Cause, Shortfall};
pub use size::{Size, StoreSize};
pub use wanted::Wanted;
pub use weeks::Week;

use super::refused;
use crate::host::Host;
use crate::line::{Camera, Line, LineFile};
use crate::odds::{OddsError, Paths};
use crate::problem::Failure;
use crate::run::SeasonAir;
use sampler::Sampler;

/// How many seasons are sampled unless it is said: so many sizes are tried that more would take
/// long.
pub const PATHS: u32 = 400;

/// What panels and stores do for the cameras of a line.
pub struct Solar<'a> {
    /// The line.
    pub line: &'a Line,
    /// The odds asked for.
    pub wanted: Wanted,
    /// How they were sampled.
    pub paths: Paths,
    /// Its cameras in their order.
    pub cameras: Vec<Planned>,
}

/// What panels and stores do for a camera.
pub struct Planned {
    /// The camera, with a usual panel of a watt where its file has none.
    pub camera: Camera,
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
    pub fn cells_alone_do(&self, wanted: Wanted) -> bool {
        let alone = self.choices.iter().find(|one| one.kind == Kind::CellsAlone);
        alone.is_some_and(|alone| wanted.reached(alone.lasting.alive))
    }
}

/// The smallest sizes that do; `None` where none of the map does.
#[derive(Clone, Copy, Debug, PartialEq)]
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
pub fn run<'a>(
    file: &LineFile<'_>,
    line: &'a Line,
    wanted: Wanted,
    paths: Paths,
    host: &Host<'_>,
) -> Result<Solar<'a>, Failure> {
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
    let cameras = pairs().map(|(own, camera)| plan(&sampler, own, camera, wanted));
    Ok(Solar {
        cameras: cameras.collect::<Result<_, _>>().map_err(refused)?,
        line,
        wanted,
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
    panels * stores + options::MOST + place::MOST + 2
}

/// `own` as its file has it; `camera` with a panel in any case.
fn plan(
    sampler: &Sampler<'_>,
    own: &Camera,
    camera: &Camera,
    wanted: Wanted,
) -> Result<Planned, OddsError> {
    let size = own_size(own);
    let map = Map::new(sampler, camera, size)?;
    let does =
        |share: fn(&Lasting) -> f64| move |point: &Point| wanted.reached(share(&point.lasting));
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
    Ok(Planned {
        choices: options::choices(sampler, camera, &answer)?,
        detail: Detail::new(sampler, camera, size, &answer, shortfall.as_ref())?,
        camera: camera.clone(),
        own: size,
        map,
        answer,
        shortfall,
    })
}
