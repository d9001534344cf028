//! Cells in series and in parallel, with one that is weaker than the rest.

#[cfg(feature = "serde")]
mod stored;

use core::ops::{Add, Mul};

use crate::arithmetic::max;
use crate::cell::{Cell, CellAt, CellState, Specimen, catalogue};
use crate::circuit::{Circuit, Overpotential, Polarisation, each};
use crate::number::Number;
use crate::units::{Charge, Current, Energy, Resistance, Temperature, Time, Voltage, mean};

/// The most cells in series, and the most strings in parallel.
pub const MAX_CELLS: u8 = 24;

/// Less is none: keeps a division from 0.
const LEAST_RESISTANCE: Resistance = Resistance::from_ohms(1e-12);

/// How far the weakest of n lies below the mean on average, in standard deviations, for n = 1 to
/// 24: the expected smallest of n normal deviates. A test computes them again from the integral.
const WEAKEST_OF: [f64; 24] = [
    0.0, 0.5642, 0.8463, 1.0294, 1.1630, 1.2672, 1.3522, 1.4236, 1.4850, 1.5388, 1.5864, 1.6292,
    1.6680, 1.7034, 1.7359, 1.7660, 1.7939, 1.8200, 1.8445, 1.8675, 1.8892, 1.9097, 1.9292, 1.9477,
];

/// Why a [`Pack`] could not be made.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum PackError {
    /// Cells in series must be 1 to [`MAX_CELLS`]; this many were asked for.
    Series(u8),
    /// Strings in parallel must be 1 to [`MAX_CELLS`]; this many were asked for.
    Parallel(u8),
}

impl core::fmt::Display for PackError {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        match self {
            Self::Series(n) => write!(f, "a pack has 1 to {MAX_CELLS} cells in series, not {n}"),
            Self::Parallel(n) => write!(
                f,
                "a pack has 1 to {MAX_CELLS} strings in parallel, not {n}"
            ),
        }
    }
}

impl core::error::Error for PackError {}

/// A pack: `parallel` strings of `series` cells.
///
/// In each string all cells are alike but one, which stands for the weakest: its capacity is
/// lower by what the weakest of `series` cells lies below the mean on average, given the cell's
/// own spread. The string ends when that cell does.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[cfg_attr(
    feature = "serde",
    serde(try_from = "stored::Pack", into = "stored::Pack")
)]
pub struct Pack {
    cell: Cell,
    weakest_capacity: Charge,
    series: u8,
    parallel: u8,
}

/// What the cells of a [`Pack`] hold; all strings are alike.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct PackState {
    /// Each of the ordinary cells.
    pub ordinary: CellState,
    /// The weakest cell of each string.
    pub weakest: CellState,
}

impl PackState {
    /// Nothing.
    pub(crate) const EMPTY: Self = Self {
        ordinary: CellState::EMPTY,
        weakest: CellState::EMPTY,
    };
}

/// A [`Pack`] at one temperature.
#[derive(Clone, Copy, Debug)]
pub struct PackAt<'a> {
    pack: &'a Pack,
    ordinary: CellAt<'a>,
}

impl Pack {
    /// A single alkaline cell.
    #[inline(always)]
    pub(crate) const fn plain() -> Self {
        Self {
            cell: catalogue::PLAIN,
            weakest_capacity: catalogue::PLAIN.capacity,
            series: 1,
            parallel: 1,
        }
    }

    /// `parallel` strings of `series` of `cell`.
    ///
    /// # Errors
    /// [`PackError`] if there are no cells or more than [`MAX_CELLS`] either way.
    pub fn new(cell: &Cell, series: u8, parallel: u8) -> Result<Self, PackError> {
        let mut pack = Self {
            cell: *cell,
            weakest_capacity: cell.capacity,
            series,
            parallel,
        };
        pack.find_weakest()?;
        Ok(pack)
    }

    /// The cell, the cells in series and the strings in parallel, to be made others where they stay: a
    /// pack is large for a small device's stack. [`Self::find_weakest`] has to follow.
    #[cfg(feature = "blob")]
    pub(crate) const fn parts_mut(&mut self) -> (&mut Cell, &mut u8, &mut u8) {
        (&mut self.cell, &mut self.series, &mut self.parallel)
    }

    /// Makes the weakest cell that of the other parts.
    pub(crate) fn find_weakest(&mut self) -> Result<(), PackError> {
        let (series, parallel) = (self.series, self.parallel);
        if parallel == 0 || parallel > MAX_CELLS {
            return Err(PackError::Parallel(parallel));
        }
        let deviates = series
            .checked_sub(1)
            .and_then(|n| WEAKEST_OF.get(usize::from(n)))
            .ok_or(PackError::Series(series))?;
        self.weakest_capacity = self.cell.capacity * max(1.0 - self.cell.spread * deviates, 0.1);
        Ok(())
    }

    /// The kind of cell.
    #[must_use]
    pub fn cell(&self) -> &Cell {
        &self.cell
    }

    /// The weakest cell of a string.
    #[must_use]
    pub fn weakest(&self) -> Specimen<'_> {
        self.cell.with_capacity(self.weakest_capacity)
    }

    /// Cells in series.
    #[must_use]
    pub fn series(&self) -> u8 {
        self.series
    }

    /// Strings in parallel.
    #[must_use]
    pub fn parallel(&self) -> u8 {
        self.parallel
    }

    /// Cells one after another from pole to pole, those inside a case counted.
    #[must_use]
    pub fn cells_in_series(&self) -> u32 {
        u32::from(self.series) * u32::from(self.cell.in_series)
    }

    /// Fresh or full cells.
    #[must_use]
    pub fn full(&self) -> PackState {
        PackState {
            ordinary: self.cell.full(),
            weakest: self.weakest().full(),
        }
    }

    /// Voltage with fresh cells and nothing connected, at the reference temperature.
    #[must_use]
    pub fn fresh_voltage(&self) -> Voltage {
        self.cell.open_circuit.at(0.0) * (f64::from(self.series) * f64::from(self.cell.in_series))
    }

    /// Share of the pack's charge that has gone, 0 to 1, taken over its ordinary cells.
    #[must_use]
    pub fn depth(&self, state: &PackState) -> f64 {
        self.cell.depth(&state.ordinary)
    }

    /// Energy left in all cells at their open-circuit voltage.
    #[must_use]
    pub fn energy_left(&self, state: &PackState) -> Energy {
        let strings = f64::from(self.parallel);
        (self.cell.energy_left(&state.ordinary) * self.ordinary_cells()
            + self.weakest().energy_left(&state.weakest))
            * strings
    }

    /// Ordinary cells in a string.
    pub(crate) fn ordinary_cells(&self) -> f64 {
        f64::from(self.series.saturating_sub(1))
    }

    /// What adds up along a string, out of what one ordinary cell has and what the weakest has.
    #[cfg_attr(not(target_os = "none"), inline(always))]
    pub(crate) fn along_string<N, Q>(&self, ordinary: Q, weakest: Q) -> Q
    where
        N: Number,
        Q: Add<Output = Q> + Mul<N, Output = Q>,
    {
        let case = N::from(f64::from(self.cell.in_series));
        (ordinary * N::from(self.ordinary_cells()) + weakest) * case
    }

    /// The pack at `temperature`.
    #[must_use]
    pub fn at(&self, temperature: Temperature) -> PackAt<'_> {
        PackAt {
            pack: self,
            ordinary: self.cell.at(temperature),
        }
    }
}

impl<'a> PackAt<'a> {
    /// The pack.
    pub(crate) const fn pack(&self) -> &'a Pack {
        self.pack
    }

    fn weakest(&self) -> CellAt<'a> {
        self.ordinary.with_capacity(self.pack.weakest_capacity)
    }

    /// One string as a load on it sees it. The whole pack has the same voltages, and `parallel`
    /// times the current.
    #[must_use]
    pub fn string_circuit(&self, state: &PackState) -> Circuit {
        let ordinary = self.ordinary.circuit(&state.ordinary);
        let weakest = self.weakest().circuit(&state.weakest);
        let pack = self.pack;
        Circuit {
            open_circuit: pack.along_string::<f64, _>(ordinary.open_circuit, weakest.open_circuit),
            ohmic: pack.along_string::<f64, _>(ordinary.ohmic, weakest.ohmic),
            overpotential: Overpotential {
                most: ordinary.overpotential.most * f64::from(pack.cells_in_series()),
                ..ordinary.overpotential
            },
            branches: each(ordinary.branches, weakest.branches, |ordinary, weakest| {
                pack.along_string::<f64, _>(ordinary, weakest)
            }),
            times: ordinary.times,
        }
    }

    /// Voltage across each branch of one string.
    #[must_use]
    pub fn polarisation(&self, state: &PackState) -> Polarisation {
        self.pack
            .along_string::<f64, _>(state.ordinary.polarisation, state.weakest.polarisation)
    }

    /// Voltage of the weakest cell alone at a string's `current` and `polarisation`, of which it
    /// has the share of its own branches beyond what it stood at.
    #[must_use]
    pub fn weakest_voltage(
        &self,
        state: &PackState,
        current: Current,
        polarisation: &Polarisation,
    ) -> Voltage {
        let weakest = self.weakest().circuit(&state.weakest);
        let string = self.string_circuit(state);
        let before = self.polarisation(state);
        let rise = each(polarisation.0, before.0, |now, before| now - before);
        let share = each(weakest.branches, string.branches, |weakest, string| {
            // A branch without a resistance has no rise to share.
            weakest / string.max(LEAST_RESISTANCE)
        });
        let rise = Polarisation(each(rise, share, |rise, share| rise * share));
        weakest.voltage(current, &(state.weakest.polarisation + rise))
    }

    /// Open-circuit voltage of one string at the cells' mean depths, all levelled out and at the
    /// reference temperature: what the ledger counts a charge at that takes the cells evenly from
    /// `start` to `end`. It is the mean of the way's two halves, each taken as straight: on the whole
    /// way a bend of the curve would cost the books more than they may be off.
    #[must_use]
    pub fn levelled_voltage(&self, start: &PackState, end: &PackState) -> Voltage {
        let cell = &self.pack.cell;
        let mean_of = |x0: f64, x1: f64| {
            let at = |depth| cell.open_circuit.at(depth);
            mean(mean(at(x0), at(x1)), at(mean(x0, x1)))
        };
        let weakest = self.pack.weakest();
        let ordinary = mean_of(cell.depth(&start.ordinary), cell.depth(&end.ordinary));
        let last = mean_of(weakest.depth(&start.weakest), weakest.depth(&end.weakest));
        self.pack.along_string::<f64, _>(ordinary, last)
    }

    /// What the temperature adds to the open-circuit voltage of a string, over that at the reference
    /// temperature.
    pub(crate) fn open_circuit_shift(&self) -> Voltage {
        self.ordinary.open_circuit_shift() * f64::from(self.pack.cells_in_series())
    }

    /// Lets `current` flow through each string for `span`, which must not be beyond
    /// [`PackAt::time_to_empty`].
    #[must_use]
    pub fn after(&self, state: &PackState, current: Current, span: Time) -> PackState {
        PackState {
            ordinary: self.ordinary.after(&state.ordinary, current, span),
            weakest: self.weakest().after(&state.weakest, current, span),
        }
    }

    /// The charge that every cell of a string has room for within `span` while it is charged evenly
    /// and `drawn` flows out.
    pub(crate) fn room(&self, state: &PackState, drawn: Charge, span: Time) -> Charge {
        let weakest = self.weakest().room(&state.weakest, drawn, span);
        if self.pack.series > 1 {
            weakest.min(self.ordinary.room(&state.ordinary, drawn, span))
        } else {
            weakest
        }
    }

    /// When the weakest cell has nothing left within reach, if that is within `span`.
    #[must_use]
    #[inline(never)]
    pub fn time_to_empty(&self, state: &PackState, current: Current, span: Time) -> Option<Time> {
        self.weakest().time_to_empty(&state.weakest, current, span)
    }

    /// Self-discharge and ageing over `span`.
    #[must_use]
    pub fn stored(&self, state: &PackState, span: Time) -> PackState {
        PackState {
            ordinary: self.ordinary.stored(&state.ordinary, span),
            weakest: self.weakest().stored(&state.weakest, span),
        }
    }

    /// Charge of one weakest cell: what a step is measured against.
    #[must_use]
    pub fn smallest_capacity(&self) -> Charge {
        self.pack.weakest_capacity
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// E[max of n] = ∫ x n φ(x) Φ(x)^(n−1) dx, by the midpoint rule.
    fn expected_largest(n: i32) -> f64 {
        let h = 1e-3;
        (-8000..8000)
            .map(|i| {
                let x = (f64::from(i) + 0.5) * h;
                let density = libm::exp(-0.5 * x * x) / libm::sqrt(2.0 * core::f64::consts::PI);
                let below = 0.5 * libm::erfc(-x / core::f64::consts::SQRT_2);
                x * f64::from(n) * density * libm::pow(below, f64::from(n - 1)) * h
            })
            .sum()
    }

    #[test]
    fn weakest_of_n_is_the_expected_smallest_normal_deviate() {
        for (n, held) in (1..).zip(WEAKEST_OF) {
            let computed = expected_largest(n);
            assert!((computed - held).abs() < 6e-5, "{n}: {computed} {held}");
        }
    }
}
