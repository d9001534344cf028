//! How sure the depth is, and what a voltage says of it.

use super::weighing::{Evidence, Moments, Points};
use crate::arithmetic::{clamp, max, share};

/// Standard deviation of the depth of cells just put in. Common practice, no source.
const START_SD: f64 = 0.05;

/// No surer than this: the model's curve is no better. Common practice, no source.
const LEAST_SD: f64 = 0.005;

/// Nothing known: the standard deviation of an even spread over all depths, `1/√12`.
const MOST_SD: f64 = 0.289;

/// As many packs hold something else than they are said to: cells that were not new, or not full. The
/// first reading is taken with that in mind. Common practice, no source.
const OTHER_CELLS: f64 = 0.05;

/// What a camera draws is known to this share. Common practice, no source.
pub(super) const DRAW_SD: f64 = 0.1;

/// What a year does to the depth beside what the model knows. Common practice, no source.
const SD_PER_YEAR: f64 = 0.02;

const HOURS_PER_YEAR: f64 = 8766.0;

/// For how long it stays off the same way, hours: a month. Common practice, no source.
const MODEL_HOURS: f64 = 720.0;

/// Some of the error is always another one.
const LEAST_NEWS: f64 = 1e-4;

/// What a reading did.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Correction {
    /// It was taken in; the depth moved as far as it is worth.
    Taken,
    /// It is so far off that it may be wrong: nothing moved. The next one decides.
    Doubted,
    /// It is the second in a row that denies the depth: that was given up, and found anew from the
    /// voltage alone.
    FoundAnew,
}

/// How sure the depth is; the depth itself is in the cells' state.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(test, derive(serde::Deserialize))]
pub(super) struct Belief {
    /// Standard deviation of the depth.
    #[cfg_attr(test, serde(with = "crate::decimal"))]
    pub(super) sd: f64,
    /// How much of the model's error at the next reading is another one than at those before, 0 to 1.
    /// It is the same for weeks, so that a hundred readings in a row say little more than one.
    #[cfg_attr(test, serde(with = "crate::decimal"))]
    pub(super) news: f64,
    /// No reading has been taken in yet.
    pub(super) unread: bool,
    /// The last reading was doubted.
    pub(super) doubted: bool,
}

impl Belief {
    pub(super) const START: Self = Self {
        sd: START_SD,
        news: 1.0,
        unread: true,
        doubted: false,
    };

    /// An hour in which the depth moved by `moved`, known to the share `error`, and in which charge for
    /// `refused` of depth was offered to a full pack: one that is emptier than thought took it.
    ///
    /// The error of capacity and draw is the same all the time, so deviations add up, not variances.
    pub(super) fn hour(&mut self, moved: f64, error: f64, refused: f64) {
        self.news = 1.0 - (1.0 - self.news) * libm::exp(-1.0 / MODEL_HOURS);
        let grown = self.sd + error * libm::fabs(moved) + SD_PER_YEAR / HOURS_PER_YEAR;
        self.sd = clamp(grown - refused, LEAST_SD, MOST_SD);
    }

    /// Takes a reading in, and gives the depth that is believed then.
    ///
    /// Prediction and correction as in Kalman's filter for a cell's charge: Plett, Extended Kalman
    /// filtering for battery management systems, part 3, Journal of Power Sources 134, 277-292, 2004
    /// (from memory). With a slope `H = dU/dx`, prior variance `P` of the depth `x` and variance `R` of
    /// the reading:
    ///
    /// ```text
    /// x' = x + P H (U_measured − U(x)) / (H² P + R)        P' = P R / (H² P + R)
    /// R = (model² + drop²) / news + meter²
    /// ```
    ///
    /// Dividing by the news, which a reading uses up and a month brings back, stands for a state of its
    /// own for the model's error; the form is ours. An open-circuit curve has knees, and one slope would
    /// make a reading on its flat part say much, or on its steep part little. So the depth is weighed at
    /// points, and mean and variance are taken from these (a point-mass filter: Bucy and Senne, Digital
    /// synthesis of non-linear filters, Automatica 7, 1971, from memory). On a straight line that is the
    /// formula above.
    pub(super) fn correct<F: Fn(f64) -> f64>(
        &mut self,
        depth: f64,
        evidence: &Evidence<F>,
    ) -> (f64, Correction) {
        let mut points = Points::around(depth, self.sd, 0.0, evidence);
        let mut correction = Correction::Taken;
        // The mean and variance of the points themselves, so that a reading which says nothing changes
        // nothing.
        let (mut before, volts) = points.expected();
        let denied = evidence.denies(&volts);
        if denied && !self.doubted {
            self.doubted = true;
            return (depth, Correction::Doubted);
        }
        if denied || self.unread {
            if denied {
                *self = Self::START;
                correction = Correction::FoundAnew;
            }
            let anywhere = if denied { 1.0 } else { OTHER_CELLS };
            points = Points::around(depth, self.sd, anywhere, evidence);
            before = Moments {
                mean: depth,
                var: self.sd * self.sd,
            };
        }
        self.doubted = false;
        self.unread = false;
        let after = points.weighed(self.news);
        let var = self.sd * self.sd * (after.var / before.var);
        self.sd = clamp(libm::sqrt(max(var, points.least_var())), LEAST_SD, MOST_SD);
        self.news = max(self.news * (1.0 - evidence.used()), LEAST_NEWS);
        let found = share(depth + (after.mean - before.mean));
        (found, correction)
    }
}

#[cfg(test)]
mod tests {
    use super::super::weighing::MODEL_VAR;
    use super::*;
    use proptest::prelude::*;

    proptest! {
        /// Kalman's formulas, computed by hand.
        #[test]
        fn on_a_straight_line_it_is_kalmans_filter(
            depth in 0.3..0.7_f64, sd in 0.006..0.06_f64, slope in 0.05..2.0_f64,
            deviates in -1.5..1.5_f64, news in 0.01..1.0_f64, drop_v in 0.0..0.1_f64,
        ) {
            let mut belief = Belief { sd, news, unread: false, doubted: false };
            let line = |x: f64| 1.6 - slope * x;
            let evidence = |measured_v| Evidence {
                measured_v, meter_var: 4e-5, drop_var: drop_v * drop_v, curve: line,
            };
            let expected = libm::sqrt(slope * slope * sd * sd + evidence(0.0).var(1.0));
            let measured_v = line(depth) + deviates * expected;
            let evidence = evidence(measured_v);
            let (prior, noise) = (sd * sd, (MODEL_VAR + drop_v * drop_v) / news + 4e-5);
            let innovation = slope * slope * prior + noise;
            let kalman = depth - prior * slope * (measured_v - line(depth)) / innovation;
            let kalman_sd = libm::sqrt(prior * noise / innovation);
            let (found, correction) = belief.correct(depth, &evidence);
            prop_assert_eq!(correction, Correction::Taken);
            // What lies beyond four deviations is not weighed.
            prop_assert!((found - kalman).abs() < 0.01 * sd, "{} {}", found, kalman);
            prop_assert!((belief.sd / kalman_sd.max(LEAST_SD) - 1.0).abs() < 0.01, "{} {}", belief.sd, kalman_sd);
        }

        #[test]
        fn a_level_curve_says_nothing_however_often(
            depth in 0.0..1.0_f64, sd in 0.005..0.289_f64, volts in 1.44..1.56_f64,
        ) {
            let mut belief = Belief { sd, unread: false, ..Belief::START };
            let evidence = Evidence { measured_v: volts, meter_var: 1e-5, drop_var: 0.0, curve: |_| 1.5 };
            let mut found = depth;
            for _ in 0..1000 {
                let correction;
                (found, correction) = belief.correct(found, &evidence);
                prop_assert_eq!(correction, Correction::Taken);
            }
            prop_assert!((found - depth).abs() < 1e-9, "{}", found);
            prop_assert!((belief.sd - sd).abs() < 1e-9, "{}", belief.sd);
        }

        #[test]
        fn a_hundred_readings_at_once_say_hardly_more_than_one(
            sd in 0.02..0.2_f64, slope in 0.1..2.0_f64,
        ) {
            let evidence = Evidence {
                measured_v: 1.6 - slope * 0.5, meter_var: 1e-8, drop_var: 0.0, curve: |x| 1.6 - slope * x,
            };
            let mut belief = Belief { sd, unread: false, ..Belief::START };
            for _ in 0..100 {
                belief.correct(0.5, &evidence);
            }
            let one = libm::sqrt(1.0 / (1.0 / (sd * sd) + slope * slope / MODEL_VAR));
            // Of the steepest curves and the widest beliefs the points lie two of the reading's deviations
            // apart, which takes an eighth off.
            prop_assert!(belief.sd > 0.85 * one.max(LEAST_SD), "{} {}", belief.sd, one);
        }
    }
}
