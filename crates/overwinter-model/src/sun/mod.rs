//! Where the sun stands, and when it stands above a given height.
//!
//! The position is the low-precision sun of Meeus, *Astronomical Algorithms*, 2nd ed. 1998, chapter
//! 25, with the sidereal time of chapter 12: no table of periodic terms, and within 0.01 degrees of
//! the long solutions from 1950 to 2050. The clock is read as UT1 and as dynamical time at once;
//! their difference (30 to 95 s in that century) moves the sun by at most 0.001 degrees.
//!
//! Everything is geometric: no refraction. Sunrise therefore asks for [`SUNRISE_ALTITUDE_DEG`].

mod day;
mod direction;
mod spans;

pub(crate) use day::hour_start;
pub use day::{SunAbove, SunDay, share_below};
pub use direction::Direction;

use core::f64::consts::{PI, TAU};

use crate::arithmetic::{clamp, polynomial};
use crate::{Day, Place, Time};

/// Height of the sun's centre at sunrise and sunset: half a degree and some of refraction at the
/// horizon plus the sun's radius. Common practice of almanacs (Meeus, ch. 15).
pub const SUNRISE_ALTITUDE_DEG: f64 = -0.8333;

/// Height of the sun's centre at civil dawn and dusk, by definition.
pub const CIVIL_TWILIGHT_ALTITUDE_DEG: f64 = -6.0;

/// The sun's horizontal parallax at mean distance, 8.794 arc seconds (Meeus, ch. 40).
const PARALLAX_DEG: f64 = 8.794 / 3600.0;

/// Where the sun's centre stands, seen from the ground, without refraction.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SunPosition {
    /// Degrees above the horizon.
    pub elevation_deg: f64,
    /// Degrees from north through east, 0 to 360.
    pub azimuth_deg: f64,
}

/// The sun's place in the sky that turns with the earth.
#[derive(Clone, Copy)]
struct Equatorial {
    declination_rad: f64,
    /// Local hour angle, zero when the sun is due south or north, positive after noon.
    hour_angle_rad: f64,
}

/// The sun's anomaly so many times, and the height of that wave in the equation of the centre, degrees: a
/// polynomial of the centuries.
const EQUATION_OF_CENTRE: [(f64, &[f64]); 3] = [
    (1.0, &[1.914_602, -0.004_817, -0.000_014]),
    (2.0, &[0.019_993, -0.000_101]),
    (3.0, &[0.000_289]),
];

/// The sun at a moment of local standard time, by the low-precision method of Meeus, ch. 25.
fn equatorial(place: &Place, day: Day, since_midnight: Time) -> Equatorial {
    // Whole days and the fraction are kept apart: days times 361 degrees would cost digits.
    let whole_days = f64::from(day.days_since_2000());
    let fraction = (since_midnight - place.utc_offset()).as_days();
    let centuries = (whole_days - 0.5 + fraction) / 36_525.0; // since 2000-01-01 12:00
    let t = centuries;

    let mean_longitude_deg = polynomial(t, &[280.46646, 36_000.769_83, 0.000_303_2]);
    let anomaly = polynomial(t, &[357.52911, 35_999.050_29, -0.000_153_7]).to_radians();
    let equation_of_centre_deg: f64 = EQUATION_OF_CENTRE
        .iter()
        .map(|(times, height)| polynomial(t, height) * libm::sin(times * anomaly))
        .sum();
    let (sin_node, cos_node) = libm::sincos((125.04 - 1934.136 * t).to_radians());

    // Nutation and aberration, as the chapter abridges them.
    let nutation_deg = -0.00478 * sin_node;
    let longitude = mean_longitude_deg + equation_of_centre_deg - 0.00569 + nutation_deg;
    let (sin_longitude, cos_longitude) = libm::sincos(longitude.to_radians());
    let obliquity = 23.439_291 - 0.013_004_2 * t + 0.00256 * cos_node;
    let (sin_obliquity, cos_obliquity) = libm::sincos(obliquity.to_radians());

    let right_ascension = libm::atan2(cos_obliquity * sin_longitude, cos_longitude);
    // Formula 12.4, started at midnight: 280.46061837 is half a turn and half a day's drift later.
    let sidereal_deg = 280.460_618_37 - 0.5 * 360.985_647_366_29
        + 0.985_647_366_29 * whole_days
        + 360.985_647_366_29 * fraction
        + 0.000_387_933 * t * t
        + nutation_deg * cos_obliquity;
    Equatorial {
        declination_rad: libm::asin(sin_obliquity * sin_longitude),
        hour_angle_rad: (sidereal_deg + place.longitude_deg()).to_radians() - right_ascension,
    }
}

/// Where the sun stands at a moment of local standard time; `since_midnight` may lie outside the
/// day. Within 0.02 degrees from 1950 to 2050.
///
/// ```
/// use overwinter_model::{Day, Place, Time, sun_position};
/// // 2003-10-17 12:30:30, the worked example of NREL/TP-560-34302 (Reda & Andreas): elevation
/// // 39.872046 without refraction, azimuth 194.340241.
/// let place = Place::new(39.742476, -105.1786, -7.0)?;
/// let day = Day::from_days_since_2000(1385);
/// let sun = sun_position(&place, day, Time::from_hours(12.0 + 30.5 / 60.0));
/// assert!((sun.elevation_deg - 39.872).abs() < 0.01);
/// assert!((sun.azimuth_deg - 194.340).abs() < 0.01);
/// # Ok::<(), overwinter_model::PlaceError>(())
/// ```
#[must_use]
pub fn sun_position(place: &Place, day: Day, since_midnight: Time) -> SunPosition {
    let sun = equatorial(place, day, since_midnight);
    let (sin_lat, cos_lat) = libm::sincos(place.latitude_deg().to_radians());
    let (sin_dec, cos_dec) = libm::sincos(sun.declination_rad);
    let (sin_hour, cos_hour) = libm::sincos(sun.hour_angle_rad);
    // sin h = sin phi sin delta + cos phi cos delta cos H (Meeus 13.6)
    let sine = sin_lat * sin_dec + cos_lat * cos_dec * cos_hour;
    let elevation = libm::asin(clamp(sine, -1.0, 1.0));
    // Both sides of Meeus 13.5 times cos delta, so that it holds at the poles; from the south there.
    let azimuth_from_south = libm::atan2(
        sin_hour * cos_dec,
        cos_hour * cos_dec * sin_lat - sin_dec * cos_lat,
    );
    SunPosition {
        elevation_deg: elevation.to_degrees() - PARALLAX_DEG * libm::cos(elevation),
        azimuth_deg: wrap(azimuth_from_south + PI).to_degrees(),
    }
}

/// The height, degrees, that has this sine; beyond those of a height count as the nearest.
fn height_deg(sine: f64) -> f64 {
    libm::asin(clamp(sine, -1.0, 1.0)).to_degrees()
}

/// Into 0 to a full turn.
pub(crate) fn wrap(angle_rad: f64) -> f64 {
    angle_rad - TAU * libm::floor(angle_rad / TAU)
}

/// Sine of the height that the sun's centre has from the centre of the earth when it stands at
/// `altitude_deg` from the ground.
pub(crate) fn geocentric_sine(altitude_deg: f64) -> f64 {
    let parallax_deg = PARALLAX_DEG * libm::cos(altitude_deg.to_radians());
    libm::sin((altitude_deg + parallax_deg).to_radians())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn right_ascension_and_declination_follow_meeus_example_25a() {
        // 1992-10-13 0 h: right ascension 198.38083, declination -7.78507 degrees; example 12.a's
        // formula gives the sidereal time at Greenwich that day.
        let place = Place::new(0.0, 0.0, 0.0).unwrap();
        let day = Day::from_days_since_2000(-2636);
        let sun = equatorial(&place, day, Time::ZERO);
        assert!((sun.declination_rad.to_degrees() + 7.78507).abs() < 1e-4);
        let sidereal_deg: f64 = 21.801_337; // 280.46061837 + 360.98564736629 (2448908.5 - 2451545)
        let right_ascension = wrap(sidereal_deg.to_radians() - sun.hour_angle_rad).to_degrees();
        assert!(
            (right_ascension - 198.38083).abs() < 0.005,
            "{right_ascension}"
        );
    }
}
