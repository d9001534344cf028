//! Standard normal numbers: the inverse of the normal distribution function.

use super::elementary::{inverse_sqrt_one, ln_one};
use super::lanes::map;

/// Quantile of the standard normal distribution at `u`, 1.4e-11 to 1 - 1.4e-11, which is wider than
/// [`uniform`](super::uniform) reaches. Further out it still grows but is less exact.
///
/// Source: Wichura 1988, algorithm AS 241, Applied Statistics 37(3), 477-484, routine PPND7: the
/// ratio of two polynomials, one pair in the middle (|u - 1/2| ≤ 0.425) and one for the tails; its
/// third pair, for the farthest tails, is left out. Relative error: below 2e-7.
// Inlined so that it is compiled for the instruction set of its caller.
#[inline(always)]
#[must_use]
pub fn normal<const L: usize>(u: [f64; L]) -> [f64; L] {
    map(u, normal_one)
}

// Inlined into the loop over lanes, which is vectorised.
#[inline(always)]
fn normal_one(u: f64) -> f64 {
    const MIDDLE: f64 = 0.425;
    let q = u - 0.5;
    let below = q < 0.0;

    let r = MIDDLE * MIDDLE - q * q;
    let middle_above = q
        * (((5.910_937_472_0e1 * r + 1.592_911_320_2e2) * r + 5.043_427_193_8e1) * r
            + 3.387_132_717_9);
    let middle_under =
        ((6.718_756_360_0e1 * r + 7.875_775_766_4e1) * r + 1.789_516_946_9e1) * r + 1.0;

    let tail = if below { u } else { 1.0 - u };
    let square = -ln_one(tail);
    let t = square * inverse_sqrt_one(square) - 1.6;
    let tail_above =
        ((1.702_382_110_3e-1 * t + 1.306_728_481_6) * t + 2.756_815_390_0) * t + 1.423_437_277_7;
    let tail_above = if below { -tail_above } else { tail_above };
    let tail_under = (1.202_113_297_5e-1 * t + 7.370_016_425_0e-1) * t + 1.0;

    let (above, under) = if q * q <= MIDDLE * MIDDLE {
        (middle_above, middle_under)
    } else {
        (tail_above, tail_under)
    };
    above / under
}

#[cfg(test)]
mod tests {
    use super::*;
    use core::f64::consts::{PI, SQRT_2};

    /// Error of z = share error over density, from libm's complementary error function of the nearer
    /// tail, which keeps its digits there.
    #[test]
    fn inverts_the_distribution_function() {
        let mut worst: f64 = 0.0;
        // Shares from 2^-33 to 1/2 by small factors, and the same above.
        for step in 0..=20_000 {
            let share = libm::exp2(-1.0 - 32.0 * f64::from(step) / 20_000.0);
            let [low, high] = normal([share, 1.0 - share]);
            let below = 0.5 * libm::erfc(-low / SQRT_2);
            let density = libm::exp(-0.5 * low * low) / libm::sqrt(2.0 * PI);
            let error = (below - share) / density;
            worst = worst.max((error / low.abs().max(0.01)).abs());
            // 1 - share has lost digits of the share, the more the smaller that is.
            let rounding = 1e-16 / density;
            assert!((low + high).abs() < 1e-12 + rounding, "{share:e}");
        }
        assert!(worst < 2e-7, "{worst:e}");
    }

    /// Two-sided 95 %, 99 % and one in a million, from common tables.
    #[test]
    fn known_quantiles() {
        let [a, b, c] = normal([0.975, 0.995, 1e-6]);
        assert!((a - 1.959_964).abs() < 1e-6);
        assert!((b - 2.575_829).abs() < 1e-6);
        assert!((c + 4.753_424).abs() < 1e-6);
    }

    #[test]
    fn rises_across_the_seams() {
        for seam in [0.075, 0.5, 0.925] {
            let mut last = f64::NEG_INFINITY;
            for step in -1000..=1000 {
                let [z] = normal([seam + f64::from(step) * 1e-7]);
                assert!(z > last, "{seam} {step}");
                last = z;
            }
        }
    }
}
