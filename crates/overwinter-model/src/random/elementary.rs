//! Exponential, logarithm and square root lane by lane, in plain arithmetic on numbers and bits.

use super::lanes::map;

/// 1.5 · 2^52. Added to a number below 2^51 it leaves that number, rounded to the nearest whole
/// one, in the lowest bits; subtracted again it gives the rounded number.
const ROUNDER: f64 = 6_755_399_441_055_744.0;
/// 2^52: with a whole number below it in its fraction's bits, 2^52 plus that number.
const TWO_52: f64 = 4_503_599_627_370_496.0;
const FRACTION_BITS: u32 = 52;
const EXPONENT_BIAS: u64 = 1023;

/// ln 2 in two parts; the first has so many zeros at its end that a product with a whole number
/// below 2^20 is exact. Source: `FreeBSD` msun `e_log.c` (Sun Microsystems 1993).
const LN_2: [f64; 2] = [6.931_471_803_691_238e-1, 1.908_214_929_270_587_7e-10];

/// e^x, for x from -708 to 709; beyond these it stays at their values. NaN stays NaN.
///
/// `e^x = 2^n e^r` with n whole and |r| ≤ ln 2 / 2, `e^r` by its Taylor series to r^11, whose rest
/// is below 7e-15. Relative error against libm from -700 to 700: below 1e-14.
// Inlined so that it is compiled for the instruction set of its caller.
#[inline(always)]
#[must_use]
pub fn exp<const L: usize>(x: [f64; L]) -> [f64; L] {
    map(x, exp_one)
}

// Inlined into the loop over lanes, which is vectorised.
#[inline(always)]
pub(super) fn exp_one(x: f64) -> f64 {
    const LOWEST: f64 = -708.0;
    const HIGHEST: f64 = 709.0;
    let x = if x < LOWEST { LOWEST } else { x };
    let x = if x > HIGHEST { HIGHEST } else { x };
    let shifted = x * core::f64::consts::LOG2_E + ROUNDER;
    let n = shifted - ROUNDER;
    let [ln_2, ln_2_rest] = LN_2;
    let r = (x - n * ln_2) - n * ln_2_rest;
    // Even and odd powers apart: two short chains instead of a long one.
    let s = r * r;
    let even = ((((s * (1.0 / 3_628_800.0) + 1.0 / 40_320.0) * s + 1.0 / 720.0) * s + 1.0 / 24.0)
        * s
        + 0.5)
        * s;
    let odd = ((((s * (1.0 / 39_916_800.0) + 1.0 / 362_880.0) * s + 1.0 / 5_040.0) * s
        + 1.0 / 120.0)
        * s
        + 1.0 / 6.0)
        * s
        + 1.0;
    let power_of_two =
        f64::from_bits(shifted.to_bits().wrapping_add(EXPONENT_BIAS) << FRACTION_BITS);
    (1.0 + (odd * r + even)) * power_of_two
}

/// ln x of positive normal numbers (2.3e-308 to 1.8e308); of any other number some number or NaN.
///
/// `ln x = n ln 2 + ln(1 + f)` with n whole and 1 + f from √½ to √2, the latter by
/// `ln(1 + f) = f - f²/2 + s (f²/2 + R(s²))`, `s = f / (2 + f)`. Method and coefficients of R:
/// `FreeBSD` msun `e_log.c` (Sun Microsystems 1993). Relative error against libm: below 1e-15.
// Inlined so that it is compiled for the instruction set of its caller.
#[inline(always)]
#[must_use]
pub fn ln<const L: usize>(x: [f64; L]) -> [f64; L] {
    map(x, ln_one)
}

// Inlined into the loop over lanes, which is vectorised.
#[inline(always)]
pub(super) fn ln_one(x: f64) -> f64 {
    const FRACTION: u64 = (1 << FRACTION_BITS) - 1;
    const SQRT_HALF: u64 = core::f64::consts::FRAC_1_SQRT_2.to_bits();
    const TO_ONE: u64 = 1.0_f64.to_bits() - SQRT_HALF;
    let bits = x.to_bits().wrapping_add(TO_ONE);
    let exponent = f64::from_bits((bits >> FRACTION_BITS) | TWO_52.to_bits());
    let n = exponent - (TWO_52 + EXPONENT_BIAS as f64);
    let f = f64::from_bits((bits & FRACTION).wrapping_add(SQRT_HALF)) - 1.0;

    let s = f / (2.0 + f);
    let z = s * s;
    let w = z * z;
    let even = w
        * (3.999_999_999_940_942e-1
            + w * (2.222_219_843_214_978_4e-1 + w * 1.531_383_769_920_937_3e-1));
    let odd = z
        * (6.666_666_666_666_735e-1
            + w * (2.857_142_874_366_239e-1
                + w * (1.818_357_216_161_805e-1 + w * 1.479_819_860_511_658_6e-1)));
    let half_square = 0.5 * f * f;
    let [ln_2, ln_2_rest] = LN_2;
    n * ln_2 - ((half_square - (s * (half_square + (odd + even)) + n * ln_2_rest)) - f)
}

/// √x of 0 and of normal numbers up to 1e300; of any other number some number or NaN.
///
/// 1/√x by Newton's method, times x, and one more step on √x itself. Relative error against libm:
/// below 1e-15.
// Inlined so that it is compiled for the instruction set of its caller.
#[inline(always)]
#[must_use]
pub fn sqrt<const L: usize>(x: [f64; L]) -> [f64; L] {
    map(x, |x| {
        let inverse = inverse_sqrt_one(x);
        let root = x * inverse;
        root + (0.5 * inverse) * (x - root * root)
    })
}

/// 1/√x of positive normal numbers up to 1e300, some finite number of 0. Relative error: below
/// 1e-10.
///
/// A first guess by halving the exponent, made better three times by Newton's method. Constant of
/// the guess: Robertson 2012, "A brief history of InvSqrt", from memory.
// Inlined into the loop over lanes, which is vectorised.
#[inline(always)]
pub(super) fn inverse_sqrt_one(x: f64) -> f64 {
    let guess = f64::from_bits(0x5FE6_EB50_C7B5_37A9_u64.wrapping_sub(x.to_bits() >> 1));
    let half = 0.5 * x;
    let better = |inverse: f64| inverse * (1.5 - (half * inverse) * inverse);
    better(better(better(guess)))
}

/// The largest whole number not above x, for 0 ≤ x < 2^51.
// Inlined into the loop over lanes, which is vectorised.
#[inline(always)]
pub(super) fn floor_one(x: f64) -> f64 {
    let nearest = (x + TWO_52) - TWO_52;
    nearest - if nearest > x { 1.0 } else { 0.0 }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Largest relative error of `f` against `reference` at these points.
    fn worst_error(
        points: impl Iterator<Item = f64>,
        f: impl Fn([f64; 1]) -> [f64; 1],
        reference: impl Fn(f64) -> f64,
    ) -> f64 {
        points.fold(0.0, |worst: f64, x| {
            let [value] = f([x]);
            let expected = reference(x);
            let error = if expected == 0.0 {
                value.abs()
            } else {
                (value / expected - 1.0).abs()
            };
            assert!(!error.is_nan(), "{x}");
            worst.max(error)
        })
    }

    /// So many numbers evenly from `from` to `to`.
    fn evenly(from: f64, to: f64) -> impl Iterator<Item = f64> {
        const COUNT: u32 = 200_001;
        (0..=COUNT).map(move |i| from + (to - from) * f64::from(i) / f64::from(COUNT))
    }

    /// Over the whole range of exponents, and closely around 1.
    fn positive() -> impl Iterator<Item = f64> {
        evenly(-307.0, 299.0)
            .map(libm::exp10)
            .chain(evenly(0.5, 2.0))
            .chain(evenly(1.0 - 1e-9, 1.0 + 1e-9))
    }

    #[test]
    fn exp_agrees_with_libm() {
        let worst = worst_error(evenly(-700.0, 700.0), exp, libm::exp);
        assert!(worst < 1e-14, "{worst:e}");
        let worst = worst_error(evenly(-1.0, 1.0), exp, libm::exp);
        assert!(worst < 1e-14, "{worst:e}");
    }

    #[test]
    fn exp_stays_finite_and_positive() {
        let [low, high, nan] = exp([f64::NEG_INFINITY, f64::INFINITY, f64::NAN]);
        assert!(low > 0.0 && low < 1e-307);
        assert!(high > 1e307 && high.is_finite());
        assert!(nan.is_nan());
    }

    #[test]
    fn ln_agrees_with_libm() {
        let worst = worst_error(positive(), ln, libm::log);
        assert!(worst < 1e-15, "{worst:e}");
        let ends = [f64::MIN_POSITIVE, f64::MAX, 1.0].into_iter();
        let worst = worst_error(ends, ln, libm::log);
        assert!(worst < 1e-15, "{worst:e}");
    }

    #[test]
    fn sqrt_agrees_with_libm() {
        let worst = worst_error(positive().chain([0.0]), sqrt, libm::sqrt);
        assert!(worst < 1e-15, "{worst:e}");
        let inverse = |[x]: [f64; 1]| [inverse_sqrt_one(x)];
        let worst = worst_error(positive(), inverse, |x| 1.0 / libm::sqrt(x));
        assert!(worst < 1e-10, "{worst:e}");
    }

    #[test]
    #[expect(clippy::float_cmp, reason = "whole numbers are exact")]
    fn floor_agrees_with_libm() {
        for x in evenly(0.0, 50.0).chain([0.5, 1.5, 2.5, 1e6, 1e6 - 1e-9, 4e15]) {
            assert_eq!(floor_one(x), libm::floor(x), "{x}");
        }
    }
}
