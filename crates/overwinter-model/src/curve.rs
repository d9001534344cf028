//! A quantity against another as straight lines between points.

use heapless::Vec;
use serde::{Deserialize, Serialize};

/// The most points a [`Curve`] holds.
pub const MAX_POINTS: usize = 24;

/// Why a [`Curve`] could not be made.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub enum CurveError {
    /// A curve needs two points or more; this many were given.
    TooFewPoints(usize),
    /// A curve holds at most [`MAX_POINTS`]; this many were given.
    TooManyPoints(usize),
    /// A coordinate is not a number.
    NotFinite,
    /// The first coordinate must rise from point to point; it does not after this value.
    NotRising(f64),
}

impl core::fmt::Display for CurveError {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        match self {
            Self::TooFewPoints(n) => write!(f, "a curve needs two points or more, got {n}"),
            Self::TooManyPoints(n) => write!(f, "a curve holds {MAX_POINTS} points, got {n}"),
            Self::NotFinite => write!(f, "a curve's points must be numbers"),
            Self::NotRising(x) => write!(f, "a curve must rise along its first axis after {x}"),
        }
    }
}

impl core::error::Error for CurveError {}

/// Straight lines between points, level beyond the first and the last, with its integral.
///
/// ```
/// use overwinter_model::Curve;
/// let curve = Curve::new(&[(0.0, 1.6), (1.0, 0.8)])?;
/// assert!((curve.at(0.25) - 1.4).abs() < 1e-12);
/// assert!((curve.integral_to(0.5) - 0.7).abs() < 1e-12); // mean of 1.6 and 1.2, times 0.5
/// # Ok::<(), overwinter_model::CurveError>(())
/// ```
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Curve {
    points: Vec<(f64, f64), MAX_POINTS>,
}

impl Curve {
    /// A curve through `points`, given as (first axis, second axis).
    ///
    /// # Errors
    /// [`CurveError`] if there are fewer than two or more than [`MAX_POINTS`] points, if a
    /// coordinate is not finite, or if the first coordinate does not rise.
    pub fn new(points: &[(f64, f64)]) -> Result<Self, CurveError> {
        if points.len() < 2 {
            return Err(CurveError::TooFewPoints(points.len()));
        }
        if points.iter().any(|(x, y)| !x.is_finite() || !y.is_finite()) {
            return Err(CurveError::NotFinite);
        }
        for pair in points.windows(2) {
            if let [(x0, _), (x1, _)] = pair
                && x1 <= x0
            {
                return Err(CurveError::NotRising(*x0));
            }
        }
        Vec::from_slice(points)
            .map(|points| Self { points })
            .map_err(|_| CurveError::TooManyPoints(points.len()))
    }

    /// The points it was made from.
    #[must_use]
    pub fn points(&self) -> &[(f64, f64)] {
        &self.points
    }

    /// The value at `x`.
    #[must_use]
    pub fn at(&self, x: f64) -> f64 {
        let mut before: Option<(f64, f64)> = None;
        for &(x1, y1) in &self.points {
            if x < x1 {
                return match before {
                    Some((x0, y0)) => y0 + (y1 - y0) * (x - x0) / (x1 - x0),
                    None => y1,
                };
            }
            before = Some((x1, y1));
        }
        before.map_or(0.0, |(_, y)| y)
    }

    /// The area under the curve from its first point to `x`; exact for the straight lines.
    ///
    /// Beyond either end the level parts count too, so the result is smooth there.
    #[must_use]
    pub fn integral_to(&self, x: f64) -> f64 {
        let mut area = 0.0;
        let mut before: Option<(f64, f64)> = None;
        for &(x1, y1) in &self.points {
            match before {
                None if x < x1 => return (x - x1) * y1,
                None => {}
                Some((x0, y0)) if x < x1 => {
                    let y = y0 + (y1 - y0) * (x - x0) / (x1 - x0);
                    return area + 0.5 * (y0 + y) * (x - x0);
                }
                Some((x0, y0)) => area += 0.5 * (y0 + y1) * (x1 - x0),
            }
            before = Some((x1, y1));
        }
        before.map_or(area, |(x0, y0)| area + (x - x0) * y0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn unusable_points_are_refused() {
        assert_eq!(Curve::new(&[(0.0, 1.0)]), Err(CurveError::TooFewPoints(1)));
        assert_eq!(
            Curve::new(&[(0.0, 1.0), (0.0, 2.0)]),
            Err(CurveError::NotRising(0.0))
        );
        assert_eq!(
            Curve::new(&[(0.0, f64::NAN), (1.0, 2.0)]),
            Err(CurveError::NotFinite)
        );
        let many: [(f64, f64); 25] = core::array::from_fn(|i| (i as f64, 0.0));
        assert_eq!(Curve::new(&many), Err(CurveError::TooManyPoints(25)));
    }

    proptest! {
        #[test]
        fn integral_adds_up_over_a_split(a in -0.5..1.5_f64, b in -0.5..1.5_f64) {
            let curve = Curve::new(&[(0.0, 1.6), (0.1, 1.5), (0.8, 1.1), (1.0, 0.8)]).unwrap();
            let steps = 4000;
            let h = (b - a) / f64::from(steps);
            let sum: f64 = (0..steps).map(|i| curve.at(a + (f64::from(i) + 0.5) * h) * h).sum();
            let exact = curve.integral_to(b) - curve.integral_to(a);
            prop_assert!((sum - exact).abs() < 1e-6, "{sum} {exact}");
        }
    }
}
