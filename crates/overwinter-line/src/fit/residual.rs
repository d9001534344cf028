//! How far a cell is from points, and how far from most of them.

use super::Point;
use crate::points::{Measure, RatedCell, evaluate};

/// A point and what the model makes of it.
#[derive(Clone, Debug)]
pub struct Residual<'a> {
    /// The point.
    pub point: &'a Point,
    /// The model's figure in the row's unit; NaN if there is none.
    pub ours: f64,
    /// Cells in series in what was tested.
    pub cells: f64,
    /// Relative, or in the row's unit; with its sign.
    pub off: f64,
}

impl Residual<'_> {
    /// The distance without its sign: relative, or volts of one cell.
    #[must_use]
    pub fn error(&self) -> f64 {
        match self.point.measure {
            Measure::Relative => self.off.abs(),
            Measure::Absolute => (self.off / self.cells).abs(),
        }
    }
}

/// Every point with the model's figure for it.
#[must_use]
pub fn residuals<'a>(entry: &RatedCell, points: &'a [Point]) -> Vec<Residual<'a>> {
    let residual = |point: &'a Point| {
        let modelled = evaluate(entry, &point.row);
        let ours = modelled.as_ref().map_or(f64::NAN, |m| m.ours);
        let cells = modelled.map_or(1.0, |m| f64::from(m.in_series));
        let reference = point.row.value;
        let off = match point.measure {
            Measure::Relative => ours / reference - 1.0,
            Measure::Absolute => ours - reference,
        };
        Residual {
            point,
            ours,
            cells,
            off,
        }
    };
    points.iter().map(residual).collect()
}

/// How large errors are: relative, or volts of one cell.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Errors {
    /// How many there are.
    pub points: usize,
    /// Half of them are smaller.
    pub median: f64,
    /// Nine of ten are smaller.
    pub ninetieth: f64,
    /// The largest.
    pub worst: f64,
}

impl Errors {
    /// Those of some residuals; `None` if there are none.
    pub fn of<'a>(residuals: impl IntoIterator<Item = &'a Residual<'a>>) -> Option<Self> {
        let mut errors: Vec<f64> = residuals.into_iter().map(Residual::error).collect();
        errors.sort_by(f64::total_cmp);
        Some(Self {
            points: errors.len(),
            median: quantile(&errors, 0.5)?,
            ninetieth: quantile(&errors, 0.9)?,
            worst: *errors.last()?,
        })
    }
}

/// The error that `share` of the sorted errors keep below.
fn quantile(sorted: &[f64], share: f64) -> Option<f64> {
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a rank of a list that is in memory"
    )]
    let rank = (share * sorted.len().checked_sub(1)? as f64).round() as usize;
    sorted.get(rank).copied()
}
