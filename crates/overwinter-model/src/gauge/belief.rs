//! How sure the depth is, and what a voltage says of it.

use serde::{Deserialize, Serialize};

/// Standard deviation of the depth of cells just put in. Common practice, no source.
const START_SD: f64 = 0.05;

/// No surer than this: the model's curve is no better. Common practice, no source.
const LEAST_SD: f64 = 0.005;

/// Nothing known: the standard deviation of an even spread over all depths, `1/√12`.
const MOST_SD: f64 = 0.289;

/// How far the depth is let go where two readings in a row deny it.
const LOST_SD: f64 = 0.5;

/// What a camera draws is known to this share. Common practice, no source.
pub(super) const DRAW_SD: f64 = 0.1;

/// What a year does to the depth beside what the model knows. Common practice, no source.
const SD_PER_YEAR: f64 = 0.02;

const HOURS_PER_YEAR: f64 = 8766.0;

/// How far the model's voltage of one cell is off, for a long time: nine tenths of the alkaline AA's
/// published voltages that were held out of its fit lie within 36 mV, which is 22 mV as a standard
/// deviation.
const MODEL_SD_V: f64 = 0.022;

/// For how long it stays off the same way, hours: a month. Common practice, no source.
const MODEL_HOURS: f64 = 720.0;

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

/// How sure the depth is, beside how far the model's voltage is thought to be off.
///
/// The depth itself is in the cells' state. The voltage's error `b` is a second unknown that is
/// forgotten with a time constant, so that a hundred readings at one depth say little more than one.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub(super) struct Belief {
    /// Standard deviation of the depth.
    #[serde(with = "crate::number")]
    pub(super) sd: f64,
    /// `b`: the pack stands higher than the model says, volts of one cell.
    #[serde(with = "crate::number")]
    pub(super) bias_v: f64,
    /// Its variance, V².
    #[serde(with = "crate::number")]
    pub(super) bias_var: f64,
    /// Covariance of depth and `b`, V.
    #[serde(with = "crate::number")]
    pub(super) cross: f64,
    /// The last reading was doubted.
    pub(super) doubted: bool,
}

/// A measured voltage and what is known of how it comes about, all of one cell in the mean.
pub(super) struct Evidence<F> {
    /// Volts.
    pub(super) measured_v: f64,
    /// Variance of what is off another way each time, V².
    pub(super) noise_var: f64,
    /// The model's volts by depth.
    pub(super) curve: F,
}

/// One depth with what speaks for it.
#[derive(Clone, Copy)]
struct Point {
    depth: f64,
    /// What the model and the bias that goes with this depth let expect.
    expected_v: f64,
    /// That bias.
    bias_v: f64,
    /// Logarithm of the weight before the reading.
    log_prior: f64,
}

/// The depths that a reading is weighed at. All but the voltages is worked out anew each time: a small
/// device's stack has no room for it.
struct Points {
    /// The model's, of one cell.
    volts: [f64; POINTS],
    /// What was believed before the reading, and at what depth.
    belief: Belief,
    depth: f64,
}

impl Points {
    fn depth_at(&self, at: usize) -> f64 {
        let sd = self.belief.sd;
        let lowest = libm::fmax(self.depth - REACH * sd, LOWEST);
        let highest = libm::fmin(self.depth + REACH * sd, HIGHEST);
        let share = at as f64 / (POINTS - 1) as f64;
        lowest + (highest - lowest) * share
    }

    fn iter(&self) -> impl Iterator<Item = Point> {
        let Belief {
            sd, bias_v, cross, ..
        } = self.belief;
        let bias_by_depth = cross / (sd * sd);
        self.volts.iter().enumerate().map(move |(at, volts)| {
            let depth = self.depth_at(at);
            let deviates = (depth - self.depth) / sd;
            let bias_v = bias_v + bias_by_depth * (depth - self.depth);
            Point {
                depth,
                expected_v: volts + bias_v,
                bias_v,
                log_prior: -0.5 * deviates * deviates,
            }
        })
    }
}

/// Weighted sums of one or two quantities.
#[derive(Default)]
struct Moments {
    weight: f64,
    x: f64,
    y: f64,
    xx: f64,
    xy: f64,
    yy: f64,
}

impl Moments {
    fn of(points: impl Iterator<Item = (f64, f64, f64)>) -> Self {
        points.fold(Self::default(), |sum, (weight, x, y)| Self {
            weight: sum.weight + weight,
            x: sum.x + weight * x,
            y: sum.y + weight * y,
            xx: sum.xx + weight * x * x,
            xy: sum.xy + weight * x * y,
            yy: sum.yy + weight * y * y,
        })
    }

    fn mean_x(&self) -> f64 {
        self.x / self.weight
    }

    fn mean_y(&self) -> f64 {
        self.y / self.weight
    }

    fn var_x(&self) -> f64 {
        self.xx / self.weight - self.mean_x() * self.mean_x()
    }

    fn var_y(&self) -> f64 {
        self.yy / self.weight - self.mean_y() * self.mean_y()
    }

    fn cov(&self) -> f64 {
        self.xy / self.weight - self.mean_x() * self.mean_y()
    }
}

impl Belief {
    pub(super) const START: Self = Self {
        sd: START_SD,
        bias_v: 0.0,
        bias_var: MODEL_SD_V * MODEL_SD_V,
        cross: 0.0,
        doubted: false,
    };

    /// What is left when two readings deny the depth.
    const LOST: Self = Self {
        sd: LOST_SD,
        ..Self::START
    };

    /// An hour in which the depth moved by `moved`, known to the share `error`, and in which charge for
    /// `refused` of depth was offered to a full pack: one that is emptier than thought took it.
    ///
    /// The error of capacity and draw is the same all the time, so deviations add up, not variances.
    pub(super) fn hour(&mut self, moved: f64, error: f64, refused: f64) {
        let kept = libm::exp(-1.0 / MODEL_HOURS);
        self.bias_v *= kept;
        self.cross *= kept;
        let settled = MODEL_SD_V * MODEL_SD_V;
        self.bias_var = settled + (self.bias_var - settled) * kept * kept;
        let grown = self.sd + error * libm::fabs(moved) + SD_PER_YEAR / HOURS_PER_YEAR;
        self.become_sure(grown - refused);
    }

    /// Sets the deviation of the depth, within its limits. A smaller one keeps its correlation.
    fn become_sure(&mut self, sd: f64) {
        let sd = sd.clamp(LEAST_SD, MOST_SD);
        self.cross *= libm::fmin(sd / self.sd, 1.0);
        self.sd = sd;
    }

    /// Takes a reading in, and gives the depth that is believed then.
    ///
    /// Prediction and correction as in Kalman's filter for a cell's charge: Plett, Extended Kalman
    /// filtering for battery management systems, part 3, Journal of Power Sources 134, 277-292, 2004;
    /// the error of the model as a further state as in Schmidt, Application of state-space methods to
    /// navigation problems, Advances in Control Systems 3, 1966 (both from memory). With a slope
    /// `H = dU/dx`, prior covariance `P` of the depth `x` and the bias `b`, and noise `R`:
    ///
    /// ```text
    /// S = H² P_xx + 2 H P_xb + P_bb + R        x' = x + (H P_xx + P_xb) (U_measured − U(x) − b) / S
    /// ```
    ///
    /// An open-circuit curve has knees, and one slope would make a reading on its flat part say much
    /// or on its steep part say little. So the depth is weighed at points, and mean and covariance are
    /// taken from these (a point-mass filter: Bucy and Senne, Digital synthesis of non-linear filters,
    /// Automatica 7, 1971, from memory). On a straight line that is the formula above.
    pub(super) fn correct<F: Fn(f64) -> f64>(
        &mut self,
        depth: f64,
        evidence: &Evidence<F>,
    ) -> (f64, Correction) {
        let mut correction = Correction::Taken;
        let mut points = self.points(depth, evidence);
        if self.denied(&points, evidence) {
            if !self.doubted {
                self.doubted = true;
                return (depth, Correction::Doubted);
            }
            *self = Self::LOST;
            points = self.points(depth, evidence);
            correction = Correction::FoundAnew;
        }
        self.doubted = false;
        (self.weigh(&points, evidence), correction)
    }

    /// Variance of the bias where the depth is known.
    fn bias_var_at_depth(&self) -> f64 {
        libm::fmax(
            self.bias_var - self.cross * self.cross / (self.sd * self.sd),
            0.0,
        )
    }

    fn points<F: Fn(f64) -> f64>(&self, depth: f64, evidence: &Evidence<F>) -> Points {
        let mut points = Points {
            volts: [0.0; POINTS],
            belief: *self,
            depth,
        };
        for at in 0..POINTS {
            let volts = (evidence.curve)(points.depth_at(at));
            if let Some(place) = points.volts.get_mut(at) {
                *place = volts;
            }
        }
        points
    }

    /// Whether a reading is out of what was to be expected.
    fn denied<F>(&self, points: &Points, evidence: &Evidence<F>) -> bool {
        let weighed = |point: Point| (libm::exp(point.log_prior), point.expected_v, 0.0);
        let expected = Moments::of(points.iter().map(weighed));
        let var = expected.var_x() + self.bias_var_at_depth() + evidence.noise_var;
        let off = evidence.measured_v - expected.mean_x();
        off * off > GATE * GATE * var
    }

    /// Mean and covariance after a reading.
    fn weigh<F>(&mut self, points: &Points, evidence: &Evidence<F>) -> f64 {
        let bias_var = self.bias_var_at_depth();
        let var = bias_var + evidence.noise_var;
        let log_weight = |point: Point| {
            let off = evidence.measured_v - point.expected_v;
            point.log_prior - 0.5 * off * off / var
        };
        let heaviest = points.iter().map(log_weight).fold(f64::MIN, libm::fmax);
        let gain = bias_var / var;
        let after = Moments::of(points.iter().map(|point| {
            let bias_v = point.bias_v + gain * (evidence.measured_v - point.expected_v);
            let weight = libm::exp(log_weight(point) - heaviest);
            (weight, point.depth, bias_v)
        }));
        self.bias_v = after.mean_y();
        self.bias_var = libm::fmax(after.var_y(), 0.0) + bias_var * (1.0 - gain);
        self.cross = after.cov();
        // One point may have all the weight, and the depth lie anywhere around it.
        let apart = points.depth_at(1) - points.depth_at(0);
        self.sd = libm::sqrt(libm::fmax(after.var_x(), apart * apart / 12.0));
        self.become_sure(self.sd);
        after.mean_x().clamp(0.0, 1.0)
    }
}
