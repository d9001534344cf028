//! Curves and exponentials as tables, made of the scalar rules: quicker for many lanes than the rules
//! themselves.

use crate::cell::{Cell, OpenCircuit, arrhenius, held_back};
use crate::circuit::BRANCHES;
use crate::lanes::Lanes;
use crate::number::Number;
use crate::units::{Temperature, Voltage};

/// 1.5 · 2^52: added to a number from 0 to 2^51 it leaves that number, rounded to the nearest whole one,
/// in the lowest bits.
const ROUNDER: f64 = 6_755_399_441_055_744.0;

/// Bins of the depth of discharge: every bend of an open-circuit curve lies on a whole hundredth.
const BINS_PER_DEPTH: f64 = 100.0;
/// A power of two, so that an index can be held within it without a comparison.
const BINS: usize = 128;

/// An open-circuit curve by hundredths of depth: exact but for rounding.
pub(super) struct CurveTable {
    /// Volts at a bin's start, and what a whole bin adds.
    bins: [[f64; 2]; BINS],
}

impl CurveTable {
    pub(super) fn of(curve: &OpenCircuit) -> Self {
        let mut bins = [[0.0; 2]; BINS];
        let mut from = 0.0;
        for bin in &mut bins {
            let at = |bin: f64| curve.at(bin / BINS_PER_DEPTH).as_volts();
            *bin = [at(from), at(from + 1.0) - at(from)];
            from += 1.0;
        }
        Self { bins }
    }

    /// Open-circuit voltage of one cell by its surface depth, as [`OpenCircuit::at`].
    #[inline(always)]
    pub(super) fn at<const L: usize>(&self, depth: Lanes<L>) -> Voltage<Lanes<L>> {
        let steps = depth * BINS_PER_DEPTH;
        let steps = steps.max(Lanes::all(0.0)).min(Lanes::all(BINS_PER_DEPTH));
        Voltage::from_si(steps.map(|steps| {
            // Half a bin less and rounded: the bin that the step lies in.
            let shifted = steps - 0.5 + ROUNDER;
            let [volts, more] = self
                .bins
                .get(bin(shifted) % BINS)
                .copied()
                .unwrap_or_default();
            volts + more * (steps - (shifted - ROUNDER))
        }))
    }
}

/// The whole number that [`ROUNDER`] has left in the lowest bits.
#[inline(always)]
fn bin(shifted: f64) -> usize {
    shifted.to_bits() as usize
}

/// Temperatures of the rows.
const COLDEST_K: f64 = 170.0;
const ROWS_PER_K: f64 = 4.0;
/// A power of two, as [`BINS`].
const ROWS: usize = 1024;

/// What a temperature moves: the resistances, the wells, ageing.
const PROCESSES: usize = 1 + BRANCHES + 3;

/// What a temperature makes of a cell's resistances and rates.
#[derive(Clone, Copy)]
pub(super) struct Factors<N> {
    pub(super) ohmic: N,
    pub(super) branches: [N; BRANCHES],
    pub(super) levelling: N,
    pub(super) held_back: N,
    pub(super) ageing: N,
}

/// Arrhenius factors of a cell by quarters of a kelvin, from 170 to 425 K.
///
/// Between two rows `e^(B δ)` is worked out to the third order, with `δ` the difference of `1/T` to the
/// nearest row. Down to -60 °C, and for an activation of 20,000 K at the most, that is good to 4e-7.
pub(super) struct FactorTable {
    activations_k: [f64; PROCESSES],
    rows: [[f64; PROCESSES]; ROWS],
}

impl FactorTable {
    pub(super) fn of(cell: &Cell) -> Self {
        let [quick, slow] = cell.branches.map(|branch| branch.resistor.activation_k);
        let activations_k = [
            cell.ohmic.activation_k,
            quick,
            slow,
            -cell.kinetics_activation_k,
            cell.reach_activation_k,
            -cell.storage.activation_k,
        ];
        let mut rows = [[0.0; PROCESSES]; ROWS];
        let mut number = 0.0;
        for row in &mut rows {
            let temperature = Temperature::from_kelvin(COLDEST_K + number / ROWS_PER_K);
            *row = activations_k.map(|activation| arrhenius(activation, temperature));
            number += 1.0;
        }
        Self {
            activations_k,
            rows,
        }
    }

    /// The factors at a temperature; those of the nearest end beyond the rows.
    #[inline(always)]
    pub(super) fn at<const L: usize>(
        &self,
        temperature: Temperature<Lanes<L>>,
    ) -> Factors<Lanes<L>> {
        const WARMEST_K: f64 = COLDEST_K + (ROWS - 1) as f64 / ROWS_PER_K;
        let kelvin = temperature.si();
        let kelvin = kelvin.max(Lanes::all(COLDEST_K)).min(Lanes::all(WARMEST_K));
        let shifted = (kelvin - COLDEST_K) * ROWS_PER_K + ROUNDER;
        let row_k = (shifted - ROUNDER) * (1.0 / ROWS_PER_K) + COLDEST_K;
        let beyond = (row_k - kelvin) / (row_k * kelvin);
        let mut factors = self.nearest(shifted);
        for (factor, activation_k) in factors.iter_mut().zip(self.activations_k) {
            *factor *= near_exp(beyond * activation_k);
        }
        let [ohmic, quick, slow, levelling, reach, ageing] = factors;
        Factors {
            ohmic,
            branches: [quick, slow],
            levelling,
            held_back: held_back(reach),
            ageing,
        }
    }

    /// The rows that [`ROUNDER`] has left in the lowest bits.
    #[inline(always)]
    fn nearest<const L: usize>(&self, shifted: Lanes<L>) -> [Lanes<L>; PROCESSES] {
        let mut lanes = [Lanes::all(0.0); PROCESSES];
        for (number, shifted) in shifted.0.into_iter().enumerate() {
            let row = self.rows.get(bin(shifted) % ROWS);
            let row = row.copied().unwrap_or_default();
            for (lanes, factor) in lanes.iter_mut().zip(row) {
                if let Some(lane) = lanes.0.get_mut(number) {
                    *lane = factor;
                }
            }
        }
        lanes
    }
}

/// `e^x` to the third order.
#[inline(always)]
fn near_exp<const L: usize>(x: Lanes<L>) -> Lanes<L> {
    x * (x * (x * (1.0 / 6.0) + 0.5) + 1.0) + 1.0
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cell::catalogue::CATALOGUE;
    use proptest::prelude::*;

    #[test]
    fn a_curve_by_hundredths_is_the_curve() {
        for entry in CATALOGUE {
            let curve = &entry.cell.open_circuit;
            let table = CurveTable::of(curve);
            for step in -500..=10_500 {
                let depth = f64::from(step) / 10_000.0;
                let [volts] = table.at(Lanes([depth])).lanes();
                let off = (volts - curve.at(depth)).as_volts().abs();
                assert!(off < 1e-12, "{} {depth}: {off}", entry.name);
            }
        }
    }

    proptest! {
        /// For any activation that a cell may have, from -60 to 80 °C.
        #[test]
        fn factors_are_as_good_as_they_say(
            activation_k in 0.0..20_000.0_f64, celsius in -60.0..80.0_f64,
        ) {
            let mut cell = CATALOGUE[0].cell;
            cell.ohmic.activation_k = activation_k;
            cell.storage.activation_k = activation_k;
            let temperature = Temperature::from_celsius(celsius);
            let factors = FactorTable::of(&cell).at(Temperature::from_si(Lanes([temperature.as_kelvin()])));
            for (Lanes([factor]), activation_k) in [(factors.ohmic, activation_k), (factors.ageing, -activation_k)] {
                let off = (factor / arrhenius(activation_k, temperature) - 1.0).abs();
                prop_assert!(off < 4e-7, "{}", off);
            }
        }
    }
}
