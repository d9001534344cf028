//! How clear days are: at most, and those that stand for a month.

use crate::arithmetic::clamp;

/// No day is clearer than this: what comes through on the clearest days of high dry places (from
/// memory; the clear-sky models here give 0.7 to 0.8).
pub(super) const CLEAREST: f64 = 0.85;

const SQRT_3: f64 = 1.732_050_807_568_877_2;

/// Weights, and standard deviations away from the mean.
const POINTS: [(f64, f64); 3] = [(1.0 / 6.0, -SQRT_3), (2.0 / 3.0, 0.0), (1.0 / 6.0, SQRT_3)];

/// Three clearnesses with their weights that stand for a month's days of this mean and spread.
///
/// ```text
/// k̄ − √3 σ, k̄, k̄ + √3 σ  with  1/6, 2/3, 1/6
/// ```
///
/// A panel's light bends with clearness: a month of days at the mean loses 10 to 60 % of December's
/// light on a tilted plane, since the few clear days bring most of it. Source: Gauss-Hermite
/// quadrature of three nodes, exact for a normal law and polynomials up to the fifth degree.
pub fn clearness_points(mean: f64, spread: f64) -> impl Iterator<Item = (f64, f64)> {
    POINTS
        .iter()
        .map(move |&(weight, away)| (weight, clamp(mean + away * spread, 0.0, CLEAREST)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn the_points_keep_mean_and_spread(mean in 0.3..0.55_f64, spread in 0.0..0.15_f64) {
            let points: std::vec::Vec<_> = clearness_points(mean, spread).collect();
            let weights: f64 = points.iter().map(|point| point.0).sum();
            let first: f64 = points.iter().map(|(w, k)| w * k).sum();
            let second: f64 = points.iter().map(|(w, k)| w * (k - first).powi(2)).sum();
            prop_assert!((weights - 1.0).abs() < 1e-12 && (first - mean).abs() < 1e-12);
            prop_assert!((second - spread * spread).abs() < 1e-12);
        }
    }
}
