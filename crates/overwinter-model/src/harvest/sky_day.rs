//! The sun of each hour of a day, and the light of a day of known clearness.

use core::f64::consts::{FRAC_PI_3, PI};

use super::air::pressure_share;
use super::clearness::{CLEAREST, clearness_points};
use super::sun::outside_atmosphere;
use super::{Light, Sun, split};
use crate::arithmetic::{clamp, positive};
use crate::{Day, Direction, Irradiance, Place, SunDay, Time};

/// The sun over a day, in the middle of each hour.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SkyDay {
    suns: [Sun; 24],
    /// How the light of the day is spread over its hours; they sum to one, or are all zero.
    shares: [f64; 24],
    /// Sum over the hours of the light outside the atmosphere on the horizontal.
    outside: Irradiance,
}

/// One hour of a day.
#[derive(Clone, Copy)]
pub(crate) struct SkyHour {
    pub(super) sun: Sun,
    /// Its share of the day's light.
    share: f64,
    /// As in [`SkyDay`].
    outside: Irradiance,
}

impl SkyHour {
    /// The light of the hour: see [`SkyDay::at_clearness`].
    pub(super) fn light(&self, clearness: f64) -> Light {
        if self.share > 0.0 {
            let day = self.outside * clamp(clearness, 0.0, CLEAREST);
            split::disc(day * self.share, &self.sun)
        } else {
            Light::DARK
        }
    }
}

impl SkyDay {
    /// The sun over `day` at a place `elevation_m` above the sea.
    ///
    /// `light_offset` is for weather files whose light is not that of the middle of their hours:
    /// the sun is taken so much later. Zero everywhere else.
    #[must_use]
    #[inline(never)]
    pub fn new(place: &Place, day: Day, elevation_m: f64, light_offset: Time) -> Self {
        let sun = &SunDay::new(place, day);
        let course = Course::over(sun, day, elevation_m, light_offset);
        let suns: [Sun; 24] = core::array::from_fn(|hour| course.sun(sun, hour));
        let mut shares = [0.0; 24];
        let mut sums = Sums::default();
        for (hour, (share, sun)) in shares.iter_mut().zip(&suns).enumerate() {
            *share = course.weight(hour, sun.up);
            sums.add(sun.up, *share);
        }
        for share in &mut shares {
            *share = sums.share(*share);
        }
        Self {
            suns,
            shares,
            outside: course.outside * sums.ups,
        }
    }

    /// The sun in the middle of each hour.
    #[must_use]
    pub fn suns(&self) -> &[Sun; 24] {
        &self.suns
    }

    /// Light outside the atmosphere on the horizontal, mean over the day's 24 hours.
    #[must_use]
    pub fn mean_outside(&self) -> Irradiance {
        self.outside / 24.0
    }

    /// The light of each hour on a day whose light on the horizontal is `clearness` times that
    /// outside the atmosphere: spread over the hours by their usual shares and split by DISC.
    ///
    /// Source of the shares: Collares-Pereira and Rabl, "The average distribution of solar
    /// radiation", Solar Energy 22(2), 1979.
    #[must_use]
    pub fn at_clearness(&self, clearness: f64) -> [Light; 24] {
        let mut lights = [Light::DARK; 24];
        for (light, hour) in lights.iter_mut().zip(self.hours()) {
            *light = hour.light(clearness);
        }
        lights
    }

    /// Its hours.
    pub(super) fn hours(&self) -> impl Iterator<Item = SkyHour> {
        let hours = self.suns.iter().zip(self.shares);
        hours.map(|(sun, share)| SkyHour {
            sun: *sun,
            share,
            outside: self.outside,
        })
    }

    /// Light of each hour expected of a day whose clearness has this mean and spread, where
    /// `on_panel` says what of an hour's light arrives: the mean over [`clearness_points`].
    ///
    /// ```
    /// use overwinter_model::harvest::{Plane, SkyDay, SkyModel};
    /// use overwinter_model::{Day, Place, Time};
    /// let place = Place::new(42.0, -87.9, -6.0)?;
    /// let sky = SkyDay::new(&place, Day::from_days_since_2000(9862), 200.0, Time::ZERO);
    /// let plane = Plane::new(42.0, 180.0)?;
    /// let hours = sky.expected(0.45, 0.14, |sun, light| {
    ///     plane.light(sun, light, 0.2, SkyModel::HayDavies).total()
    /// });
    /// let day_wh_per_m2: f64 = hours.iter().map(|light| light.as_w_per_m2()).sum();
    /// assert!((2_000.0..4_000.0).contains(&day_wh_per_m2));
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    #[must_use]
    pub fn expected(
        &self,
        clearness_mean: f64,
        clearness_spread: f64,
        on_panel: impl Fn(&Sun, &Light) -> Irradiance,
    ) -> [Irradiance; 24] {
        let mut expected = [Irradiance::ZERO; 24];
        for (weight, clearness) in clearness_points(clearness_mean, clearness_spread) {
            let hours = self.suns.iter().zip(self.at_clearness(clearness));
            for (sum, (sun, light)) in expected.iter_mut().zip(hours) {
                *sum += on_panel(sun, &light) * weight;
            }
        }
        expected
    }
}

/// The same day one hour after the other: the suns of a whole day are too many for a small device's
/// stack.
#[derive(Clone, Debug)]
pub(crate) struct HourlySky {
    course: Course,
    sums: Sums,
}

impl HourlySky {
    /// As [`SkyDay::new`], under the day's sun.
    pub(crate) fn new(sun: &SunDay, day: Day, elevation_m: f64) -> Self {
        let course = Course::over(sun, day, elevation_m, Time::ZERO);
        let mut sums = Sums::default();
        for hour in 0..24 {
            let up = course.direction(sun, hour).up();
            sums.add(up, course.weight(hour, up));
        }
        Self { course, sums }
    }

    /// One of its hours under its sun, `None` if that brings no light.
    #[cfg_attr(target_os = "none", inline(never))]
    pub(crate) fn hour(&self, sun: &SunDay, hour: usize) -> Option<SkyHour> {
        let Course {
            outside,
            pressure_share,
            ..
        } = self.course;
        let direction = self.course.direction(sun, hour);
        let weight = self.course.weight(hour, direction.up());
        (weight > 0.0).then(|| SkyHour {
            sun: Sun::over(direction, outside, pressure_share),
            share: weight / self.sums.weights,
            outside: outside * self.sums.ups,
        })
    }
}

/// The sun's course over a day, in the middle of any hour of it.
#[derive(Clone, Debug)]
struct Course {
    shape: DayShape,
    /// Light outside the atmosphere on a plane that faces the sun.
    outside: Irradiance,
    pressure_share: f64,
    light_offset: Time,
}

impl Course {
    fn over(sun: &SunDay, day: Day, elevation_m: f64, light_offset: Time) -> Self {
        Self {
            shape: DayShape::of(sun),
            outside: outside_atmosphere(day),
            pressure_share: pressure_share(elevation_m),
            light_offset,
        }
    }

    fn middle(&self, hour: usize) -> Time {
        Time::from_hours(crate::sun::hour_start(hour) + 0.5) + self.light_offset
    }

    fn direction(&self, sun: &SunDay, hour: usize) -> Direction {
        sun.direction(self.middle(hour))
    }

    fn sun(&self, sun: &SunDay, hour: usize) -> Sun {
        let direction = self.direction(sun, hour);
        if direction.up() < LOWEST_OF_INTEREST {
            night(direction, self.outside, self.pressure_share)
        } else {
            Sun::over(direction, self.outside, self.pressure_share)
        }
    }

    /// What the light of an hour is to that of the others, with the sun so high in its middle.
    fn weight(&self, hour: usize, up: f64) -> f64 {
        positive(up) * self.shape.weight(self.middle(hour))
    }
}

/// Sums over the hours of a day.
#[derive(Clone, Debug, Default)]
struct Sums {
    /// Of the sines of the sun's heights.
    ups: f64,
    /// Of [`Course::weight`].
    weights: f64,
}

impl Sums {
    fn add(&mut self, up: f64, weight: f64) {
        self.ups += positive(up);
        self.weights += weight;
    }

    /// An hour's share of the day's light.
    fn share(&self, weight: f64) -> f64 {
        if self.weights > 0.0 {
            weight / self.weights
        } else {
            0.0
        }
    }
}

/// Below two degrees under the horizon there is no light to reckon with.
const LOWEST_OF_INTEREST: f64 = -0.035;

/// A sun far below the horizon: without refraction, which costs time to work out.
fn night(direction: Direction, outside: Irradiance, pressure_share: f64) -> Sun {
    Sun {
        apparent: direction,
        up: direction.up(),
        outside,
        pressure_share,
    }
}

/// Global light in an hour over the sine of the sun's height, up to a factor: `a + b cos ω` with the
/// hour angle `ω`, and
///
/// ```text
/// a = 0.409 + 0.5016 sin (ω_s − 60°),  b = 0.6609 − 0.4767 sin (ω_s − 60°)
/// ```
///
/// where `ω_s` is the hour angle at sunset (Collares-Pereira and Rabl 1979).
#[derive(Clone, Debug)]
struct DayShape {
    noon: Time,
    a: f64,
    b: f64,
}

impl DayShape {
    fn of(sun: &SunDay) -> Self {
        let sunset = sun.length_above(0.0).as_days() * PI;
        let sine = libm::sin(sunset - FRAC_PI_3);
        Self {
            noon: sun.noon(),
            a: 0.409 + 0.5016 * sine,
            b: 0.6609 - 0.4767 * sine,
        }
    }

    fn weight(&self, at: Time) -> f64 {
        let hour_angle = (at - self.noon).as_days() * 2.0 * PI;
        positive(self.a + self.b * libm::cos(hour_angle))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn a_polar_night_is_dark() {
        let place = Place::new(78.0, 15.0, 1.0).unwrap();
        let sky = SkyDay::new(&place, Day::from_days_since_2000(355), 10.0, Time::ZERO);
        assert_eq!(sky.mean_outside(), Irradiance::ZERO);
        assert_eq!(sky.at_clearness(0.6), [Light::DARK; 24]);
    }

    proptest! {
        #[test]
        fn the_hours_of_a_day_keep_its_clearness(
            latitude in -90.0..90.0_f64, day in 0..366_i32, clearness in 0.0..0.85_f64,
        ) {
            let place = Place::new(latitude, 0.0, 0.0).unwrap();
            let sky = SkyDay::new(&place, Day::from_days_since_2000(day), 0.0, Time::ZERO);
            let sum = sky.at_clearness(clearness).iter()
                .fold(Irradiance::ZERO, |sum, light| sum + light.global);
            let wanted = sky.mean_outside() * (24.0 * clearness);
            prop_assert!((sum - wanted).as_w_per_m2().abs() < 1e-6);
        }
    }
}
