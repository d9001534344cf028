//! How the expected temperature moves within a day.

use crate::arithmetic::{clamp, positive};
use crate::sun::{SUNRISE_ALTITUDE_DEG, SunDay, hour_start};

/// Hours from sunrise to the minimum. Fitted, see [`DayShape`].
const MINIMUM_AFTER_SUNRISE_H: f64 = 0.32;
/// Hours from solar noon to the maximum, roughly. Fitted.
const MAXIMUM_LAG_H: f64 = 1.67;
/// How many times the night's cooling rate falls by a factor e. Fitted.
const NIGHT_DECAY: f64 = 2.29;
/// What is left of that rate in the morning: `e^-2.29`.
const FLOOR: f64 = 0.101_266_461_853_883_4;
/// The part of the mean daily range (mean maximum minus mean minimum) that a high sun makes. Fitted.
const SUNNY_PART_OF_RANGE: f64 = 0.85;
/// Height of the noon sun, degrees, at which 63 % of that is reached. Fitted.
const SUN_HEIGHT_SCALE_DEG: f64 = 13.3;
/// Half the length of the day that drives the shape, hours: kept from nothing and from all day.
const HALF_DAY_LIMITS_H: (f64, f64) = (2.0, 9.5);

/// A day's expected deviation from its mean: minimum near sunrise, maximum in the early afternoon.
///
/// The form of Parton & Logan 1981 (Agricultural Meteorology 23, 205-216): from the minimum to sunset
/// a sine that is stretched by a lag `a` on both sides, from sunset to the next minimum an
/// exponential fall,
///
/// ```text
/// day    s = sin(pi x / (D + 2 a))                   x hours after the minimum, D until sunset
/// night  s = s_sunset (e^(-b v) - e^-b) / (1 - e^-b)  v the part of the night that is past
/// ```
///
/// with the day's mean of `s` taken off, so that the daily mean stays what it is.
///
/// The *height* is not the mean daily range. That range is the mean of each day's highest minus
/// lowest hour, at whatever hour they fall; where the sun is low, fronts make most of it, and the
/// mean over many days is nearly flat. The law used here takes the sun's part from the height `h` of
/// the noon sun:
///
/// ```text
/// height = 0.85 (1 - exp(-h / 13.3 deg)) (mean daily maximum - mean daily minimum)
/// ```
///
/// It is a plain description of data, with no source beyond the fit: least squares over 3 climates
/// x 12 months x 24 hours of three public-domain typical years (TMY3 723170 at 36 N, 725300 at 42 N,
/// 702910 at 63 N; hours taken at their middle). A fourth (ERA5 typical year at 45 N 8 E) was held
/// back. Error in an hour's monthly mean, K:
///
/// | climate | rms | 90 % within | worst | of 288 beyond 1 K |
/// | --- | --- | --- | --- | --- |
/// | 36 N | 0.34 | 0.55 | 1.03 | 1 |
/// | 42 N | 0.51 | 0.83 | 1.13 | 6 |
/// | 63 N inland | 0.58 | 0.97 | 2.02 | 28 |
/// | 45 N (held back) | 0.46 | 0.72 | 1.39 | 6 |
///
/// The worst hours are April evenings at 63 N; from November to March the worst are 0.9, 1.0, 1.2 and
/// 1.4 K. One month of a typical year has no more than 31 days, so part of this is that month's chance.
/// Where it does not hold: by the sea in summer. Held against hourly normals of a maritime station at
/// 47.6 N (NOAA 1981-2010, with the daily range of 2012-2015), November to March is as good (90 % within
/// 0.8 K, worst 1.3 K), but from April to October the warmest hour comes up to two hours later than
/// here, and single hours are up to 2.9 K off.
///
/// The lags come out near Parton & Logan's own (1.86 h, 2.20, -0.17 h for air at 1.5 m).
#[derive(Clone, Debug)]
pub(super) struct DayShape {
    minimum_at_h: f64,
    light_h: f64,
    /// Height of the shape over the mean daily range, 0 to [`SUNNY_PART_OF_RANGE`].
    part_of_range: f64,
    /// Of the bare shape: at sunset, and the mean over the day.
    at_sunset: f64,
    mean: f64,
}

impl DayShape {
    pub(super) fn new(sun: &SunDay) -> Self {
        let (shortest, longest) = HALF_DAY_LIMITS_H;
        let half_day = 0.5 * sun.length_above(SUNRISE_ALTITUDE_DEG).as_hours();
        let half_day = clamp(half_day, shortest, longest);
        let sun_height = positive(sun.noon_elevation_deg());
        let mut shape = Self {
            minimum_at_h: sun.noon().as_hours() - half_day + MINIMUM_AFTER_SUNRISE_H,
            light_h: 2.0 * half_day - MINIMUM_AFTER_SUNRISE_H,
            part_of_range: SUNNY_PART_OF_RANGE
                * (1.0 - libm::exp(-sun_height / SUN_HEIGHT_SCALE_DEG)),
            at_sunset: 0.0,
            mean: 0.0,
        };
        shape.at_sunset = shape.by_day(shape.light_h);
        shape.mean = (0..24).map(|hour| shape.bare(hour)).sum::<f64>() / 24.0;
        shape
    }

    /// Deviation of an hour from the day's mean, in parts of the mean daily range; they sum to zero.
    pub(super) fn deviation(&self, hour: usize) -> f64 {
        (self.bare(hour) - self.mean) * self.part_of_range
    }

    #[cfg_attr(target_os = "none", inline(never))]
    fn bare(&self, hour: usize) -> f64 {
        let since_minimum = hour_start(hour) + 0.5 - self.minimum_at_h;
        let x = since_minimum - 24.0 * libm::floor(since_minimum / 24.0);
        if x < self.light_h {
            return self.by_day(x);
        }
        let night_past = (x - self.light_h) / (24.0 - self.light_h);
        self.at_sunset * (libm::exp(-NIGHT_DECAY * night_past) - FLOOR) / (1.0 - FLOOR)
    }

    fn by_day(&self, since_minimum_h: f64) -> f64 {
        libm::sin(core::f64::consts::PI * since_minimum_h / (self.light_h + 2.0 * MAXIMUM_LAG_H))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Day, Place};
    use proptest::prelude::*;

    fn shape(latitude_deg: f64, day: i32) -> [f64; 24] {
        let place = Place::new(latitude_deg, 0.0, 0.0).unwrap();
        let shape = DayShape::new(&SunDay::new(&place, Day::from_days_since_2000(day)));
        core::array::from_fn(|hour| shape.deviation(hour))
    }

    #[test]
    fn a_march_day_is_coldest_near_sunrise_and_warmest_after_noon() {
        let hours = shape(45.0, 80);
        let coldest = (0..24)
            .min_by(|a, b| hours[*a].total_cmp(&hours[*b]))
            .unwrap();
        let warmest = (0..24)
            .max_by(|a, b| hours[*a].total_cmp(&hours[*b]))
            .unwrap();
        assert!((5..=7).contains(&coldest), "{coldest}");
        assert!((13..=15).contains(&warmest), "{warmest}");
    }

    #[test]
    fn the_floor_is_what_is_left_of_the_nights_rate() {
        assert_eq!(FLOOR.to_bits(), libm::exp(-NIGHT_DECAY).to_bits());
    }

    #[test]
    fn polar_night_is_flat() {
        assert!(shape(80.0, 355).iter().all(|part| part.abs() < 1e-12));
    }

    proptest! {
        #[test]
        fn the_days_mean_is_kept_and_the_range_not_exceeded(
            latitude in -90.0..90.0_f64, day in 0..366_i32
        ) {
            let hours = shape(latitude, day);
            prop_assert!(hours.iter().sum::<f64>().abs() < 1e-9);
            let highest = hours.iter().copied().fold(f64::MIN, f64::max);
            let lowest = hours.iter().copied().fold(f64::MAX, f64::min);
            prop_assert!(highest - lowest <= SUNNY_PART_OF_RANGE);
        }
    }
}
