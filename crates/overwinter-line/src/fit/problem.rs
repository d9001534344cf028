//! The least-squares problem: weighted robust distances, priors and smoothness.

use levenberg_marquardt::{LeastSquaresProblem, LevenbergMarquardt};
use nalgebra::{DMatrix, DVector, Dyn, Owned};
use overwinter_model::cell::Cell;
use overwinter_model::random::{Draw, Key, bits, normal, uniform};

use super::{Free, Knob, Point};
use crate::points::{Measure, RatedCell, evaluate};

/// How much neighbouring slopes of the open-circuit voltage may depart from the start's in
/// different directions: one standard deviation, in logarithms.
const SMOOTHNESS: f64 = 0.4;

/// More starts than any cell needed.
const MOST_RESTARTS: usize = 12;

/// A cell's fit.
pub struct Problem<'a> {
    entry: RatedCell,
    points: Vec<Point>,
    free: Vec<Free>,
    hidden: DVector<f64>,
    watch: &'a dyn Fn(),
}

/// What came out of a fit.
#[derive(Clone, Debug)]
pub struct Fitted {
    /// The cell.
    pub cell: Cell,
    /// Half of the sum of the squared distances, priors included.
    pub objective: f64,
    /// Why the method stopped, in its own words.
    pub ended: String,
}

impl<'a> Problem<'a> {
    /// A fit of `entry` to the points that are not held out, by turning `free`. `watch` is called
    /// after every run through all of the points.
    #[must_use]
    pub fn new(entry: RatedCell, points: &[Point], free: Vec<Free>, watch: &'a dyn Fn()) -> Self {
        let hidden = DVector::from_iterator(free.len(), free.iter().map(|f| f.hidden(f.start)));
        Self {
            entry,
            points: points
                .iter()
                .filter(|p| p.role.decides())
                .cloned()
                .collect(),
            free,
            hidden,
            watch,
        }
    }

    /// The same problem started elsewhere: each knob one draw from its prior away, by the number of the
    /// start; number 0 starts where it would.
    #[must_use]
    pub fn started_at(mut self, number: u32) -> Self {
        if number == 0 {
            return self;
        }
        for (day, (free, hidden)) in (0..).zip(self.free.iter().zip(self.hidden.iter_mut())) {
            let draw = Draw {
                day,
                purpose: 0,
                stream: 0,
            };
            let [word, ..] = bits(Key(0), [number], draw);
            let [deviate] = normal(uniform(word));
            *hidden = free.hidden(free.within(free.start * (free.prior * deviate).exp()));
        }
        self
    }

    /// The fitted cell. The method starts anew from its own end, with its trust region wide
    /// again, until that gains nothing.
    #[must_use]
    pub fn solve(self) -> Fitted {
        let method = LevenbergMarquardt::new()
            .with_ftol(1e-5)
            .with_xtol(1e-6)
            .with_gtol(1e-6)
            .with_stepbound(1.0)
            .with_patience(5);
        let (mut solved, mut report) = method.minimize(self);
        for _ in 0..MOST_RESTARTS {
            let before = report.objective_function;
            (solved, report) = method.minimize(solved);
            if report.objective_function > 0.999 * before {
                break;
            }
        }
        Fitted {
            cell: solved.cell(&solved.hidden),
            objective: report.objective_function,
            ended: format!("{:?}", report.termination),
        }
    }

    fn cell(&self, hidden: &DVector<f64>) -> Cell {
        let mut cell = self.entry.cell;
        for (free, &hidden) in self.free.iter().zip(hidden) {
            free.knob.write(&mut cell, free.value(hidden));
        }
        cell
    }

    fn distances(&self, hidden: &DVector<f64>) -> DVector<f64> {
        let mut entry = self.entry;
        entry.cell = self.cell(hidden);
        let of_points = self
            .points
            .iter()
            .map(|point| robust(distance(&entry, point)));
        let moved: Vec<f64> = self
            .free
            .iter()
            .zip(hidden)
            .map(|(free, &hidden)| free.moved(free.value(hidden)))
            .collect();
        let priors = self
            .free
            .iter()
            .zip(&moved)
            .map(|(free, moved)| moved / free.prior);
        let neighbours = self.free.windows(2).zip(moved.windows(2));
        let smooth = neighbours.filter_map(|(free, moved)| {
            let [a, b] = free else { return None };
            let both = matches!((a.knob, b.knob), (Knob::OcvSlope(_), Knob::OcvSlope(_)));
            both.then(|| (moved[1] - moved[0]) / SMOOTHNESS)
        });
        let distances = DVector::from_vec(of_points.chain(priors).chain(smooth).collect());
        (self.watch)();
        distances
    }
}

/// How far a cell is from a point, in standard deviations.
fn distance(entry: &RatedCell, point: &Point) -> f64 {
    let reference = point.row.value;
    // The row was usable with the start; a cell for which it is not is far off.
    let ours = evaluate(entry, &point.row).map_or(0.0, |modelled| modelled.ours);
    let off = match point.measure {
        Measure::Relative => (ours / reference).max(0.01).ln(),
        Measure::Absolute => ours - reference,
    };
    off / point.sigma
}

/// The pseudo-Huber loss as a distance: as it is up to about two standard deviations, then as its
/// root, so that an odd point pulls but does not rule.
fn robust(distance: f64) -> f64 {
    const KNEE: f64 = 2.0;
    let scaled = distance / KNEE;
    let loss = 2.0 * (scaled.hypot(1.0) - 1.0);
    KNEE * loss.sqrt().copysign(distance)
}

impl LeastSquaresProblem<f64, Dyn, Dyn> for Problem<'_> {
    type ResidualStorage = Owned<f64, Dyn>;
    type JacobianStorage = Owned<f64, Dyn, Dyn>;
    type ParameterStorage = Owned<f64, Dyn>;

    fn set_params(&mut self, hidden: &DVector<f64>) {
        self.hidden.copy_from(hidden);
    }

    fn params(&self) -> DVector<f64> {
        self.hidden.clone()
    }

    fn residuals(&self) -> Option<DVector<f64>> {
        Some(self.distances(&self.hidden))
    }

    fn jacobian(&self) -> Option<DMatrix<f64>> {
        // Wide enough to be above the grain of the step control, narrow against the priors.
        const STEP: f64 = 2e-3;
        let base = self.distances(&self.hidden);
        let columns: Vec<DVector<f64>> = (0..self.hidden.len())
            .map(|i| {
                let mut moved = self.hidden.clone();
                moved[i] += STEP;
                (self.distances(&moved) - &base) / STEP
            })
            .collect();
        Some(DMatrix::from_columns(&columns))
    }
}
