//! One cell of a kind.

use super::{Cell, CellState, Wells};
use crate::circuit::Polarisation;
use crate::units::{Charge, Energy, Time};

/// One cell of its kind, whose own capacity may be another than the kind's: cells of one pack are not
/// all alike.
#[derive(Clone, Copy, Debug)]
pub struct Specimen<'a> {
    pub(super) cell: &'a Cell,
    pub(super) capacity: Charge,
}

impl<'a> Specimen<'a> {
    /// What kind of cell it is.
    #[must_use]
    pub const fn cell(&self) -> &'a Cell {
        self.cell
    }

    /// Its own capacity.
    #[must_use]
    pub const fn capacity(&self) -> Charge {
        self.capacity
    }

    /// Fresh (primary) or full (rechargeable).
    #[must_use]
    pub fn full(&self) -> CellState {
        CellState {
            wells: Wells::level(self.capacity, self.cell.kinetics.available_share),
            polarisation: Polarisation::NONE,
            age: Time::ZERO,
        }
    }

    /// As [`Cell::depth`].
    #[must_use]
    pub fn depth(&self, state: &CellState) -> f64 {
        state.wells.depth(self.capacity)
    }

    /// As [`Cell::energy_left`].
    #[must_use]
    pub fn energy_left(&self, state: &CellState) -> Energy {
        self.cell
            .open_circuit
            .energy_left(self.capacity, self.depth(state))
            * f64::from(self.cell.in_series)
    }
}
