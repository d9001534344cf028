//! The sun as the light's source at one moment.

use core::f64::consts::TAU;

use super::air::{pressure_share, refraction_deg};
use crate::arithmetic::clamp;
use crate::{Day, Direction, Irradiance, SunDay, Time};

/// Light of the sun outside the atmosphere at its mean distance: 1366.1 W/m2 (ASTM E490-00a).
pub(super) const SOLAR_CONSTANT: Irradiance = Irradiance::from_w_per_m2(1366.1);

/// The sun at one moment over one place, with all that light asks of it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sun {
    /// Where its centre seems to stand: with refraction.
    pub apparent: Direction,
    /// Sine of the height at which its centre does stand: the cosine of the true zenith angle.
    pub up: f64,
    /// Light outside the atmosphere on a plane that faces it.
    pub outside: Irradiance,
    /// Pressure of the air at the place as a share of that at sea level.
    pub pressure_share: f64,
}

impl Sun {
    /// The sun of a day at a moment, for a place `elevation_m` above the sea.
    #[must_use]
    pub fn at(sun: &SunDay, since_midnight: Time, outside: Irradiance, elevation_m: f64) -> Self {
        Self::over(
            sun.direction(since_midnight),
            outside,
            pressure_share(elevation_m),
        )
    }

    /// The sun from where its centre stands without refraction.
    #[must_use]
    pub(super) fn over(direction: Direction, outside: Irradiance, pressure_share: f64) -> Self {
        let refraction = refraction_deg(direction.elevation_deg(), pressure_share);
        Self {
            apparent: direction.raised(refraction.to_radians()),
            up: direction.up(),
            outside,
            pressure_share,
        }
    }

    /// The true zenith angle, degrees.
    pub(super) fn zenith_deg(&self) -> f64 {
        libm::acos(clamp(self.up, -1.0, 1.0)).to_degrees()
    }

    /// The zenith angle with refraction, degrees.
    pub(super) fn apparent_zenith_deg(&self) -> f64 {
        90.0 - self.apparent.elevation_deg()
    }
}

/// Light outside the atmosphere on a plane that faces the sun, by the day of the year.
///
/// ```text
/// G₀ₙ = 1366.1 W/m² (1.00011 + 0.034221 cos B + 0.00128 sin B + 0.000719 cos 2B + 0.000077 sin 2B)
/// ```
///
/// with `B = 2π (n − 1) / 365`. Source: Spencer, "Fourier series representation of the position of
/// the sun", Search 2(5), 1971.
#[must_use]
pub fn outside_atmosphere(day: Day) -> Irradiance {
    let turn = TAU * (f64::from(day.day_of_year()) - 1.0) / 365.0;
    let (sin, cos) = libm::sincos(turn);
    let (sin_twice, cos_twice) = (2.0 * sin * cos, cos * cos - sin * sin);
    SOLAR_CONSTANT
        * (1.000_11
            + 0.034_221 * cos
            + 0.001_28 * sin
            + 0.000_719 * cos_twice
            + 0.000_077 * sin_twice)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_sun_is_nearest_in_january() {
        let of = |day| outside_atmosphere(Day::from_days_since_2000(day)).as_w_per_m2();
        // 1366.1 W/m2 over the square of the distance: 0.98331 au on 3 January, 1.01673 on 4 July.
        assert!((of(2) - 1366.1 / 0.983_31_f64.powi(2)).abs() < 2.0);
        assert!((of(185) - 1366.1 / 1.016_73_f64.powi(2)).abs() < 2.0);
    }
}
