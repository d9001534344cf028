//! Distribution function of the gamma distribution, as logarithms, so that far tails keep their
//! digits.

/// Logarithms of the shares below and above a value, each at most 0.
#[derive(Clone, Copy, Debug)]
pub(super) struct LogShares {
    pub(super) below: f64,
    pub(super) above: f64,
}

/// Terms that either expansion may take; shape 1000 needs about 250.
const MAX_TERMS: u32 = 2000;
const CLOSE: f64 = 1e-15;

/// Shares of a gamma distribution of this shape and scale 1 below and above `x`, both above 0.
///
/// Source: NIST Digital Library of Mathematical Functions 8.11.4 (series) and 8.9.2 (continued
/// fraction); where to change from one to the other and Lentz's method: common practice.
pub(super) fn log_shares(shape: f64, x: f64) -> LogShares {
    let lead = shape * libm::log(x) - x - libm::lgamma(shape + 1.0);
    if x < shape + 1.0 {
        let below = lead + libm::log(series(shape, x));
        LogShares {
            below,
            above: log_of_rest(below),
        }
    } else {
        let above = lead + libm::log(shape * continued_fraction(shape, x));
        LogShares {
            below: log_of_rest(above),
            above,
        }
    }
}

/// ln(1 - e^share).
fn log_of_rest(share: f64) -> f64 {
    libm::log1p(-libm::exp(share))
}

/// `1 + x/(a+1) + x²/((a+1)(a+2)) + …`
fn series(shape: f64, x: f64) -> f64 {
    let mut term = 1.0;
    let mut sum = 1.0;
    for n in 1..=MAX_TERMS {
        term *= x / (shape + f64::from(n));
        sum += term;
        if term < sum * CLOSE {
            break;
        }
    }
    sum
}

/// `1/(x+1-a - 1(1-a)/(x+3-a - 2(2-a)/(x+5-a - …)))`, by the modified Lentz method.
fn continued_fraction(shape: f64, x: f64) -> f64 {
    const TINY: f64 = 1e-300;
    let mut under = x + 1.0 - shape;
    let mut ratio_above = 1.0 / TINY;
    let mut ratio_under = 1.0 / under;
    let mut fraction = ratio_under;
    for n in 1..=MAX_TERMS {
        let n = f64::from(n);
        let above = n * (shape - n);
        under += 2.0;
        ratio_under = 1.0 / (above * ratio_under + under);
        ratio_above = under + above / ratio_above;
        let factor = ratio_above * ratio_under;
        fraction *= factor;
        if libm::fabs(factor - 1.0) < CLOSE {
            break;
        }
    }
    fraction
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Shape 1 is the exponential distribution, shape 1/2 the square of a normal number.
    #[test]
    fn closed_forms_hold() {
        for x in [1e-9, 0.01, 0.3, 1.0, 1.9, 2.1, 7.0, 40.0] {
            let exponential = log_shares(1.0, x);
            assert!((exponential.above + x).abs() < 1e-12 * (1.0 + x));
            let square = log_shares(0.5, x);
            let expected = libm::log(libm::erf(libm::sqrt(x)));
            assert!((square.below - expected).abs() < 1e-12, "{square:?}");
        }
    }

    /// Whole shapes are sums of Poisson probabilities (DLMF 8.4.10).
    #[test]
    fn whole_shapes_are_poisson_sums() {
        for (shape, x) in [(7, 3.0), (7, 15.0), (100, 80.0), (100, 130.0)] {
            let mut term = libm::exp(-x);
            let mut sum = 0.0;
            for n in 1..=shape {
                sum += term;
                term *= x / f64::from(n);
            }
            let above = log_shares(f64::from(shape), x).above;
            assert!((above - libm::log(sum)).abs() < 1e-11, "{shape} {x}");
        }
    }
}
