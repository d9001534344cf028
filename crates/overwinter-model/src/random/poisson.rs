//! Poisson-distributed counts.

use super::elementary::{exp, floor_one, inverse_sqrt_one};
use super::lanes::{map, zip};
use super::normal::normal;

/// Means from here on take the expansion. Its distribution function would be good enough (2e-4) from
/// 6 on, but up to here adding up costs less, the more so as lanes of both kinds cost both.
const MANY: f64 = 16.0;

/// Quantile of the Poisson distribution of this mean, 0 to 1e6, at `u`, above 0 and below 1: a whole
/// number. A mean that is negative or not a number gives 0.
///
/// Below a mean of 16 by adding up probabilities, exact. From there on by an expansion: the quantile
/// is the largest whole number not above
///
/// ```text
/// m + √m z + (1/3 + z²/6) - (z + z³/2) / (36 √m) + (-8/405 + 7 z²/810 + z⁴/270) / m
/// ```
///
/// with z the normal quantile at `u`. Source: Giles 2016, Algorithm 955, ACM Transactions on
/// Mathematical Software 42(1), the expansion in 1/√m; coefficients from memory, the first three
/// terms agreeing with Cornish and Fisher's plus the correction for whole numbers, all of them
/// tested below.
// Inlined so that it is compiled for the instruction set of its caller.
#[inline(always)]
#[must_use]
pub fn poisson<const L: usize>(mean: [f64; L], u: [f64; L]) -> [f64; L] {
    // A lane with a large mean is searched with mean 0, which ends at once.
    let searched = |mean| if mean > 0.0 && mean < MANY { mean } else { 0.0 };
    let few = search(map(mean, searched), u);
    let any_many = mean.iter().fold(false, |any, mean| any | (*mean >= MANY));
    if !any_many {
        return few;
    }
    let mut counts = zip(mean, normal(u), expansion);
    for ((count, few), mean) in counts.iter_mut().zip(few).zip(mean) {
        *count = if mean >= MANY { *count } else { few };
    }
    counts
}

/// How many of the partial sums of the probabilities lie below `u`.
// Inlined so that it is compiled for the instruction set of its caller.
#[inline(always)]
fn search<const L: usize>(mean: [f64; L], u: [f64; L]) -> [f64; L] {
    /// At a mean of 16 the share above 64 is 4e-20: only rounding of the sum can get there.
    const HIGHEST: u32 = 64;
    /// Whether all lanes are done is asked after so many sums, as asking costs more than a sum.
    const AT_ONCE: usize = 4;
    let mut probability = exp(map(mean, |mean| -mean));
    let mut sum = probability;
    let mut count = [0.0; L];
    for block in 0..HIGHEST / AT_ONCE as u32 {
        let mut inverses = [0.0; AT_ONCE];
        for (inverse, n) in inverses.iter_mut().zip(1 + block * AT_ONCE as u32..) {
            *inverse = 1.0 / f64::from(n);
        }
        let lanes = count.iter_mut().zip(&mut sum).zip(&mut probability);
        for ((((count, sum), probability), mean), u) in lanes.zip(mean).zip(u) {
            for inverse in inverses {
                *count += if u > *sum { 1.0 } else { 0.0 };
                *probability *= mean * inverse;
                *sum += *probability;
            }
        }
        let open = u
            .iter()
            .zip(&sum)
            .fold(false, |open, (u, sum)| open | (u > sum));
        if !open {
            break;
        }
    }
    count
}

// Inlined into the loop over lanes, which is vectorised.
#[inline(always)]
fn expansion(mean: f64, z: f64) -> f64 {
    // Lanes that are not meant are kept in range as well.
    let mean = if mean > MANY { mean } else { MANY };
    let inverse_root = inverse_sqrt_one(mean);
    let root = mean * inverse_root;
    let square = z * z;
    let first = 1.0 / 3.0 + square * (1.0 / 6.0);
    let second = z * (-1.0 / 36.0 - square * (1.0 / 72.0));
    let third = -8.0 / 405.0 + square * (7.0 / 810.0 + square * (1.0 / 270.0));
    let quantile = mean + root * z + first + inverse_root * (second + inverse_root * third);
    floor_one(if quantile > 0.0 { quantile } else { 0.0 })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Share at or below each count in turn, by adding up probabilities.
    fn shares(mean: f64) -> impl Iterator<Item = f64> {
        let mut sum = 0.0;
        (0_u32..).map(move |n| {
            let n = f64::from(n);
            sum += libm::exp(n * libm::log(mean) - mean - libm::lgamma(n + 1.0));
            sum
        })
    }

    /// The largest u that gives at most `count`: the share the function gives to it and below.
    fn share_given(mean: f64, count: f64) -> f64 {
        let (mut low, mut high) = (0.0, 1.0);
        for _ in 0..50 {
            let middle = 0.5 * (low + high);
            let [drawn] = poisson([mean], [middle]);
            if drawn <= count {
                low = middle;
            } else {
                high = middle;
            }
        }
        low
    }

    /// Largest difference of the distribution functions, and relative errors of mean and variance.
    fn errors(mean: f64) -> [f64; 3] {
        let highest = (mean + 8.0 * libm::sqrt(mean) + 20.0) as usize;
        let (mut worst, mut first, mut second, mut before) = (0.0_f64, 0.0, 0.0, 0.0);
        for (count, exact) in shares(mean).take(highest).enumerate() {
            let count = count as f64;
            let given = share_given(mean, count);
            worst = worst.max((given - exact).abs());
            first += count * (given - before);
            second += (count - mean) * (count - mean) * (given - before);
            before = given;
        }
        let off = first - mean;
        let variance = second - off * off;
        [
            worst,
            (first / mean - 1.0).abs(),
            (variance / mean - 1.0).abs(),
        ]
    }

    #[test]
    fn small_means_are_exact() {
        for mean in [0.01, 0.5, 1.0, 3.7, MANY - 1e-6] {
            let [share, first, second] = errors(mean);
            assert!(share < 1e-12 && first < 1e-9 && second < 1e-9, "{mean}");
        }
    }

    #[test]
    fn expansion_is_close_from_the_switch_on() {
        for (mean, limits) in [(MANY, [2e-5, 1e-6, 2e-4]), (40.0, [3e-6, 1e-6, 4e-5])] {
            let errors = errors(mean);
            let within = errors
                .iter()
                .zip(limits)
                .all(|(error, limit)| *error < limit);
            assert!(within, "{mean}: share, mean, variance off by {errors:?}");
        }
    }

    /// Trapezoids over the normal deviate would need its inverse; midpoints in u do for large means.
    #[test]
    fn large_means_keep_mean_and_variance() {
        const COUNT: u32 = 100_000;
        for mean in [1e3, 1e5, 1e6] {
            let (mut first, mut second) = (0.0, 0.0);
            for i in 0..COUNT {
                let [drawn] = poisson([mean], [(f64::from(i) + 0.5) / f64::from(COUNT)]);
                first += (drawn - mean) / f64::from(COUNT);
                second += (drawn - mean) * (drawn - mean) / f64::from(COUNT);
            }
            // A midpoint rule over 100 000 steps misses 1e-4 of the variance, in the tails.
            assert!(first.abs() < 0.01 * libm::sqrt(mean), "{mean}: {first}");
            assert!((second / mean - 1.0).abs() < 3e-4, "{mean}: {second}");
        }
    }

    #[test]
    #[expect(clippy::float_cmp, reason = "whole numbers are exact")]
    fn counts_are_whole_and_unusable_means_give_none() {
        for u in [1e-10, 0.3, 0.999, 1.0 - 1e-10, 1.0 - f64::EPSILON] {
            let means = [0.0, -3.0, f64::NAN, f64::MIN_POSITIVE];
            let [zero, negative, nan, tiny] = poisson(means, [u; 4]);
            assert_eq!([zero, negative, nan], [0.0; 3]);
            assert!(tiny <= 1.0);
            for drawn in poisson([0.7, 15.9, 16.0, 16.1, 300.0, 1e6], [u; 6]) {
                assert!(drawn >= 0.0 && drawn.is_finite());
                assert_eq!(drawn, libm::floor(drawn));
            }
        }
    }

    /// A lane must not feel whether its neighbours take the search or the expansion.
    #[test]
    #[expect(clippy::float_cmp, reason = "the same bits are wanted")]
    fn neighbours_change_nothing() {
        for i in 0..1000 {
            let u = (f64::from(i) + 0.5) / 1000.0;
            let means = [2.0, 30.0, 0.0, 15.99];
            let together = poisson(means, [u; 4]);
            assert_eq!(together, means.map(|mean| poisson([mean], [u])[0]));
        }
    }
}
