//! What stands between the sky and a panel.

use super::canopy::Gaps;
use super::{Canopy, Ground, Horizon, Light, Plane, PlaneLight, SkyModel, Sun};
use crate::arithmetic::share;
use crate::{Day, Irradiance};

/// Everything around a panel that its light meets.
#[derive(Clone, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct Surroundings {
    /// Hills, walls, forest edges.
    pub horizon: Horizon,
    /// Trees overhead.
    pub canopy: Canopy,
    /// What lies before the panel.
    pub ground: Ground,
    /// Share of light that dirt and snow on the panel keep off, by month, January first.
    #[cfg_attr(feature = "serde", serde(with = "crate::decimal::several"))]
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
    #[cfg_attr(target_os = "none", inline(never))]
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
    /// Share of an even sky's light on the horizontal that horizon and trees leave, 0 to 1.
    #[must_use]
    pub const fn sky_left(&self) -> f64 {
        self.sky_left
    }

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
        let ground_left = if light.global > Irradiance::ZERO {
            let diffuse_share = share(light.diffuse / light.global);
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::harvest::{Leaves, SkyDay};
    use crate::{Place, Time};
    use proptest::prelude::*;

    const NEW_YEAR_2027: Day = Day::from_days_since_2000(9862);

    /// Light of a day on a plane, the sum over its hours.
    fn day_on_plane(sky: &SkyDay, plane: &Plane, clearness: f64, around: &Surroundings) -> f64 {
        let around = around.on(NEW_YEAR_2027);
        let hours = sky.suns().iter().zip(sky.at_clearness(clearness));
        hours
            .map(|(sun, light)| around.light(plane, sun, &light, SkyModel::HayDavies))
            .map(|light| light.total().as_w_per_m2())
            .sum()
    }

    fn under(cover: f64) -> Surroundings {
        Surroundings {
            canopy: Canopy::new(cover, Leaves::Evergreen).unwrap(),
            ..Surroundings::open()
        }
    }

    proptest! {
        #[test]
        fn whatever_stands_in_the_way_takes_light(
            latitude in -70.0..70.0_f64, tilt in 0.0..90.0_f64, azimuth in 0.0..360.0_f64,
            clearness in 0.0..0.8_f64, cover in 0.0..1.0_f64, more in 0.0..1.0_f64,
            height in 0.0..60.0_f64, kept_off in 0.0..1.0_f64,
        ) {
            let place = Place::new(latitude, 10.0, 1.0).unwrap();
            let sky = SkyDay::new(&place, NEW_YEAR_2027, 0.0, Time::ZERO);
            let plane = Plane::new(tilt, azimuth).unwrap();
            let light = |around: &Surroundings| day_on_plane(&sky, &plane, clearness, around);
            let less = light(&under(cover));
            prop_assert!(light(&under((cover + more).min(1.0))) <= less + 1e-9);
            let hills = Surroundings {
                horizon: Horizon::new(&[(0.0, height)]).unwrap(),
                ..under(cover)
            };
            prop_assert!(light(&hills) <= less + 1e-9);
            let dirty = Surroundings { kept_off_by_month: [kept_off; 12], ..under(cover) };
            prop_assert!((light(&dirty) - less * (1.0 - kept_off)).abs() < 1e-6);
        }

        #[test]
        fn in_the_open_nothing_is_lost(
            latitude in -70.0..70.0_f64, tilt in 0.0..90.0_f64, clearness in 0.0..0.8_f64,
        ) {
            let place = Place::new(latitude, 10.0, 1.0).unwrap();
            let sky = SkyDay::new(&place, NEW_YEAR_2027, 0.0, Time::ZERO);
            let plane = Plane::new(tilt, 180.0).unwrap();
            let open = sky.suns().iter().zip(sky.at_clearness(clearness)).map(|(sun, light)| {
                let albedo = Ground::BARE_ALBEDO;
                plane.light(sun, &light, albedo, SkyModel::HayDavies).total().as_w_per_m2()
            });
            let sum: f64 = open.sum();
            let same = day_on_plane(&sky, &plane, clearness, &Surroundings::open());
            prop_assert!((sum - same).abs() < 1e-6, "{sum} {same}");
        }

        #[test]
        fn snow_brightens_a_steep_plane(snow in 0.0..1.0_f64, tilt in 1.0..90.0_f64) {
            let place = Place::new(50.0, 10.0, 1.0).unwrap();
            let sky = SkyDay::new(&place, NEW_YEAR_2027, 0.0, Time::ZERO);
            let plane = Plane::new(tilt, 180.0).unwrap();
            let snowy = Surroundings { ground: Ground::with_snow([snow; 12]), ..Surroundings::open() };
            let light = |around: &Surroundings| day_on_plane(&sky, &plane, 0.5, around);
            prop_assert!(light(&snowy) >= light(&Surroundings::open()));
        }
    }
}
