//! The two-well kinetic model: what a load can reach now, and what comes to it later.

use serde::{Deserialize, Serialize};

use crate::circuit::mean_decay;
use crate::units::{Charge, Current, Time};

/// How the two wells are shaped and how fast they level out, at one temperature.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Kinetics {
    /// `c`: the share of the charge that a load reaches at once, above 0 and up to 1.
    #[serde(with = "crate::number")]
    pub available_share: f64,
    /// `k'`: how fast a difference between the wells goes, per second. It is k / (c (1 − c)) of
    /// the differential equations, and is what the closed form needs.
    #[serde(with = "crate::number")]
    pub rate_per_second: f64,
}

/// Charge in the well that feeds the terminals, and in the one behind it.
///
/// ```text
/// q1' = −I − k (q1/c − q2/(1−c))        q2' = k (q1/c − q2/(1−c))
/// ```
///
/// Source: J. F. Manwell and J. G. McGowan, Lead acid battery storage model for hybrid energy
/// systems, Solar Energy 50(5), 399-405, 1993, in its common form.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Wells {
    /// `q1`: what the load reaches.
    pub available: Charge,
    /// `q2`: what flows over to it.
    pub bound: Charge,
}

impl Wells {
    /// `total`, levelled out between the wells.
    #[must_use]
    pub fn level(total: Charge, available_share: f64) -> Self {
        Self {
            available: total * available_share,
            bound: total * (1.0 - available_share),
        }
    }

    /// Charge in both wells.
    #[must_use]
    pub fn total(&self) -> Charge {
        self.available + self.bound
    }

    /// Both wells with `share` of what they held.
    #[must_use]
    pub fn scaled(&self, share: f64) -> Self {
        Self {
            available: self.available * share,
            bound: self.bound * share,
        }
    }

    /// The wells after `span` at a constant `current`, in closed form.
    ///
    /// With `r = e^(−k' t)` and `φ = (1 − r) / (k' t)`, the 1993 equations read
    ///
    /// ```text
    /// q1(t) = q1 r + q0 c k' t φ − I t φ − I c t (1 − φ)
    /// q2(t) = q2 r + q0 (1 − c) k' t φ − I (1 − c) t (1 − φ)
    /// ```
    ///
    /// which stays exact for `k' = 0` and for `c = 1`. A negative `q1` means that the load asked
    /// for more than there was: see [`Wells::time_to_empty`].
    #[must_use]
    pub fn after(&self, kinetics: &Kinetics, current: Current, span: Time) -> Self {
        let share = kinetics.available_share;
        let exponent = kinetics.rate_per_second * span.as_seconds();
        let decay_mean = mean_decay(exponent);
        let levelled = exponent * decay_mean;
        let decay = 1.0 - levelled;
        let total = self.total();
        let drawn = current * span;
        Self {
            available: self.available * decay + total * (share * levelled)
                - drawn * (decay_mean + share * (1.0 - decay_mean)),
            bound: self.bound * decay + total * ((1.0 - share) * levelled)
                - drawn * ((1.0 - share) * (1.0 - decay_mean)),
        }
    }

    /// When the available well runs dry at a constant `current`, if it does within `span`.
    #[must_use]
    pub fn time_to_empty(&self, kinetics: &Kinetics, current: Current, span: Time) -> Option<Time> {
        if self.after(kinetics, current, span).available > Charge::ZERO {
            return None;
        }
        let (mut held, mut empty) = (Time::ZERO, span);
        // 52 halvings exhaust the digits of the span.
        for _ in 0..52 {
            let middle = (held + empty) / 2.0;
            if self.after(kinetics, current, middle).available > Charge::ZERO {
                held = middle;
            } else {
                empty = middle;
            }
        }
        Some(empty)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn charge_is_kept(
            share in 0.05..1.0_f64,
            rate in 0.0..1e-2_f64,
            amperes in 0.0..2.0_f64,
            hours in 0.0..50.0_f64,
        ) {
            let kinetics = Kinetics { available_share: share, rate_per_second: rate };
            let full = Wells::level(Charge::from_ampere_hours(3.0), share);
            let span = Time::from_hours(hours);
            let current = Current::from_amperes(amperes);
            let after = full.after(&kinetics, current, span);
            let expected = full.total() - current * span;
            prop_assert!((after.total() - expected).as_coulombs().abs() < 1e-6 * 10_800.0);
        }

        #[test]
        fn two_halves_are_one_whole(
            share in 0.05..1.0_f64,
            rate in 0.0..1e-3_f64,
            amperes in 0.0..0.1_f64,
        ) {
            let kinetics = Kinetics { available_share: share, rate_per_second: rate };
            let full = Wells::level(Charge::from_ampere_hours(3.0), share);
            let current = Current::from_amperes(amperes);
            let once = full.after(&kinetics, current, Time::from_hours(2.0));
            let half = Time::from_hours(1.0);
            let twice = full.after(&kinetics, current, half).after(&kinetics, current, half);
            prop_assert!((once.available - twice.available).as_coulombs().abs() < 1e-6);
        }
    }
}
