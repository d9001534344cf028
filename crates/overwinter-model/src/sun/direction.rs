//! A direction in the sky over a place.

use core::f64::consts::{FRAC_PI_2, PI};

use super::{height_deg, wrap};

/// A direction as a unit vector: east, north, up.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Direction {
    east: f64,
    north: f64,
    up: f64,
}

impl Direction {
    /// From the three parts of a vector of length one.
    pub(crate) const fn new(east: f64, north: f64, up: f64) -> Self {
        Self { east, north, up }
    }

    /// From degrees above the horizon and degrees from north through east.
    #[must_use]
    pub fn from_angles(elevation_deg: f64, azimuth_deg: f64) -> Self {
        let (up, along) = libm::sincos(elevation_deg.to_radians());
        let (east, north) = libm::sincos(azimuth_deg.to_radians());
        Self::new(east * along, north * along, up)
    }

    /// Sine of the height above the horizon, which is the cosine of the zenith angle.
    #[must_use]
    pub fn up(self) -> f64 {
        self.up
    }

    /// Degrees above the horizon, negative below it.
    #[must_use]
    pub fn elevation_deg(self) -> f64 {
        height_deg(self.up)
    }

    /// Degrees from north through east, 0 to 360.
    #[must_use]
    pub fn azimuth_deg(self) -> f64 {
        wrap(FRAC_PI_2 - libm::atan2(self.north, self.east)).to_degrees()
    }

    /// The same azimuth `by_rad` higher up; at the zenith itself nothing moves.
    #[must_use]
    pub(crate) fn raised(self, by_rad: f64) -> Self {
        let along = libm::sqrt(self.east * self.east + self.north * self.north);
        if along < 1e-9 {
            return self;
        }
        // sin (h + r) and cos (h + r)
        let (sin, cos) = libm::sincos(by_rad);
        let stretch = cos - sin * self.up / along;
        Self {
            east: self.east * stretch,
            north: self.north * stretch,
            up: self.up * cos + along * sin,
        }
    }

    /// Cosine of the angle to another direction.
    #[must_use]
    pub fn cos_to(self, other: Self) -> f64 {
        self.east * other.east + self.north * other.north + self.up * other.up
    }

    /// The angle to another direction, 0 to 180 degrees.
    #[must_use]
    pub fn angle_deg(self, other: Self) -> f64 {
        // Half the chord keeps its digits where the cosine has none left.
        let [east, north, up] = [
            self.east - other.east,
            self.north - other.north,
            self.up - other.up,
        ];
        let half_chord = libm::sqrt(east * east + north * north + up * up) / 2.0;
        if half_chord >= 1.0 {
            return PI.to_degrees();
        }
        (2.0 * libm::asin(half_chord)).to_degrees()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn angles_survive_the_round_trip(elevation in -89.0..89.0_f64, azimuth in 0.0..359.9_f64) {
            let direction = Direction::from_angles(elevation, azimuth);
            prop_assert!((direction.elevation_deg() - elevation).abs() < 1e-9);
            prop_assert!((direction.azimuth_deg() - azimuth).abs() < 1e-9);
        }

        #[test]
        fn raising_moves_the_height_alone(
            elevation in -89.0..80.0_f64, azimuth in 0.0..359.9_f64, by in 0.0..5.0_f64,
        ) {
            let raised = Direction::from_angles(elevation, azimuth).raised(by.to_radians());
            prop_assert!((raised.elevation_deg() - elevation - by).abs() < 1e-9);
            prop_assert!((raised.azimuth_deg() - azimuth).abs() < 1e-9);
        }

        #[test]
        fn the_angle_has_the_cosine(
            one in (-90.0..90.0_f64, 0.0..360.0_f64), other in (-90.0..90.0_f64, 0.0..360.0_f64),
        ) {
            let (one, other) =
                (Direction::from_angles(one.0, one.1), Direction::from_angles(other.0, other.1));
            let cosine = libm::cos(one.angle_deg(other).to_radians());
            prop_assert!((cosine - one.cos_to(other)).abs() < 1e-12);
        }
    }
}
