//! Hills, walls and forest edges: how high the horizon stands by direction.

use heapless::Vec;

use crate::Direction;

/// The most points of a horizon.
pub(super) const MOST_POINTS: usize = 36;

/// Directions over which the sky that is left is averaged.
const SAMPLES: u16 = 72;

/// The height of the horizon by direction: straight lines between points, around the circle.
#[derive(Clone, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[cfg_attr(
    feature = "serde",
    serde(try_from = "super::stored::Horizon", into = "super::stored::Horizon")
)]
pub struct Horizon {
    /// Azimuth and height in degrees, by rising azimuth.
    pub(super) points: Vec<(f64, f64), MOST_POINTS>,
    sky_left: f64,
}

impl Horizon {
    /// Open to the sea line all around.
    #[must_use]
    pub const fn flat() -> Self {
        Self {
            points: Vec::new(),
            sky_left: 1.0,
        }
    }

    /// From azimuths (degrees from north through east, rising, 0 to below 360) and heights
    /// (degrees, 0 to 90), at most 36 of them. One point stands for all directions, none for a
    /// flat horizon.
    ///
    /// # Errors
    /// [`HorizonError`] with the point that breaks the rule.
    pub fn new(points: &[(f64, f64)]) -> Result<Self, HorizonError> {
        if points.len() > MOST_POINTS {
            return Err(HorizonError::TooMany(points.len()));
        }
        let mut horizon = Self::flat();
        horizon.rise(points.iter().copied())?;
        Ok(horizon)
    }

    /// Makes a flat horizon one with these points, where it stays: it is large for a small device's stack.
    pub(crate) fn rise(
        &mut self,
        points: impl Iterator<Item = (f64, f64)>,
    ) -> Result<(), HorizonError> {
        for (azimuth_deg, height_deg) in points {
            let last = self.points.last();
            if !(0.0..360.0).contains(&azimuth_deg) || last.is_some_and(|at| azimuth_deg <= at.0) {
                return Err(HorizonError::Azimuth(azimuth_deg));
            }
            if !(0.0..=90.0).contains(&height_deg) {
                return Err(HorizonError::Height(height_deg));
            }
            let pushed = self.points.push((azimuth_deg, height_deg));
            pushed.map_err(|_| HorizonError::TooMany(MOST_POINTS + 1))?;
        }
        self.sky_left = self.mean_sky_left();
        Ok(())
    }

    /// Degrees above the level, in a direction in degrees from north through east.
    #[must_use]
    pub fn height_deg(&self, azimuth_deg: f64) -> f64 {
        let (Some(&first), Some(&last)) = (self.points.first(), self.points.last()) else {
            return 0.0;
        };
        let (mut from, mut from_height) = (last.0 - 360.0, last.1);
        let (mut to, mut to_height) = (first.0 + 360.0, first.1);
        for &(at, height) in &self.points {
            if at > azimuth_deg {
                (to, to_height) = (at, height);
                break;
            }
            (from, from_height) = (at, height);
        }
        from_height + (to_height - from_height) * (azimuth_deg - from) / (to - from)
    }

    /// Whether something in this direction is hidden.
    #[must_use]
    pub fn hides(&self, direction: Direction) -> bool {
        !self.points.is_empty()
            && direction.elevation_deg() < self.height_deg(direction.azimuth_deg())
    }

    /// The share of an even sky's light on the horizontal that is left.
    #[must_use]
    pub fn sky_left(&self) -> f64 {
        self.sky_left
    }

    /// ```text
    /// 1 − mean of sin² h over all directions
    /// ```
    ///
    /// Source: the integral of an even sky's light over the dome above `h`.
    fn mean_sky_left(&self) -> f64 {
        let hidden = (0..SAMPLES).map(|sample| {
            let azimuth_deg = f64::from(sample) * 360.0 / f64::from(SAMPLES);
            let sine = libm::sin(self.height_deg(azimuth_deg).to_radians());
            sine * sine / f64::from(SAMPLES)
        });
        1.0 - hidden.sum::<f64>()
    }
}

impl Default for Horizon {
    fn default() -> Self {
        Self::flat()
    }
}

/// Why a [`Horizon`] could not be made. Each variant carries the value that broke the rule.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub enum HorizonError {
    /// Degrees; must lie between 0 and 360 and be greater than the one before.
    Azimuth(f64),
    /// Degrees; must lie between 0 and 90.
    Height(f64),
    /// At most 36 points; this many were given.
    TooMany(usize),
}

impl core::fmt::Display for HorizonError {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        match self {
            Self::Azimuth(x) => write!(
                f,
                "azimuth {x} is not between 0 and 360 degrees, or not greater than the one before"
            ),
            Self::Height(x) => write!(f, "height {x} is not between 0 and 90 degrees"),
            Self::TooMany(n) => write!(f, "{n} points; a horizon has at most {MOST_POINTS}"),
        }
    }
}

impl core::error::Error for HorizonError {}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn heights_run_straight_between_points_and_around_north() {
        let horizon = Horizon::new(&[(90.0, 10.0), (270.0, 20.0)]).unwrap();
        for (azimuth, height) in [(90.0, 10.0), (180.0, 15.0), (270.0, 20.0), (0.0, 15.0)] {
            assert!((horizon.height_deg(azimuth) - height).abs() < 1e-9);
        }
        assert!(horizon.hides(Direction::from_angles(14.0, 180.0)));
        assert!(!horizon.hides(Direction::from_angles(16.0, 180.0)));
    }

    #[test]
    fn points_out_of_order_or_range_are_refused() {
        let refused = |points: &[(f64, f64)]| Horizon::new(points).unwrap_err();
        assert_eq!(refused(&[(360.0, 1.0)]), HorizonError::Azimuth(360.0));
        let twice = [(10.0, 1.0), (10.0, 2.0)];
        assert_eq!(refused(&twice), HorizonError::Azimuth(10.0));
        assert_eq!(refused(&[(10.0, 91.0)]), HorizonError::Height(91.0));
        let many: std::vec::Vec<_> = (0..37).map(|at| (f64::from(at), 1.0)).collect();
        assert_eq!(refused(&many), HorizonError::TooMany(37));
    }

    proptest! {
        #[test]
        fn an_even_rim_leaves_the_cosine_squared(height in 0.0..90.0_f64) {
            let horizon = Horizon::new(&[(0.0, height)]).unwrap();
            let cos = libm::cos(height.to_radians());
            prop_assert!((horizon.sky_left() - cos * cos).abs() < 1e-9);
        }
    }
}
