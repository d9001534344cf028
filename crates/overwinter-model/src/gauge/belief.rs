//! How sure the depth is, and what a voltage says of it.

use serde::{Deserialize, Serialize};

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

/// How far the model's voltage of one cell is off, for a long time: nine tenths of the alkaline AA's
/// published voltages that were held out of its fit lie within 36 mV, which is 22 mV as a standard
/// deviation.
const MODEL_VAR: f64 = 0.022 * 0.022;

/// For how long it stays off the same way, hours: a month. Common practice, no source.
const MODEL_HOURS: f64 = 720.0;

/// Some of the error is always another one.
const LEAST_NEWS: f64 = 1e-4;

/// A reading so many standard deviations off is doubted. Common practice, no source.
const GATE: f64 = 3.0;

/// Depths at which a reading is weighed, and how many standard deviations they reach either way.
const POINTS: usize = 65;
const REACH: f64 = 4.0;

/// The depths that are weighed at all. Those beyond a full cell, where the curve goes on straight,
/// keep a full one from being thought emptier only because it cannot be fuller.
const LOWEST: f64 = -0.25;
const HIGHEST: f64 = 1.25;

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
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub(super) struct Belief {
    /// Standard deviation of the depth.
    #[serde(with = "crate::number")]
    pub(super) sd: f64,
    /// How much of the model's error at the next reading is another one than at those before, 0 to 1.
    /// It is the same for weeks, so that a hundred readings in a row say little more than one.
    #[serde(with = "crate::number")]
    pub(super) news: f64,
    /// No reading has been taken in yet.
    pub(super) unread: bool,
    /// The last reading was doubted.
    pub(super) doubted: bool,
}

/// A measured voltage and what is known of how it comes about, all of one cell in the mean.
pub(super) struct Evidence<F> {
    /// Volts.
    pub(super) measured_v: f64,
    /// Variance of what the meter is off, another way each time, V².
    pub(super) meter_var: f64,
    /// Variance of what the load is thought to pull the voltage down by, V².
    pub(super) drop_var: f64,
    /// The model's volts by depth.
    pub(super) curve: F,
}

/// The depths at which a reading is weighed, of which any between full and empty is as likely to the
/// share `anywhere`.
///
/// No table of them is kept: it would be the largest thing on a device's stack, and to work the points
/// out again takes no longer than an hour of the season.
struct Points<'e, F> {
    lowest: f64,
    highest: f64,
    depth: f64,
    sd: f64,
    anywhere: f64,
    evidence: &'e Evidence<F>,
}

/// One depth with what speaks for it.
struct Point {
    depth: f64,
    /// What the model lets expect there.
    expected_v: f64,
    /// Logarithm of the weight before the reading.
    log_prior: f64,
}

/// Sums of values with their weights.
#[derive(Default)]
struct Sums {
    weight: f64,
    x: f64,
    xx: f64,
}

/// Weighted mean and variance.
struct Moments {
    mean: f64,
    var: f64,
}

impl Sums {
    fn add(&mut self, weight: f64, value: f64) {
        self.weight += weight;
        self.x += weight * value;
        self.xx += weight * value * value;
    }

    /// Some weight must be above 0.
    fn moments(&self) -> Moments {
        let mean = self.x / self.weight;
        let var = libm::fmax(self.xx / self.weight - mean * mean, 0.0);
        Moments { mean, var }
    }
}

impl<F: Fn(f64) -> f64> Points<'_, F> {
    fn depth(&self, at: usize) -> f64 {
        let share = at as f64 / (POINTS - 1) as f64;
        self.lowest + (self.highest - self.lowest) * share
    }

    fn iter(&self) -> impl Iterator<Item = Point> {
        (0..POINTS).map(|at| self.point(self.depth(at)))
    }

    #[inline(never)]
    fn point(&self, here: f64) -> Point {
        Point {
            depth: here,
            expected_v: (self.evidence.curve)(here),
            log_prior: self.log_prior(here),
        }
    }

    /// Logarithm of the density at a depth, but for a summand that is the same for all.
    fn log_prior(&self, here: f64) -> f64 {
        let deviates = (here - self.depth) / self.sd;
        let around = -0.5 * deviates * deviates;
        if self.anywhere <= 0.0 {
            return around;
        }
        let elsewhere = if (0.0..=1.0).contains(&here) {
            self.anywhere
        } else {
            0.0
        };
        let normal = libm::exp(around) / (self.sd * libm::sqrt(2.0 * core::f64::consts::PI));
        // Outside nothing may be left of either, whose logarithm would be no number to weigh with.
        libm::log(libm::fmax(
            (1.0 - self.anywhere) * normal + elsewhere,
            f64::MIN_POSITIVE,
        ))
    }

    /// What is to be expected before the reading: the depth, and the volts.
    fn expected(&self) -> (Moments, Moments) {
        let (mut depth, mut volts) = (Sums::default(), Sums::default());
        for at in self.iter() {
            let weight = libm::exp(at.log_prior);
            depth.add(weight, at.depth);
            volts.add(weight, at.expected_v);
        }
        (depth.moments(), volts.moments())
    }

    /// The depth after a reading of which so much of the model's error is news.
    fn weighed(&self, news: f64) -> Moments {
        let var = self.evidence.var(news);
        let log_weight = |at: &Point| {
            let off = self.evidence.measured_v - at.expected_v;
            at.log_prior - 0.5 * off * off / var
        };
        let mut heaviest = f64::MIN;
        for at in self.iter() {
            heaviest = libm::fmax(heaviest, log_weight(&at));
        }
        let mut depth = Sums::default();
        for at in self.iter() {
            depth.add(libm::exp(log_weight(&at) - heaviest), at.depth);
        }
        depth.moments()
    }

    /// The least variance to be told: one point may have all the weight, and the depth lie anywhere
    /// around it.
    fn least_var(&self) -> f64 {
        let apart = self.depth(1) - self.depth(0);
        apart * apart / 12.0
    }
}

impl<F> Evidence<F> {
    /// Variance of the reading where so much of the model's error is news, V².
    fn var(&self, news: f64) -> f64 {
        (MODEL_VAR + self.drop_var) / news + self.meter_var
    }

    /// Share of the news that a reading uses up.
    fn used(&self) -> f64 {
        (MODEL_VAR + self.drop_var) / self.var(1.0)
    }

    /// Whether the reading is out of what was to be expected, by a model that may err as ever.
    fn denies(&self, expected: &Moments) -> bool {
        let var = expected.var + self.var(1.0);
        let off = self.measured_v - expected.mean;
        off * off > GATE * GATE * var
    }
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
        self.sd = (grown - refused).clamp(LEAST_SD, MOST_SD);
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
        let mut points = self.points(depth, 0.0, evidence);
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
            points = self.points(depth, anywhere, evidence);
            before = Moments {
                mean: depth,
                var: self.sd * self.sd,
            };
        }
        self.doubted = false;
        self.unread = false;
        let after = points.weighed(self.news);
        let var = self.sd * self.sd * (after.var / before.var);
        self.sd = libm::sqrt(libm::fmax(var, points.least_var())).clamp(LEAST_SD, MOST_SD);
        self.news = libm::fmax(self.news * (1.0 - evidence.used()), LEAST_NEWS);
        let found = (depth + (after.mean - before.mean)).clamp(0.0, 1.0);
        (found, correction)
    }

    fn points<'e, F>(&self, depth: f64, anywhere: f64, evidence: &'e Evidence<F>) -> Points<'e, F> {
        let mut lowest = libm::fmax(depth - REACH * self.sd, LOWEST);
        let mut highest = libm::fmin(depth + REACH * self.sd, HIGHEST);
        if anywhere > 0.0 {
            (lowest, highest) = (libm::fmin(lowest, 0.0), libm::fmax(highest, 1.0));
        }
        Points {
            lowest,
            highest,
            depth,
            sd: self.sd,
            anywhere,
            evidence,
        }
    }
}

#[cfg(test)]
mod tests {
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
