//! Two day-to-day anomalies that persist and go together, such as temperature and cloud.

use core::fmt;

use super::lanes::zip;

/// How two anomalies, each standard normal on any day, hang together: a first-order autoregression.
///
/// ```text
/// t' = φ_t t + √(1 - φ_t²) e_t      c' = φ_c c + √(1 - φ_c²) e_c
/// ρ_e = ρ (1 - φ_t φ_c) / √((1 - φ_t²) (1 - φ_c²))
/// ```
///
/// with φ the correlation from one day to the next, ρ the correlation of t and c on one day and ρ_e
/// that of the two new parts e. Source: the stationary covariance of the first line, worked out;
/// common practice in weather generators. Another law may be taken from any day on, say by month: the
/// variances stay 1, and the correlation moves to its new value at the pace of φ_t φ_c.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AnomalyLaw {
    persistence: [f64; 2],
    /// √(1 - φ²) of both.
    renewal: [f64; 2],
    /// ρ_e and √(1 - ρ_e²).
    innovations: [f64; 2],
    /// ρ as it comes out and √(1 - ρ²).
    same_day: [f64; 2],
}

/// What cannot be a law of anomalies.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub enum AnomalyLawError {
    /// A correlation from day to day that is not above -1 and below 1.
    Persistence(f64),
    /// A correlation on one day that is not from -1 to 1.
    Correlation(f64),
}

impl fmt::Display for AnomalyLawError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Persistence(phi) => {
                write!(
                    f,
                    "correlation from day to day {phi} is not above -1 and below 1"
                )
            }
            Self::Correlation(rho) => {
                write!(f, "correlation on one day {rho} is not from -1 to 1")
            }
        }
    }
}

impl core::error::Error for AnomalyLawError {}

impl AnomalyLaw {
    /// `persistence`: correlation from one day to the next of t and of c; `correlation`: that of t
    /// and c on one day. All dimensionless.
    ///
    /// Anomalies of very different persistence cannot go together closely; then ρ_e is held at ±1
    /// and [`correlation`](Self::correlation) is nearer to 0 than asked.
    ///
    /// # Errors
    /// [`AnomalyLawError`] if a persistence is not above -1 and below 1, or the correlation not from
    /// -1 to 1.
    pub fn new(persistence: [f64; 2], correlation: f64) -> Result<Self, AnomalyLawError> {
        let inside = |phi: &f64| libm::fabs(*phi) < 1.0;
        if let Some(phi) = persistence.into_iter().find(|phi| !inside(phi)) {
            return Err(AnomalyLawError::Persistence(phi));
        }
        if !(-1.0..=1.0).contains(&correlation) {
            return Err(AnomalyLawError::Correlation(correlation));
        }
        let renewal = persistence.map(complement);
        let [phi_t, phi_c] = persistence;
        let [new_t, new_c] = renewal;
        let kept = 1.0 - phi_t * phi_c;
        let between_new = (correlation * kept / (new_t * new_c)).clamp(-1.0, 1.0);
        let reached = (between_new * new_t * new_c / kept).clamp(-1.0, 1.0);
        Ok(Self {
            persistence,
            renewal,
            innovations: [between_new, complement(between_new)],
            same_day: [reached, complement(reached)],
        })
    }

    /// Correlation of t and c on one day that this law settles at, -1 to 1.
    #[must_use]
    pub fn correlation(&self) -> f64 {
        let [correlation, _] = self.same_day;
        correlation
    }
}

/// √(1 - x²).
fn complement(x: f64) -> f64 {
    libm::sqrt((1.0 - x) * (1.0 + x))
}

/// Today's two anomalies of each path, each standard normal.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Anomalies<const L: usize> {
    /// The first, such as temperature.
    pub t: [f64; L],
    /// The second, such as cloud.
    pub c: [f64; L],
}

impl<const L: usize> Anomalies<L> {
    /// A first day as any other, from two independent standard normal numbers a path.
    // Inlined so that it is compiled for the instruction set of its caller.
    #[inline(always)]
    #[must_use]
    pub fn start(law: &AnomalyLaw, z: [[f64; L]; 2]) -> Self {
        let [t, c] = correlate(law.same_day, z);
        Self { t, c }
    }

    /// The next day, from two independent standard normal numbers a path.
    // Inlined so that it is compiled for the instruction set of its caller.
    #[inline(always)]
    #[must_use]
    pub fn next(self, law: &AnomalyLaw, z: [[f64; L]; 2]) -> Self {
        let [new_t, new_c] = correlate(law.innovations, z);
        let [keep_t, keep_c] = law.persistence;
        let [renew_t, renew_c] = law.renewal;
        Self {
            t: zip(self.t, new_t, |t, new| keep_t * t + renew_t * new),
            c: zip(self.c, new_c, |c, new| keep_c * c + renew_c * new),
        }
    }
}

/// Makes the second of two independent numbers go with the first.
// Inlined so that it is compiled for the instruction set of its caller.
#[inline(always)]
fn correlate<const L: usize>(
    [shared, own]: [f64; 2],
    [first, second]: [[f64; L]; 2],
) -> [[f64; L]; 2] {
    [
        first,
        zip(first, second, |first, second| shared * first + own * second),
    ]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn correlation_out_of_reach_is_held_at_the_nearest() {
        // sqrt(1 - 0.9^2) / (1 - 0) = 0.4359: what fully shared news gives.
        let law = AnomalyLaw::new([0.9, 0.0], 1.0).unwrap();
        assert!((law.correlation() - 0.435_89).abs() < 1e-5);
        let law = AnomalyLaw::new([0.9, 0.0], -0.3).unwrap();
        assert!((law.correlation() + 0.3).abs() < 1e-12);
    }

    #[test]
    fn impossible_laws_are_refused() {
        use AnomalyLawError::{Correlation, Persistence};
        assert_eq!(AnomalyLaw::new([1.0, 0.0], 0.0), Err(Persistence(1.0)));
        assert_eq!(AnomalyLaw::new([0.0, -1.0], 0.0), Err(Persistence(-1.0)));
        assert_eq!(AnomalyLaw::new([0.0, 0.0], 1.1), Err(Correlation(1.1)));
        assert!(AnomalyLaw::new([f64::NAN, 0.0], 0.0).is_err());
        assert!(AnomalyLaw::new([0.0, 0.0], f64::NAN).is_err());
    }
}
