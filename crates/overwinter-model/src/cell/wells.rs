//! The two-well kinetic model: what a load can reach now, and what comes to it later.

use crate::circuit::mean_decay;
use crate::number::Number;
use crate::units::{Charge, Current, Time};

/// How the two wells are shaped and how fast they level out, at one temperature.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct Kinetics {
    /// `c`: the share of the charge that a load reaches at once, above 0 and up to 1.
    #[cfg_attr(feature = "serde", serde(with = "crate::decimal"))]
    pub available_share: f64,
    /// `k'`: how fast a difference between the wells goes, per second. It is k / (c (1 − c)) of
    /// the differential equations, and is what the closed form needs.
    #[cfg_attr(feature = "serde", serde(with = "crate::decimal"))]
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
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[cfg_attr(
    feature = "serde",
    serde(bound(
        serialize = "Charge<N>: serde::Serialize",
        deserialize = "Charge<N>: serde::Deserialize<'de>"
    ))
)]
pub struct Wells<N = f64> {
    /// `q1`: what the load reaches.
    pub available: Charge<N>,
    /// `q2`: what flows over to it.
    pub bound: Charge<N>,
}

/// How far the two wells level out over a span.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Levelling<N = f64> {
    /// `φ`: what is left of a difference in the mean over the span.
    pub decay_mean: N,
    /// `k' t φ`: share of a difference that is gone at its end.
    pub levelled: N,
}

impl<N: Number> Levelling<N> {
    /// Over `k' t`, 0 or more.
    #[cfg_attr(not(target_os = "none"), inline(always))]
    #[must_use]
    pub fn over(exponent: N) -> Self {
        let decay_mean = mean_decay(exponent);
        Self {
            decay_mean,
            levelled: exponent * decay_mean,
        }
    }
}

impl Kinetics {
    /// How far the wells level out over `span`.
    #[cfg_attr(not(target_os = "none"), inline(always))]
    #[must_use]
    pub fn levelling(&self, span: Time) -> Levelling {
        Levelling::over(self.rate_per_second * span.as_seconds())
    }
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

    /// The wells after `span` at a constant `current`: see [`Wells::drained`].
    #[must_use]
    pub fn after(&self, kinetics: &Kinetics, current: Current, span: Time) -> Self {
        let levelling = kinetics.levelling(span);
        self.drained(kinetics.available_share, &levelling, current * span)
    }

    /// When nothing is left within reach at a constant `current`, if that is within `span`: see
    /// [`Wells::within_reach`] for `held_back`.
    #[must_use]
    pub fn time_to_empty(
        &self,
        kinetics: &Kinetics,
        held_back: f64,
        current: Current,
        span: Time,
    ) -> Option<Time> {
        let holds = |span| {
            let after = self.after(kinetics, current, span);
            after.within_reach(kinetics.available_share, held_back) > Charge::ZERO
        };
        if holds(span) {
            return None;
        }
        let (mut held, mut empty) = (Time::ZERO, span);
        // 52 halvings exhaust the digits of the span.
        for _ in 0..52 {
            let middle = (held + empty) / 2.0;
            if holds(middle) {
                held = middle;
            } else {
                empty = middle;
            }
        }
        Some(empty)
    }
}

impl<N: Number> Wells<N> {
    /// Charge in both wells.
    #[cfg_attr(not(target_os = "none"), inline(always))]
    #[must_use]
    pub fn total(&self) -> Charge<N> {
        self.available + self.bound
    }

    /// Share of a cell's `capacity` that has gone.
    #[cfg_attr(not(target_os = "none"), inline(always))]
    #[must_use]
    pub fn depth(&self, capacity: Charge<N>) -> N {
        N::from(1.0) - self.total() / capacity
    }

    /// What a whole cell would hold that stood as the terminals see this one: nothing, and it is empty.
    ///
    /// ```text
    /// q_s = q − h (q − q1/c)
    /// ```
    ///
    /// With `h = 1`, at the reference temperature, that is the available well's charge by its share `c`. In
    /// the cold a load reaches less of what the wells hold back from it: `h` is above 1. That is ours;
    /// without it the two wells leave a load their share `c` however cold it is, which no cell does.
    #[cfg_attr(not(target_os = "none"), inline(always))]
    #[must_use]
    pub fn within_reach(&self, available_share: f64, held_back: N) -> Charge<N> {
        let total = self.total();
        let behind = total - self.available / N::from(available_share);
        total - behind * held_back
    }

    /// The depth that the terminals see, of a cell of this `capacity`: see [`Wells::within_reach`].
    #[cfg_attr(not(target_os = "none"), inline(always))]
    #[must_use]
    pub fn surface_depth(&self, capacity: Charge<N>, available_share: f64, held_back: N) -> N {
        N::from(1.0) - self.within_reach(available_share, held_back) / capacity
    }

    /// Both wells with `share` of what they held.
    #[cfg_attr(not(target_os = "none"), inline(always))]
    #[must_use]
    pub fn scaled(&self, share: N) -> Self {
        Self {
            available: self.available * share,
            bound: self.bound * share,
        }
    }

    /// On the way to `end`, 0 to 1.
    #[inline(always)]
    #[must_use]
    pub fn between(&self, end: &Self, at: N) -> Self {
        Self {
            available: self.available + (end.available - self.available) * at,
            bound: self.bound + (end.bound - self.bound) * at,
        }
    }

    /// `yes` where the mask is true, else `no`.
    #[inline(always)]
    #[must_use]
    pub fn choose(mask: N::Mask, yes: &Self, no: &Self) -> Self {
        Self {
            available: Charge::choose(mask, yes.available, no.available),
            bound: Charge::choose(mask, yes.bound, no.bound),
        }
    }

    /// The wells after a span in which they level out and a charge is drawn evenly, in closed form.
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
    #[cfg_attr(not(target_os = "none"), inline(always))]
    #[must_use]
    pub fn drained(
        &self,
        available_share: f64,
        levelling: &Levelling<N>,
        drawn: Charge<N>,
    ) -> Self {
        let Levelling {
            decay_mean,
            levelled,
        } = *levelling;
        let one = N::from(1.0);
        let (share, other) = (N::from(available_share), N::from(1.0 - available_share));
        let (decay, delayed) = (one - levelled, one - decay_mean);
        let total = self.total();
        Self {
            available: self.available * decay + total * (share * levelled)
                - drawn * (decay_mean + share * delayed),
            bound: self.bound * decay + total * (other * levelled) - drawn * (other * delayed),
        }
    }
}

/// How much less is drawn to find out what a charge adds: this share of the capacity.
const PROBE: f64 = 100.0;

/// How a cell of some capacity stands at the end of a span, by [`Wells::within_reach`].
pub(crate) struct Filling<N> {
    /// Of the cell.
    pub(crate) capacity: Charge<N>,
    /// Without a charge from outside.
    pub(crate) idle: Charge<N>,
    /// The same with [`Filling::probe`] put in, evenly over the span.
    pub(crate) probed: Charge<N>,
}

impl<N: Number> Filling<N> {
    /// The charge to put in for [`Filling::probed`].
    #[cfg_attr(not(target_os = "none"), inline(always))]
    pub(crate) fn probe(capacity: Charge<N>) -> Charge<N> {
        capacity / N::from(PROBE)
    }

    /// The charge that fills it at the end of the span, if it is put in evenly: the closed form of the
    /// wells is linear in the charge.
    #[cfg_attr(not(target_os = "none"), inline(always))]
    pub(crate) fn room(&self) -> Charge<N> {
        let full = self.capacity;
        let risen = self.probed - self.idle;
        let room = Self::probe(self.capacity) * ((full - self.idle) / risen);
        room.max(Charge::ZERO.everywhere())
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
