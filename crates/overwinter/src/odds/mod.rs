//! Odds: when each camera of a line ends, over many sampled paths through the season.

mod chances;
mod charge;
mod ends;
mod engine;
mod sun;
mod tally;

use overwinter_model::draw::ByUse;
use overwinter_model::harvest::PanelDay;
use overwinter_model::pack::PackError;
use overwinter_model::random::{AnomalyLawError, GammaShapeError};
use overwinter_model::season::Scenario;

pub(crate) use chances::POWER_SD_LN;
pub use charge::ChargeFan;
pub use ends::Ends;
pub use sun::{SunDays, SunMean, SunWeek};
pub use tally::Kept;

use crate::line::{Camera, Line, PackChoice};
use crate::run::SeasonAir;
pub use engine::{FORESEEN_DAYS, PARTS};
use engine::{Light, Ready, Site};
use tally::{CameraTally, Tally};

/// How many paths are sampled, and from which seed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
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
    /// The flash failed for the first time.
    pub night_pictures_lost: Ends,
    /// There were no more night pictures: the flash failed or the camera stopped.
    pub night_pictures_ended: Ends,
    /// There were no more uploads or reports: one failed or the camera stopped.
    pub uploads_ended: Ends,
    /// The memory card was full.
    pub card_full: Ends,
    /// The camera stopped for good.
    pub dead: Ends,
    /// The first end that costs pictures: night pictures, the card or the camera itself.
    pub record_broken: Ends,
    /// A panel's store was empty for the first time, and the pack took over or the camera stopped;
    /// without a store, the camera's end.
    pub store_empty: Ends,
    /// Charge left by day, if it was asked for.
    pub charge: ChargeFan,
    /// What a panel brought by day, if it was asked for.
    pub sun: SunDays,
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
#[derive(Clone, Copy, Debug, PartialEq)]
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

/// A camera on a pack, with what its panel brings: one of those that share a season's weather.
#[derive(Clone, Debug)]
pub struct Entrant<'a> {
    /// The camera. Entrants of one name have the same luck.
    pub camera: &'a Camera,
    /// What is in it.
    pub pack: &'a PackChoice,
    /// Both for the model.
    pub scenario: Scenario,
    /// What its panel brings on each day of the season, or of the first [`FORESEEN_DAYS`] if the
    /// season is shorter.
    pub panel_days: Option<Vec<PanelDay>>,
}

impl<'a> Entrant<'a> {
    /// A camera as its line file has it, on `pack`.
    ///
    /// # Errors
    /// [`PackError`] if the pack's numbers of cells are out of range.
    pub fn new(
        line: &Line,
        air: &SeasonAir,
        camera: &'a Camera,
        pack: &'a PackChoice,
    ) -> Result<Self, PackError> {
        Ok(Self {
            camera,
            pack,
            scenario: camera.scenario(pack)?,
            panel_days: air.panel_days(line, camera, pack),
        })
    }
}

/// A line's season over all paths.
#[derive(Clone, Debug, PartialEq)]
pub struct LineOdds {
    /// Its cameras in their order.
    pub cameras: Vec<Odds>,
    /// The first [`Odds::record_broken`] of any camera: they share each path's weather.
    pub line_broken: Ends,
    /// Days that all paths of all cameras were followed.
    pub camera_days: f64,
}

/// Samples a line's season: each camera on the pack beside it.
///
/// # Errors
/// [`OddsError`].
pub fn sample_line(
    line: &Line,
    air: &SeasonAir,
    cameras: &[(&Camera, &PackChoice)],
    paths: Paths,
) -> Result<LineOdds, OddsError> {
    let entrants = entrants(line, air, cameras)?;
    sample_entrants(line, air, &entrants, paths, Kept::default(), &|| ())
}

/// The same with the charge left by day; `watch` is told of each of [`PARTS`] parts that is done.
///
/// # Errors
/// [`OddsError`].
pub fn sample_line_with_charge(
    line: &Line,
    air: &SeasonAir,
    cameras: &[(&Camera, &PackChoice)],
    paths: Paths,
    watch: &(dyn Fn() + Sync),
) -> Result<LineOdds, OddsError> {
    let kept = Kept {
        charge: true,
        sun: true,
    };
    let entrants = entrants(line, air, cameras)?;
    sample_entrants(line, air, &entrants, paths, kept, watch)
}

fn entrants<'a>(
    line: &Line,
    air: &SeasonAir,
    cameras: &[(&'a Camera, &'a PackChoice)],
) -> Result<Vec<Entrant<'a>>, PackError> {
    let entrants = cameras.iter();
    let entrants = entrants.map(|(camera, pack)| Entrant::new(line, air, camera, pack));
    entrants.collect()
}

/// Samples entrants that need not be a line's own cameras, and keeps what is asked for; `watch` is told
/// of each of [`PARTS`] parts that is done.
///
/// # Errors
/// [`OddsError`].
pub fn sample_entrants(
    line: &Line,
    air: &SeasonAir,
    entrants: &[Entrant<'_>],
    paths: Paths,
    kept: Kept,
    watch: &(dyn Fn() + Sync),
) -> Result<LineOdds, OddsError> {
    let first = line.season.first_day();
    let season_days = line.season.days().unsigned_abs() as usize;
    let foreseen = (0..).take(season_days.max(FORESEEN_DAYS));
    let months: Vec<usize> = foreseen.map(|day| first.plus(day).month_index()).collect();
    let spread = line.climate.spread();
    let clearness: Vec<f64> = months
        .iter()
        .map(|month| spread.month(*month).clearness_mean)
        .collect();
    let mut ready = Vec::with_capacity(entrants.len());
    for entrant in entrants {
        let hours: Vec<_> = air.foreseen_hours(line, entrant.camera, None).collect();
        let light = entrant.panel_days.as_ref().map(|panel| Light {
            panel,
            clearness: &clearness,
        });
        ready.push(Ready::new(
            &entrant.scenario,
            chances::of_camera(entrant.camera, entrant.pack)?,
            &hours,
            season_days,
            light,
        ));
    }
    let air_chances = chances::of_air(line)?;
    let site = Site {
        chances: &air_chances,
        months: months.get(..season_days).unwrap_or(&months),
    };
    let panels = entrants.iter().map(|entrant| entrant.panel_days.is_some());
    let empty = Tally::none(panels, season_days as u32, paths.count, kept);
    let tally = engine::sample(&site, &ready, paths, &empty, watch);
    let alive = tally.cameras.iter().map(|camera| camera.sums.alive_days);
    Ok(LineOdds {
        camera_days: alive.sum(),
        cameras: tally
            .cameras
            .into_iter()
            .map(|camera| Odds::of(camera, paths.count))
            .collect(),
        line_broken: tally.line_broken,
    })
}

impl Odds {
    fn of(tally: CameraTally, paths: u32) -> Self {
        let share = 1.0 / f64::from(paths);
        let sums = tally.sums;
        let wh = |joules: f64| joules * share / 3600.0;
        let mut used = ByUse::default();
        used.add_all(&sums.used, share);
        Self {
            night_pictures_lost: tally.night_pictures_lost,
            night_pictures_ended: tally.night_pictures_ended,
            uploads_ended: tally.uploads_ended,
            card_full: tally.card_full,
            dead: tally.dead,
            record_broken: tally.record_broken,
            store_empty: tally.store_empty,
            charge: tally.charge,
            sun: tally.sun,
            mean: Mean {
                put_in_wh: wh(sums.put_in_j),
                used,
                self_discharge_wh: wh(sums.self_discharge_j),
                left_wh: wh(sums.left_j),
                panel: PanelMean {
                    offered_wh: wh(sums.offered_j),
                    kept_out_wh: wh(sums.kept_out_j),
                    spilled_wh: wh(sums.spilled_j),
                    charging_loss_wh: wh(sums.charging_loss_j),
                },
                triggers: sums.triggers * share,
                charge_left: sums.charge_left * share,
                alive_days: sums.alive_days * share,
            },
        }
    }
}
