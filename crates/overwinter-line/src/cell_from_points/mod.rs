//! A cell of one's own: a catalogue cell that a practitioner's points and data-sheet numbers have
//! moved, by the same fit that made the catalogue.

mod doubt;
mod file;
mod moved;
mod point;
mod tellable;

use overwinter_model::Charge;
use overwinter_model::cell::catalogue::CatalogueCell;
use overwinter_model::cell::{Cell, Makes, Tested};

pub use file::load;
pub use moved::{Move, moves};

use crate::cells::NamedCell;
use crate::fit::{Point, Problem, rounded, tested, wider};
use crate::points::RatedCell;

/// What a user's file of points says, checked.
#[derive(Clone, Debug)]
pub struct CellPoints {
    /// What the cell will be called.
    pub name: String,
    /// For a person.
    pub title: String,
    /// The cell that gives the chemistry, the start and the priors.
    pub like: &'static CatalogueCell,
    /// Nominal capacity; that of `like` if the file has none.
    pub rated: Charge,
    /// Mass in grams; that of `like` if the file has none.
    pub mass_g: f64,
    /// The points, data-sheet numbers first.
    pub points: Vec<Point>,
}

impl CellPoints {
    /// Where the fit starts: `like`, with its capacity in the ratio of the nominal ones.
    #[must_use]
    pub fn start(&self) -> RatedCell {
        start(self.like, self.rated)
    }
}

/// `like` with the capacity that its own has for its rating.
fn start(like: &CatalogueCell, rated: Charge) -> RatedCell {
    let cell = Cell {
        capacity: like.cell.capacity * (rated / like.rated),
        ..like.cell
    };
    RatedCell { cell, rated }
}

/// Fits a cell to the points. Only parameters that the points can tell are turned: one capacity
/// moves the capacity and nothing else. `watch` is called after every run through all of the
/// points.
#[must_use]
pub fn fit(own: &CellPoints, watch: &dyn Fn()) -> NamedCell {
    let start = own.start();
    let free = tellable::knobs(&start, &own.points);
    let mut cell = start.cell;
    if !free.is_empty() {
        cell = Problem::new(start, &own.points, free, watch).solve().cell;
    }
    cell.tested = range(own, cell);
    let entry = RatedCell {
        cell,
        rated: own.rated,
    };
    cell.beyond_points.resistance = doubt::of_resistance(&entry, &own.points);
    // The points are of the very cell, whatever its make.
    cell.makes = Makes::ALIKE;
    NamedCell {
        name: own.name.clone(),
        title: own.title.clone(),
        cell: rounded(&cell),
        rated: own.rated,
        mass_g: own.mass_g,
    }
}

/// The range of the cell's own points together with that of `like`, whose points hold whatever
/// did not move; its currents in proportion to the capacity.
fn range(own: &CellPoints, cell: Cell) -> Tested {
    let entry = RatedCell {
        cell,
        rated: own.rated,
    };
    let like = own.like.cell.tested;
    let larger = own.rated / own.like.rated;
    let range = wider(tested(&entry, &own.points), like);
    Tested {
        heaviest: range.heaviest.max(like.heaviest * larger),
        heaviest_in_frost: range.heaviest_in_frost.max(like.heaviest_in_frost * larger),
        ..range
    }
}

#[cfg(test)]
mod tests;
