//! The sun over one day: when it stands above a given height, and for how much of each hour.

use core::f64::consts::{PI, TAU};

use super::{Direction, equatorial, geocentric_sine, height_deg, wrap};
use crate::arithmetic::{clamp, max, min, positive, share};
use crate::{Day, Place, Time};

/// When the sun stands above some height around one noon.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum SunAbove {
    /// From one midnight to the next: polar day.
    Always,
    /// Not at all: polar night.
    Never,
    /// Between two moments, counted from the local midnight that starts the day. `up` may be
    /// negative and `down` beyond 24 hours where the clock's midnight is not the sun's.
    Between {
        /// When it climbs through the height.
        up: Time,
        /// When it sinks through it again.
        down: Time,
    },
}

impl SunAbove {
    /// How long that is, 0 to 24 hours.
    #[must_use]
    pub fn length(self) -> Time {
        match self {
            Self::Always => Time::from_days(1.0),
            Self::Never => Time::ZERO,
            Self::Between { up, down } => down - up,
        }
    }
}

/// The sun over one day of the local clock: two positions, and straight lines between them.
///
/// Declination and hour angle are taken at both midnights and run straight between them. The
/// declination bends by at most 0.0069 degrees per day squared, so the line is at most 0.001
/// degrees off within the day.
#[derive(Clone, Copy, Debug)]
pub struct SunDay {
    sin_latitude: f64,
    cos_latitude: f64,
    declination_at_midnight_rad: f64,
    declination_rad_per_h: f64,
    /// Within a full turn below zero, so that noon falls inside the clock's day.
    hour_angle_at_midnight_rad: f64,
    pub(super) hour_angle_rad_per_h: f64,
}

impl SunDay {
    /// The sun over `day` at `place`.
    #[must_use]
    pub fn new(place: &Place, day: Day) -> Self {
        let start = equatorial(place, day, Time::ZERO);
        let end = equatorial(place, day, Time::from_days(1.0));
        let (sin_latitude, cos_latitude) = libm::sincos(place.latitude_deg().to_radians());
        // A little more or less than one turn; the equation of time is the difference.
        let turn = wrap(end.hour_angle_rad - start.hour_angle_rad + PI) + PI;
        Self {
            sin_latitude,
            cos_latitude,
            declination_at_midnight_rad: start.declination_rad,
            declination_rad_per_h: (end.declination_rad - start.declination_rad) / 24.0,
            hour_angle_at_midnight_rad: wrap(start.hour_angle_rad) - TAU,
            hour_angle_rad_per_h: turn / 24.0,
        }
    }

    fn declination_rad(&self, hours: f64) -> f64 {
        self.declination_at_midnight_rad + self.declination_rad_per_h * hours
    }

    pub(super) fn noon_h(&self) -> f64 {
        -self.hour_angle_at_midnight_rad / self.hour_angle_rad_per_h
    }

    /// When the sun stands highest (hour angle zero), since local midnight.
    #[must_use]
    pub fn noon(&self) -> Time {
        Time::from_hours(self.noon_h())
    }

    /// The sun's height at noon, degrees; negative in polar night.
    #[must_use]
    pub fn noon_elevation_deg(&self) -> f64 {
        let Circle { centre, swing } = self.circle(self.noon_h());
        height_deg(centre + swing)
    }

    /// The sun's daily circle with the declination of `hours`.
    fn circle(&self, hours: f64) -> Circle {
        let (sin_dec, cos_dec) = libm::sincos(self.declination_rad(hours));
        Circle {
            centre: self.sin_latitude * sin_dec,
            // At a pole the sun circles at one height: the floor makes that always or never.
            swing: max(self.cos_latitude * cos_dec, 1e-12),
        }
    }

    /// When the sun's centre stands above `altitude_deg` around this day's noon.
    ///
    /// Good to a few seconds where the sun crosses steeply; where it grazes the height, within two
    /// weeks of the first or the last crossing, to a few minutes.
    #[must_use]
    pub fn above(&self, altitude_deg: f64) -> SunAbove {
        let sine = geocentric_sine(altitude_deg);
        let noon = self.noon_h();
        let at_noon = self.circle(noon).crossing_cosine(sine);
        if at_noon >= 1.0 {
            return SunAbove::Never;
        }
        if at_noon <= -1.0 {
            return SunAbove::Always;
        }
        let crossing = |side: f64| {
            let mut hours = noon;
            // Each pass takes the declination of the last; it drifts too slowly to need more.
            for _ in 0..4 {
                let cosine = clamp(self.circle(hours).crossing_cosine(sine), -1.0, 1.0);
                hours = noon + side * libm::acos(cosine) / self.hour_angle_rad_per_h;
            }
            Time::from_hours(hours)
        };
        SunAbove::Between {
            up: crossing(-1.0),
            down: crossing(1.0),
        }
    }

    /// How long it stands above `altitude_deg` around this day's noon.
    #[cfg_attr(target_os = "none", inline(never))]
    pub(crate) fn length_above(&self, altitude_deg: f64) -> Time {
        self.above(altitude_deg).length()
    }

    /// Where the sun's centre stands at a moment, without refraction: a cheaper
    /// [`sun_position`](super::sun_position), and seen from the centre of the earth, which is
    /// 0.0024 degrees higher at the most.
    #[must_use]
    pub fn direction(&self, since_midnight: Time) -> Direction {
        let hours = since_midnight.as_hours();
        let (sin_dec, cos_dec) = libm::sincos(self.declination_rad(hours));
        let hour_angle = self.hour_angle_at_midnight_rad + self.hour_angle_rad_per_h * hours;
        let (sin_hour, cos_hour) = libm::sincos(hour_angle);
        // The hour angle's frame, tilted by the latitude (Meeus 13.5 and 13.6).
        Direction::new(
            -cos_dec * sin_hour,
            self.cos_latitude * sin_dec - self.sin_latitude * cos_dec * cos_hour,
            self.sin_latitude * sin_dec + self.cos_latitude * cos_dec * cos_hour,
        )
    }

    /// The part of an hour (0 to 23; later ones count as 23) with the sun's centre below
    /// `altitude_deg`, from 0 to 1.
    ///
    /// Exact for the declination of the middle of the hour, which is off by at most 0.009 degrees
    /// at its ends.
    #[must_use]
    pub fn share_below(&self, hour: usize, altitude_deg: f64) -> f64 {
        self.hour(hour).share_below(geocentric_sine(altitude_deg))
    }

    /// One hour of the day, to be asked about several heights.
    pub(crate) fn hour(&self, hour: usize) -> SunHour {
        let start_h = hour_start(hour);
        let width = self.hour_angle_rad_per_h;
        SunHour {
            circle: self.circle(start_h + 0.5),
            start: wrap(self.hour_angle_at_midnight_rad + width * start_h),
            width,
        }
    }
}

/// The sun's daily circle: the sine of its height is `centre + swing cos(hour angle)` (Meeus 13.6).
#[derive(Clone, Copy, Debug)]
struct Circle {
    centre: f64,
    swing: f64,
}

impl Circle {
    /// Cosine of the hour angle at which the sun passes a height: below -1 where it stays above,
    /// beyond 1 where it stays below (Meeus 15.1).
    fn crossing_cosine(self, geocentric_sine: f64) -> f64 {
        (geocentric_sine - self.centre) / self.swing
    }
}

/// One hour of the sun's circle, from an hour angle on, both in radians.
#[derive(Clone, Copy, Debug)]
pub(crate) struct SunHour {
    circle: Circle,
    start: f64,
    width: f64,
}

impl SunHour {
    /// The part of the hour with the sun's centre below a height, given by its [`geocentric_sine`].
    pub(crate) fn share_below(&self, geocentric_sine: f64) -> f64 {
        let cosine = self.circle.crossing_cosine(geocentric_sine);
        if cosine >= 1.0 {
            return 1.0;
        }
        if cosine <= -1.0 {
            return 0.0;
        }
        let half_arc = libm::acos(cosine);
        // The hour may touch the arc around this noon and the one around the next.
        let lit: f64 = [0.0, TAU]
            .iter()
            .map(|noon| {
                let from = max(self.start, noon - half_arc);
                let to = min(self.start + self.width, noon + half_arc);
                positive(to - from)
            })
            .sum();
        share(1.0 - lit / self.width)
    }
}

/// Hours from midnight to the start of an hour; hours beyond 23 count as 23.
pub(crate) fn hour_start(hour: usize) -> f64 {
    u32::try_from(hour.min(23)).map_or(23.0, f64::from)
}

/// The part of an hour of local standard time with the sun's centre below `altitude_deg`: see
/// [`SunDay::share_below`], which is the cheaper way to more than one hour of a day.
#[must_use]
pub fn share_below(place: &Place, day: Day, hour: usize, altitude_deg: f64) -> f64 {
    SunDay::new(place, day).share_below(hour, altitude_deg)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{SUNRISE_ALTITUDE_DEG, sun_position};
    use proptest::prelude::*;

    #[test]
    fn polar_day_and_night_are_told_apart() {
        let place = Place::new(75.0, 20.0, 1.0).unwrap();
        let december = SunDay::new(&place, Day::from_days_since_2000(355));
        let june = SunDay::new(&place, Day::from_days_since_2000(172));
        assert_eq!(december.above(SUNRISE_ALTITUDE_DEG), SunAbove::Never);
        assert_eq!(june.above(SUNRISE_ALTITUDE_DEG), SunAbove::Always);
        assert!(december.noon_elevation_deg() < 0.0);
    }

    proptest! {
        #[test]
        fn the_days_shares_add_up_to_the_night(
            latitude in -64.0..64.0_f64,
            longitude in -180.0..180.0_f64,
            day in -18_000..18_000_i32,
            altitude in -12.0..10.0_f64,
        ) {
            let place = Place::new(latitude, longitude, libm::round(longitude / 15.0)).unwrap();
            let sun = SunDay::new(&place, Day::from_days_since_2000(day));
            let below: f64 = (0..24).map(|hour| sun.share_below(hour, altitude)).sum();
            // Sunrise of the day before and sunset of the day after differ by minutes.
            let length = sun.above(altitude).length().as_hours();
            prop_assert!((24.0 - below - length).abs() < 0.15, "{below} {length}");
        }

        #[test]
        fn shares_agree_with_the_position_itself(
            latitude in -89.9..89.9_f64,
            day in -18_000..18_000_i32,
            hour in 0..24_usize,
            altitude in -12.0..10.0_f64,
        ) {
            let place = Place::new(latitude, 25.0, 2.0).unwrap();
            let day = Day::from_days_since_2000(day);
            let share = share_below(&place, day, hour, altitude);
            let height = |minute: u32| {
                let at = Time::from_hours(hour as f64 + f64::from(minute) / 60.0);
                sun_position(&place, day, at).elevation_deg
            };
            if share < 1e-9 {
                prop_assert!((0..=60).all(|m| height(m) > altitude - 0.02));
            } else if share > 1.0 - 1e-9 {
                prop_assert!((0..=60).all(|m| height(m) < altitude + 0.02));
            } else {
                prop_assert!((0..=60).any(|m| (height(m) - altitude).abs() < 0.15));
            }
        }

        #[test]
        fn directions_agree_with_the_position_itself(
            latitude in -89.9..89.9_f64, day in -18_000..18_000_i32, hours in -2.0..26.0_f64,
        ) {
            let place = Place::new(latitude, 25.0, 2.0).unwrap();
            let day = Day::from_days_since_2000(day);
            let at = Time::from_hours(hours);
            let sun = sun_position(&place, day, at);
            let exact = Direction::from_angles(sun.elevation_deg, sun.azimuth_deg);
            let apart = SunDay::new(&place, day).direction(at).angle_deg(exact);
            prop_assert!(apart < 0.01, "{apart}");
        }

        #[test]
        fn higher_limits_leave_more_of_the_hour_below(
            latitude in -90.0..90.0_f64, day in 0..366_i32, hour in 0..24_usize,
            low in -20.0..20.0_f64, more in 0.0..20.0_f64,
        ) {
            let place = Place::new(latitude, 0.0, 0.0).unwrap();
            let sun = SunDay::new(&place, Day::from_days_since_2000(day));
            prop_assert!(sun.share_below(hour, low) <= sun.share_below(hour, low + more) + 1e-12);
        }
    }
}
