//! What stands between the sky and a panel.

use serde::{Deserialize, Serialize};

use super::canopy::Gaps;
use super::{Canopy, Ground, Horizon, Light, Plane, PlaneLight, SkyModel, Sun};
use crate::Day;

/// Everything around a panel that its light meets.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Surroundings {
    /// Hills, walls, forest edges.
    pub horizon: Horizon,
    /// Trees overhead.
    pub canopy: Canopy,
    /// What lies before the panel.
    pub ground: Ground,
    /// Share of light that dirt and snow on the panel keep off, by month, January first.
    pub kept_off_by_month: [f64; 12],
}

impl Surroundings {
    /// Share of light that dirt keeps off a panel which nobody cleans: 3 % (common practice, no
    /// source; the reference balances count it in their tenth for dirt and wiring).
    pub const DIRT: f64 = 0.03;

    /// Nothing in the way, bare ground, a clean panel.
    #[must_use]
    pub fn open() -> Self {
        Self {
            horizon: Horizon::flat(),
            canopy: Canopy::NONE,
            ground: Ground::default(),
            kept_off_by_month: [0.0; 12],
        }
    }

    /// The surroundings as they are on a day.
    #[must_use]
    pub fn on(&self, day: Day) -> DaySurroundings<'_> {
        let gaps = self.canopy.on(day);
        let kept_off = self.kept_off_by_month.get(day.month_index());
        DaySurroundings {
            horizon: &self.horizon,
            gaps,
            sky_left: gaps.sky() * self.horizon.sky_left(),
            albedo: self.ground.albedo(day),
            let_in: 1.0 - kept_off.copied().unwrap_or(0.0),
        }
    }
}

/// Surroundings as they are on one day.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DaySurroundings<'a> {
    horizon: &'a Horizon,
    gaps: Gaps,
    sky_left: f64,
    albedo: f64,
    let_in: f64,
}

impl DaySurroundings<'_> {
    /// The light that arrives on a panel.
    ///
    /// Beam and sky are dimmed by what is in their way, and the ground throws back what has come
    /// through to it. Trees and horizon take the same share from a tilted panel's sky as from the
    /// horizontal's.
    #[must_use]
    pub fn light(&self, plane: &Plane, sun: &Sun, light: &Light, sky: SkyModel) -> PlaneLight {
        let open = plane.light(sun, light, self.albedo, sky);
        let beam_left = if self.horizon.hides(sun.apparent) {
            0.0
        } else {
            self.gaps.beam(sun.apparent.up())
        };
        let ground_left = if light.global > crate::Irradiance::ZERO {
            let diffuse_share = (light.diffuse / light.global).clamp(0.0, 1.0);
            diffuse_share * self.sky_left + (1.0 - diffuse_share) * beam_left
        } else {
            0.0
        };
        PlaneLight {
            from_sun: open.from_sun * (beam_left * self.let_in),
            from_sky: open.from_sky * (self.sky_left * self.let_in),
            from_ground: open.from_ground * (ground_left * self.let_in),
        }
    }
}
