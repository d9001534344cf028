//! Odds: when each camera of a line ends, over many sampled paths through the season.

mod charge;
mod ends;
mod engine;
mod lost;
mod sun;
mod tally;
mod unknowns;

use overwinter_model::Energy;
use overwinter_model::draw::ByUse;
use overwinter_model::pack::PackError;
use overwinter_model::paths::{AirChances, CameraChances, FORESEEN_DAYS};
use overwinter_model::random::{AnomalyLawError, GammaShapeError};
use serde::Serialize;

pub use charge::ChargeFan;
pub(crate) use ends::EndCounts;
pub use ends::Ends;
pub use lost::{Losses, Lost};
pub use sun::{SunDays, SunMean, SunWeek};
pub use tally::{Kept, PathEnds};
pub use unknowns::{DrawnOnce, Unknown, drawn_once};

use crate::host::Host;
use crate::line::{Camera, Line, PackChoice};
use crate::run::SeasonAir;
use engine::{Light, Ready, Site};
use tally::{CameraTally, Tally};

/// How many paths are sampled, and from which seed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct Paths {
    /// How many.
    pub count: u32,
    /// The same seed gives the same paths, on every machine and with any number of threads.
    pub seed: u64,
}

impl Paths {
    /// Those that are sampled unless others are asked for.
    pub const USUAL: Self = Self {
        count: 1000,
        seed: 1,
    };
}

/// Why no paths could be drawn.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum OddsError {
    /// A pack's numbers of cells are out of range.
    Pack(PackError),
    /// The dispersion of a camera's counts is out of range.
    Dispersion(GammaShapeError),
    /// The site's days cannot go together so.
    Air(AnomalyLawError),
}

impl std::fmt::Display for OddsError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Pack(why) => why.fmt(f),
            Self::Dispersion(why) => why.fmt(f),
            Self::Air(why) => why.fmt(f),
        }
    }
}

impl std::error::Error for OddsError {}

impl From<PackError> for OddsError {
    fn from(why: PackError) -> Self {
        Self::Pack(why)
    }
}

impl From<GammaShapeError> for OddsError {
    fn from(why: GammaShapeError) -> Self {
        Self::Dispersion(why)
    }
}

impl From<AnomalyLawError> for OddsError {
    fn from(why: AnomalyLawError) -> Self {
        Self::Air(why)
    }
}

/// One camera's season over all paths.
#[derive(Clone, Debug, PartialEq)]
pub struct Odds {
    /// When each thing that can be lost was.
    pub lost: Losses<Ends>,
    /// Charge left by day, if it was asked for.
    pub charge: ChargeFan,
    /// What a panel brought by day, if it was asked for.
    pub sun: SunDays,
    /// What became of each path in their order, if it was asked for.
    pub paths: Vec<PathEnds>,
    /// Means over the paths.
    pub mean: Mean,
}

/// Means over the paths of a camera.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mean {
    /// Watt-hours in the cells, and in a store, at the start, and what warmth of the air added.
    pub put_in_wh: f64,
    /// Energy at the pack by use.
    pub used: ByUse,
    /// Watt-hours lost to self-discharge.
    pub self_discharge_wh: f64,
    /// Watt-hours in the cells, and in a store, at the end.
    pub left_wh: f64,
    /// What a panel brought, over the season.
    pub panel: PanelMean,
    /// Triggers answered.
    pub triggers: f64,
    /// Share of the charge left at the end.
    pub charge_left: f64,
    /// Days alive within the season.
    pub alive_days: f64,
}

/// What a panel brought and what became of it: watt-hours, as in
/// [`overwinter_model::season::FromPanel`].
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct PanelMean {
    /// All that it had to give, behind its controller.
    pub offered_wh: f64,
    /// Not taken: too cold or too warm to be charged, or faster than may be charged.
    pub kept_out_wh: f64,
    /// Not taken: there was no more room.
    pub spilled_wh: f64,
    /// Lost in charging.
    pub charging_loss_wh: f64,
}

impl PanelMean {
    /// What was of use.
    #[must_use]
    pub fn stored_wh(&self) -> f64 {
        self.offered_wh - self.kept_out_wh - self.spilled_wh - self.charging_loss_wh
    }
}

/// A line's season over all paths.
#[derive(Clone, Debug, PartialEq)]
pub struct LineOdds {
    /// Its cameras in their order.
    pub cameras: Vec<Odds>,
    /// The first [`Lost::Record`] of any camera: they share each path's weather.
    pub line_broken: Ends,
    /// Days that all paths of all cameras were followed.
    pub camera_days: f64,
}

/// So many cameras are sampled together: their paths share the weather that is drawn, and while they are
/// followed each takes some megabytes.
const TOGETHER: usize = 16;

/// How often [`sample`] tells of a part that is done, for so many cameras.
#[must_use]
pub fn parts(cameras: usize, paths: Paths) -> usize {
    cameras.div_ceil(TOGETHER) * engine::parts(paths)
}

/// Samples a line's season, keeping nothing by the day: each camera on the pack beside it.
///
/// # Errors
/// [`OddsError`].
pub fn sample_line(
    line: &Line,
    air: &SeasonAir,
    cameras: &[(&Camera, &PackChoice)],
    paths: Paths,
    host: &Host<'_>,
) -> Result<LineOdds, OddsError> {
    sample(line, air, cameras, paths, Kept::default(), host)
}

/// Samples cameras through a line's season, each on the pack beside it, and keeps what is asked for. They need
/// not be the line's own; those of one name have the same luck. The host's watch is told of each of [`parts`] that
/// is done.
///
/// # Errors
/// [`OddsError`].
pub fn sample(
    line: &Line,
    air: &SeasonAir,
    cameras: &[(&Camera, &PackChoice)],
    paths: Paths,
    kept: Kept<'_>,
    host: &Host<'_>,
) -> Result<LineOdds, OddsError> {
    let season = SampledSeason::new(line, air, paths)?;
    let mut broken = vec![f64::INFINITY; paths.count as usize];
    let mut sampled = Vec::with_capacity(cameras.len());
    let mut camera_days = 0.0;
    for (number, together) in (0..).step_by(TOGETHER).zip(cameras.chunks(TOGETHER)) {
        let kept = (number..).map(|number| kept.of(number));
        let tally = season.of(together, kept, &mut broken, host)?;
        for camera in tally.cameras {
            camera_days += camera.sums.alive_days;
            sampled.push(Odds::of(camera, paths.count));
        }
    }
    let mut line_broken = EndCounts::none(line.season.days().unsigned_abs(), paths.count);
    for days in broken {
        line_broken.note(days);
    }
    Ok(LineOdds {
        cameras: sampled,
        line_broken: line_broken.finished(),
        camera_days,
    })
}

/// What all cameras of a line have in common.
struct SampledSeason<'a> {
    line: &'a Line,
    air: &'a SeasonAir,
    paths: Paths,
    /// Index of the month of each day of the season.
    months: Vec<usize>,
    /// Mean clearness of the days of each day's month; on to [`FORESEEN_DAYS`] if the season is shorter.
    clearness: Vec<f64>,
    chances: AirChances,
}

impl<'a> SampledSeason<'a> {
    fn new(line: &'a Line, air: &'a SeasonAir, paths: Paths) -> Result<Self, AnomalyLawError> {
        let first = line.season.first_day();
        let season_days = line.season.days().unsigned_abs() as usize;
        let foreseen = (0..).take(season_days.max(FORESEEN_DAYS));
        let mut months: Vec<usize> = foreseen.map(|day| first.plus(day).month_index()).collect();
        let spread = line.climate.spread();
        let clearness = months
            .iter()
            .map(|month| spread.month(*month).clearness_mean);
        let clearness = clearness.collect();
        months.truncate(season_days);
        Ok(Self {
            line,
            air,
            paths,
            clearness,
            months,
            chances: AirChances::of(line.climate.spread())?,
        })
    }

    /// Samples some cameras, of each of which `kept` says what is kept by the day. What is worked out for
    /// them goes with them.
    fn of<'k>(
        &self,
        cameras: &[(&Camera, &PackChoice)],
        kept: impl Iterator<Item = Kept<'k>>,
        broken: &mut [f64],
        host: &Host<'_>,
    ) -> Result<Tally, OddsError> {
        let (line, air) = (self.line, self.air);
        let mut scenarios = Vec::with_capacity(cameras.len());
        for (camera, pack) in cameras {
            scenarios.push(camera.scenario(pack)?);
        }
        let mut ready = Vec::with_capacity(cameras.len());
        for ((camera, pack), scenario) in cameras.iter().zip(&scenarios) {
            let hours: Vec<_> = air.foreseen_hours(line, camera, None).collect();
            let panel_days = air.panel_days(line, camera, pack);
            let light = panel_days.as_ref().map(|panel| Light {
                panel,
                clearness: &self.clearness,
            });
            let chances = chances(camera, pack)?;
            let days = self.months.len();
            ready.push(Ready::new((camera, scenario), chances, &hours, days, light));
        }
        let site = Site {
            chances: &self.chances,
            months: &self.months,
        };
        let panels = cameras.iter().map(|(camera, _)| camera.panel.is_some());
        let days = line.season.days().unsigned_abs();
        let empty = Tally::none(kept.zip(panels), days, self.paths.count);
        Ok(engine::sample(
            &site, &ready, self.paths, &empty, broken, host,
        ))
    }
}

impl Odds {
    fn of(tally: CameraTally, paths: u32) -> Self {
        let share = 1.0 / f64::from(paths);
        let sums = tally.sums;
        let wh = |energy: Energy| energy.as_joules() * share / 3600.0;
        let mut used = ByUse::default();
        used.add_all(&sums.used, share);
        Self {
            lost: Losses::each(|lost| tally.lost[lost].finished()),
            charge: tally.charge,
            sun: tally.sun,
            paths: tally.paths.unwrap_or_default(),
            mean: Mean {
                put_in_wh: wh(sums.put_in),
                used,
                self_discharge_wh: wh(sums.self_discharge),
                left_wh: wh(sums.left),
                panel: PanelMean {
                    offered_wh: wh(sums.panel.offered),
                    kept_out_wh: wh(sums.panel.kept_out),
                    spilled_wh: wh(sums.panel.spilled),
                    charging_loss_wh: wh(sums.panel.charging_loss),
                },
                triggers: sums.triggers * share,
                charge_left: sums.charge_left * share,
                alive_days: sums.alive_days * share,
            },
        }
    }
}

/// What may turn out otherwise at a camera on a pack.
fn chances(camera: &Camera, pack: &PackChoice) -> Result<CameraChances, GammaShapeError> {
    let (name, model) = (stream(&camera.name), stream(&camera.model));
    CameraChances::new(name, model, purchase(pack), camera.activity.counts())
}

/// The stream of what was bought at once: cells of one name, and of one purchase where the line tells
/// several apart.
fn purchase(pack: &PackChoice) -> u32 {
    let label = pack.purchase.as_deref().unwrap_or_default();
    // A line break is in neither.
    stream(&format!("{}\n{label}", pack.cell.name))
}

/// A stream by name: the same name has the same luck in any company. FNV-1a, a public-domain hash
/// of 32 bits; 0 belongs to the site.
fn stream(name: &str) -> u32 {
    let hash = name.bytes().fold(0x811c_9dc5_u32, |hash, byte| {
        (hash ^ u32::from(byte)).wrapping_mul(0x0100_0193)
    });
    hash.max(1)
}
