//! What trees and the turn of a panel do, in the darkest weeks and to the odds.

use std::ops::Range;

use overwinter_model::Energy;
use overwinter_model::harvest::{Canopy, Leaves, Mount, Plane};
use serde::Serialize;

use super::sampler::{Lasting, Sampler};
use crate::host::gather;
use crate::line::{Camera, Line, PanelChoice};
use crate::odds::OddsError;
use crate::run::SeasonAir;

/// The darkest days that are looked at: four weeks.
const DARK_DAYS: usize = 28;

/// Share of the sky overhead that evergreen trees cover.
const COVERS: [f64; 4] = [0.0, 0.25, 0.5, 0.75];

/// Tilts with odds, degrees.
const TILTS_DEG: [f64; 6] = [15.0, 30.0, 45.0, 60.0, 75.0, 90.0];

/// At most so many are sampled here.
pub(super) const MOST: usize = COVERS.len() + TILTS_DEG.len();

/// Steps of the search for the best plane, degrees.
const TILT_STEP_DEG: usize = 5;
const AZIMUTH_STEP_DEG: usize = 15;

/// A panel in another place or turned otherwise, the rest as it is.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Try {
    /// Degrees of tilt, or share of the sky that evergreen trees cover; `None` for the file's own trees
    /// where they are none of these.
    pub value: Option<f64>,
    /// Whether it is the file's own.
    pub own: bool,
    /// Light in the darkest weeks over the file's own; `None` if that has none.
    pub light: Option<f64>,
    /// How long it lasts.
    pub lasting: Lasting,
}

/// The plane that gets most light in the darkest weeks.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct BestPlane {
    /// From the horizontal, degrees.
    pub tilt_deg: f64,
    /// From north through east, degrees.
    pub azimuth_deg: f64,
    /// Its light over that of the file's own plane; `None` if that has none.
    pub light: Option<f64>,
}

/// What a camera's panel could have in the darkest weeks.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Siting {
    /// Those days, from the season's first on.
    pub dark: Range<usize>,
    /// What the panel is expected to bring in them, watt-hours.
    pub own_wh: f64,
    /// Under trees.
    pub trees: Vec<Try>,
    /// Steep and flat.
    pub tilts: Vec<Try>,
    /// The best plane.
    pub best: BestPlane,
}

impl Siting {
    /// Looks about a camera with its panel and store; `own` says how long it lasts as it is.
    pub(super) fn new(
        sampler: &Sampler<'_>,
        camera: &Camera,
        panel: &PanelChoice,
        own: Lasting,
    ) -> Result<Self, OddsError> {
        let (line, air) = (sampler.line, sampler.air);
        let mount = panel.mount(&camera.pack);
        let dark = darkest(line, air, &mount);
        let light = |mount: &Mount| sum(&air.expected_light(line, mount, dark.clone()));
        let own_wh = light(&mount);
        let over_own = |wh: f64| (own_wh > 0.0).then(|| wh / own_wh);
        let tries = |others: Vec<(f64, PanelChoice)>, own_value: Option<f64>| {
            let others = others
                .iter()
                .filter(|(value, _)| own_value.is_none_or(|own| (own - value).abs() > 1e-6));
            let others: Vec<&(f64, PanelChoice)> = others.collect();
            let cameras: Vec<Camera> = others
                .iter()
                .map(|(_, panel)| Camera {
                    panel: Some(panel.clone()),
                    ..camera.clone()
                })
                .collect();
            let odds = sampler.sample(&cameras, false)?;
            let fared = others.iter().zip(&cameras).zip(&odds);
            let mut tries: Vec<Try> = fared
                .map(|(((value, panel), camera), odds)| Try {
                    value: Some(*value),
                    own: false,
                    light: over_own(light(&panel.mount(&camera.pack))),
                    lasting: sampler.lasting(camera, odds),
                })
                .collect();
            tries.push(Try {
                value: own_value,
                own: true,
                light: over_own(own_wh),
                lasting: own,
            });
            if let Some(own) = own_value {
                let key = |one: &Try| one.value.unwrap_or(own);
                tries.sort_by(|a, b| key(a).total_cmp(&key(b)));
            }
            Ok::<_, OddsError>(tries)
        };
        let canopy = &panel.around.canopy;
        let evergreen = COVERS
            .iter()
            .find(|cover| covered(**cover) == Some(*canopy));
        Ok(Self {
            trees: tries(under_trees(panel), evergreen.copied())?,
            tilts: tries(tilted(panel), Some(panel.plane.tilt_deg()))?,
            best: best_plane(sampler, &mount, &dark, over_own),
            dark,
            own_wh,
        })
    }
}

fn sum(light: &[Energy]) -> f64 {
    light.iter().map(|day| day.as_watt_hours()).sum()
}

/// The weeks in which the least light is expected on a panel, or the whole season if it is short.
fn darkest(line: &Line, air: &SeasonAir, mount: &Mount) -> Range<usize> {
    // A season is at most 1200 days long.
    let days = line.season.days().unsigned_abs() as usize;
    let light = air.expected_light(line, mount, 0..days);
    let span = DARK_DAYS.min(days);
    let mut least = (f64::INFINITY, 0);
    for (start, window) in light.windows(span.max(1)).enumerate() {
        let light = sum(window);
        if light < least.0 - 1e-9 {
            least = (light, start);
        }
    }
    least.1..least.1 + span
}

fn covered(cover: f64) -> Option<Canopy> {
    if cover <= 0.0 {
        return Some(Canopy::NONE);
    }
    Canopy::new(cover, Leaves::Evergreen).ok()
}

fn under_trees(panel: &PanelChoice) -> Vec<(f64, PanelChoice)> {
    let tried = COVERS.iter().filter_map(|&cover| {
        let mut panel = panel.clone();
        panel.around.canopy = covered(cover)?;
        Some((cover, panel))
    });
    tried.collect()
}

fn tilted(panel: &PanelChoice) -> Vec<(f64, PanelChoice)> {
    let tried = TILTS_DEG.iter().filter_map(|&tilt| {
        let plane = Plane::new(tilt, panel.plane.azimuth_deg()).ok()?;
        let panel = PanelChoice {
            plane,
            ..panel.clone()
        };
        Some((tilt, panel))
    });
    tried.collect()
}

/// Over all tilts, and within a quarter turn of the equator's side; of equal ones the nearest to it.
fn best_plane(
    sampler: &Sampler<'_>,
    mount: &Mount,
    dark: &Range<usize>,
    over_own: impl Fn(f64) -> Option<f64>,
) -> BestPlane {
    let (line, air) = (sampler.line, sampler.air);
    let planes = planes(line.place.latitude_deg());
    let light = gather(sampler.host.workers, planes.len(), |number| {
        let mount = Mount {
            plane: planes[number],
            ..mount.clone()
        };
        sum(&air.expected_light(line, &mount, dark.clone()))
    });
    let mut best = (
        mount.plane,
        sum(&air.expected_light(line, mount, dark.clone())),
    );
    for (plane, light) in planes.iter().zip(light) {
        if light > best.1 + 1e-9 {
            best = (*plane, light);
        }
    }
    BestPlane {
        tilt_deg: best.0.tilt_deg(),
        azimuth_deg: best.0.azimuth_deg(),
        light: over_own(best.1),
    }
}

fn planes(latitude_deg: f64) -> Vec<Plane> {
    let equator = if latitude_deg < 0.0 { 0.0 } else { 180.0 };
    let away = (0..=90).step_by(AZIMUTH_STEP_DEG).map(f64::from);
    let turns: Vec<f64> = away
        .flat_map(|away| [away, -away])
        .map(|turn| (equator + turn + 360.0) % 360.0)
        .collect();
    let tilts = (0..=90).step_by(TILT_STEP_DEG).map(f64::from);
    let planes = tilts.flat_map(|tilt| turns.iter().map(move |turn| Plane::new(tilt, *turn)));
    // Every one of them is within its range.
    planes.filter_map(Result::ok).collect()
}
