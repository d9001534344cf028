//! Gamma-distributed factors of mean 1.

use core::f64::consts::{PI, SQRT_2};
use core::fmt;

use super::elementary::exp_one;
use super::incomplete_gamma::{LogShares, log_shares};

/// Terms of the polynomial: the fewest with which shape 0.1, the hardest, keeps to 1e-4.
const TERMS: usize = 28;
/// The polynomial covers normal deviates from minus to plus this; [`uniform`](super::uniform) gives
/// none beyond 6.34.
const HIGHEST_DEVIATE: f64 = 6.4;

/// A shape that no quantile function is prepared for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GammaShapeError(
    /// The shape given.
    pub f64,
);

impl fmt::Display for GammaShapeError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let [least, most] = GammaQuantile::SHAPES;
        write!(f, "gamma shape {} is not from {least} to {most}", self.0)
    }
}

impl core::error::Error for GammaShapeError {}

/// Quantile function of a gamma distribution of mean 1, prepared for many evaluations.
///
/// `ln x` as a function of the normal deviate z at the same share is smooth and tame in both tails,
/// so one polynomial in z carries it (interpolation at Chebyshev nodes, textbook method). The share
/// below x is right to 1e-4 everywhere (the worst is shape 0.1; from shape 1 on 1e-6).
#[derive(Clone, Debug, PartialEq)]
pub struct GammaQuantile {
    /// Coefficients of `ln x` in powers of `z / HIGHEST_DEVIATE`.
    powers: [f64; TERMS],
}

impl GammaQuantile {
    /// Lowest and highest shape.
    pub const SHAPES: [f64; 2] = [0.1, 1000.0];

    /// Prepares a shape from 0.1 to 1000, dimensionless; the variance is 1 / shape. Costs some
    /// ten microseconds.
    ///
    /// # Errors
    /// [`GammaShapeError`] if the shape is out of that range or not a number.
    pub fn new(shape: f64) -> Result<Self, GammaShapeError> {
        let [least, most] = Self::SHAPES;
        if !(least..=most).contains(&shape) {
            return Err(GammaShapeError(shape));
        }
        let at_nodes = core::array::from_fn(|node| {
            log_quantile(shape, HIGHEST_DEVIATE * node_cosine(node, 1)) - libm::log(shape)
        });
        Ok(Self {
            powers: powers_of(chebyshev_coefficients(at_nodes)),
        })
    }

    /// The gamma factor, above 0, at the share where the standard normal distribution has `deviate`;
    /// from a normal number of mean 0 and variance 1 it makes a gamma one of mean 1 and variance
    /// 1 / shape. Deviates beyond ±6.4 count as ±6.4.
    // Inlined so that it is compiled for the instruction set of its caller.
    #[inline(always)]
    #[must_use]
    pub fn at<const L: usize>(&self, deviate: [f64; L]) -> [f64; L] {
        // No closure: one of this size would stay outside the loop as a function of its own.
        let mut lanes = deviate;
        for lane in &mut lanes {
            *lane = exp_one(self.log_at(*lane));
        }
        lanes
    }

    // Inlined into the loop over lanes, which is vectorised.
    #[inline(always)]
    fn log_at(&self, z: f64) -> f64 {
        let t = z * (1.0 / HIGHEST_DEVIATE);
        let t = if t > 1.0 { 1.0 } else { t };
        let t = if t < -1.0 { -1.0 } else { t };
        // Four powers at a time, which wait for each other less than one after the other.
        let square = t * t;
        let fourth = square * square;
        let (fours, _) = self.powers.as_chunks::<4>();
        fours.iter().rev().fold(0.0, |sum, [a, b, c, d]| {
            sum * fourth + ((a + b * t) + (c + d * t) * square)
        })
    }
}

/// ln of the gamma quantile (scale 1) at the share where the standard normal distribution has `z`.
///
/// Newton's method on the logarithm of the share in the nearer tail as a function of ln x. Both are
/// concave, as the density of ln x is log-concave, so it closes in from one side; a step is at most
/// 1, which keeps the first ones in range.
fn log_quantile(shape: f64, z: f64) -> f64 {
    const MAX_STEPS: u32 = 200;
    let upper = z > 0.0;
    let log_share = libm::log(0.5 * libm::erfc(libm::fabs(z) / SQRT_2));
    let mut log_x = if upper {
        libm::log(shape)
    } else {
        // Below this value the share is at most x^shape / Γ(shape + 1).
        (log_share + libm::lgamma(shape + 1.0)) / shape
    };
    for _ in 0..MAX_STEPS {
        let x = libm::exp(log_x);
        let LogShares { below, above } = log_shares(shape, x);
        let log_density = shape * log_x - x - libm::lgamma(shape);
        let step = if upper {
            (above - log_share) * libm::exp(above - log_density)
        } else {
            (log_share - below) * libm::exp(below - log_density)
        };
        let step = step.clamp(-1.0, 1.0);
        log_x += step;
        if libm::fabs(step) < 1e-12 {
            break;
        }
    }
    log_x
}

/// cos(order · θ) at the node's angle θ = π (node + ½) / TERMS.
fn node_cosine(node: usize, order: usize) -> f64 {
    libm::cos(PI * (order as f64) * (node as f64 + 0.5) / TERMS as f64)
}

/// Coefficients of the Chebyshev polynomials in the one that takes these values at the nodes.
fn chebyshev_coefficients(at_nodes: [f64; TERMS]) -> [f64; TERMS] {
    core::array::from_fn(|order| {
        let sum: f64 = at_nodes
            .iter()
            .enumerate()
            .map(|(node, value)| value * node_cosine(node, order))
            .sum();
        sum * if order == 0 { 1.0 } else { 2.0 } / TERMS as f64
    })
}

/// The same polynomial in powers, by `T[n+1] = 2 t T[n] - T[n-1]`.
fn powers_of(chebyshev: [f64; TERMS]) -> [f64; TERMS] {
    let mut powers = [0.0; TERMS];
    // T[0] = 1, and T[-1] = T[1] = t.
    let mut before = core::array::from_fn(|power| if power == 1 { 1.0 } else { 0.0 });
    let mut current: [f64; TERMS] =
        core::array::from_fn(|power| if power == 0 { 1.0 } else { 0.0 });
    for coefficient in chebyshev {
        for (sum, term) in powers.iter_mut().zip(&current) {
            *sum += coefficient * term;
        }
        let lower = core::iter::once(&0.0).chain(&current);
        let mut next = [0.0; TERMS];
        for ((next, lower), before) in next.iter_mut().zip(lower).zip(&before) {
            *next = 2.0 * lower - before;
        }
        before = current;
        current = next;
    }
    powers
}

#[cfg(test)]
mod tests {
    use super::*;

    const SHAPES: [f64; 8] = [0.1, 0.25, 0.7, 1.0, 3.0, 20.0, 150.0, 1000.0];

    fn below(z: f64) -> f64 {
        0.5 * libm::erfc(-z / SQRT_2)
    }

    #[test]
    fn share_below_the_quantile_is_the_normal_share() {
        for shape in SHAPES {
            let quantile = GammaQuantile::new(shape).unwrap();
            let mut worst: f64 = 0.0;
            for step in -630..=630 {
                let z = f64::from(step) / 100.0;
                let [factor] = quantile.at([z]);
                let share = libm::exp(log_shares(shape, shape * factor).below);
                worst = worst.max((share - below(z)).abs());
            }
            assert!(
                worst < if shape < 1.0 { 1e-4 } else { 1e-6 },
                "{shape}: {worst:e}"
            );
        }
    }

    /// Trapezoids over z, whose error vanishes faster than any power here: the integrand and all its
    /// derivatives die out at both ends.
    #[test]
    fn mean_is_one_and_variance_one_over_shape() {
        const STEP: f64 = 1.0 / 64.0;
        for shape in SHAPES {
            let quantile = GammaQuantile::new(shape).unwrap();
            let moment = |power: i32| {
                let steps = (HIGHEST_DEVIATE / STEP) as i32;
                (-steps..=steps)
                    .map(|step| f64::from(step) * STEP)
                    .map(|z| {
                        let density = libm::exp(-0.5 * z * z) / libm::sqrt(2.0 * PI);
                        let [factor] = quantile.at([z]);
                        density * libm::pow(factor, f64::from(power)) * STEP
                    })
                    .sum::<f64>()
            };
            let mean = moment(1);
            let variance = moment(2) - mean * mean;
            assert!((mean - 1.0).abs() < 1e-3, "{shape}: mean {mean}");
            assert!((variance * shape - 1.0).abs() < 0.01, "{shape}: {variance}");
        }
    }

    #[test]
    fn quantile_rises() {
        for shape in SHAPES {
            let quantile = GammaQuantile::new(shape).unwrap();
            let mut last = 0.0;
            for step in -640..=640 {
                let [factor] = quantile.at([f64::from(step) / 100.0]);
                assert!(factor > last, "{shape} {step}");
                last = factor;
            }
        }
    }

    #[test]
    fn other_shapes_are_refused() {
        for shape in [0.0, -1.0, 0.099, 1001.0, f64::INFINITY] {
            assert_eq!(GammaQuantile::new(shape), Err(GammaShapeError(shape)));
        }
        assert!(GammaQuantile::new(f64::NAN).is_err());
    }
}
