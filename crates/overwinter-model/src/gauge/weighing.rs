//! A reading weighed at many depths.

use crate::arithmetic::{max, min};

/// How far the model's voltage of one cell is off, for a long time: nine tenths of the alkaline AA's
/// published voltages that were held out of its fit lie within 36 mV, which is 22 mV as a standard
/// deviation.
pub(super) const MODEL_VAR: f64 = 0.022 * 0.022;

/// A reading so many standard deviations off is doubted. Common practice, no source.
const GATE: f64 = 3.0;

/// Depths at which a reading is weighed, and how many standard deviations they reach either way.
const POINTS: usize = 65;
const REACH: f64 = 4.0;

/// The depths that are weighed at all. Those beyond a full cell, where the curve goes on straight,
/// keep a full one from being thought emptier only because it cannot be fuller.
const LOWEST: f64 = -0.25;
const HIGHEST: f64 = 1.25;

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
pub(super) struct Points<'e, F> {
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
pub(super) struct Moments {
    pub(super) mean: f64,
    pub(super) var: f64,
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
        let var = max(self.xx / self.weight - mean * mean, 0.0);
        Moments { mean, var }
    }
}

impl<'e, F: Fn(f64) -> f64> Points<'e, F> {
    /// Around a depth that is known with this standard deviation.
    pub(super) fn around(depth: f64, sd: f64, anywhere: f64, evidence: &'e Evidence<F>) -> Self {
        let mut lowest = max(depth - REACH * sd, LOWEST);
        let mut highest = min(depth + REACH * sd, HIGHEST);
        if anywhere > 0.0 {
            (lowest, highest) = (min(lowest, 0.0), max(highest, 1.0));
        }
        Self {
            lowest,
            highest,
            depth,
            sd,
            anywhere,
            evidence,
        }
    }

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
        libm::log(max(
            (1.0 - self.anywhere) * normal + elsewhere,
            f64::MIN_POSITIVE,
        ))
    }

    /// What is to be expected before the reading: the depth, and the volts.
    pub(super) fn expected(&self) -> (Moments, Moments) {
        let (mut depth, mut volts) = (Sums::default(), Sums::default());
        for at in self.iter() {
            let weight = libm::exp(at.log_prior);
            depth.add(weight, at.depth);
            volts.add(weight, at.expected_v);
        }
        (depth.moments(), volts.moments())
    }

    /// The depth after a reading of which so much of the model's error is news.
    pub(super) fn weighed(&self, news: f64) -> Moments {
        let var = self.evidence.var(news);
        let log_weight = |at: &Point| {
            let off = self.evidence.measured_v - at.expected_v;
            at.log_prior - 0.5 * off * off / var
        };
        let mut heaviest = f64::MIN;
        for at in self.iter() {
            heaviest = max(heaviest, log_weight(&at));
        }
        let mut depth = Sums::default();
        for at in self.iter() {
            depth.add(libm::exp(log_weight(&at) - heaviest), at.depth);
        }
        depth.moments()
    }

    /// The least variance to be told: one point may have all the weight, and the depth lie anywhere
    /// around it.
    pub(super) fn least_var(&self) -> f64 {
        let apart = self.depth(1) - self.depth(0);
        apart * apart / 12.0
    }
}

impl<F> Evidence<F> {
    /// Variance of the reading where so much of the model's error is news, V².
    pub(super) fn var(&self, news: f64) -> f64 {
        (MODEL_VAR + self.drop_var) / news + self.meter_var
    }

    /// Share of the news that a reading uses up.
    pub(super) fn used(&self) -> f64 {
        (MODEL_VAR + self.drop_var) / self.var(1.0)
    }

    /// Whether the reading is out of what was to be expected, by a model that may err as ever.
    pub(super) fn denies(&self, expected: &Moments) -> bool {
        let var = expected.var + self.var(1.0);
        let off = self.measured_v - expected.mean;
        off * off > GATE * GATE * var
    }
}
