//! `catalogue --from`: a cell of one's own, fitted to one's own points.

mod document;

use std::path::Path;

pub use document::{
    CellAnswer, Errors, FittedDetails, FittedDocument, MovedDocument, PointDocument, PointError,
};

use crate::cell_from_points::{CellPoints, Move, fit, moves};
use crate::cells::{self, NamedCell};
use crate::fit::{Residual, residuals};
use crate::host::Host;
use crate::problem::Failure;
use crate::shown;

/// A fitted cell and what it was fitted to.
pub struct FittedCell {
    /// The points.
    pub own: CellPoints,
    /// The cell.
    pub cell: NamedCell,
}

impl FittedCell {
    /// The answer about it; `file` is what it is written to.
    #[must_use]
    pub fn answer(&self, file: Option<&Path>) -> CellAnswer {
        CellAnswer::of(self, file.map(shown::path))
    }

    /// The text of its cell file, which begins by saying where it comes from.
    ///
    /// # Errors
    /// [`Failure::Run`] if the cell has no form as text.
    pub fn text(&self, origin: &str) -> Result<String, Failure> {
        cells::text(&self.cell, origin)
            .map_err(|why| Failure::Run(format!("the cell has no form as a file: {why}")))
    }

    fn residuals(&self) -> Vec<Residual<'_>> {
        residuals(&(&self.cell).into(), &self.own.points)
    }

    /// Capacity over that of the cell it started from, in the ratio of the nominal ones.
    fn capacity_ratio(&self) -> f64 {
        self.cell.cell.capacity / self.own.start().cell.capacity
    }

    /// Said where the capacity is one that no other maker's cell has.
    fn caution(&self) -> Option<String> {
        let ratio = self.capacity_ratio();
        (!USUAL_RATIO.contains(&ratio)).then(|| {
            format!(
                "Caution: {:.0} mAh is {ratio:.2} times the capacity of {} of that size; look for a \
                 slipped digit or another unit among the points, or give capacity_mah",
                self.cell.cell.capacity.as_milliampere_hours(),
                self.own.like.name
            )
        })
    }

    fn moves(&self) -> Vec<Move> {
        moves(&self.own.like.cell, &self.cell.cell)
    }
}

/// Capacities of cells of one size and kind stay within these times each other (common practice,
/// no source).
const USUAL_RATIO: std::ops::RangeInclusive<f64> = 0.5..=1.5;

/// Fits the cell.
///
/// # Errors
/// [`Failure::Request`] if wild points have driven it out of what a cell can be.
pub fn run(own: CellPoints, host: &Host<'_>) -> Result<FittedCell, Failure> {
    let work = host.begin(None, "runs of the fit");
    let cell = fit(&own, &|| work.advance(1));
    drop(work);
    cells::check(&cell)?;
    Ok(FittedCell { own, cell })
}
