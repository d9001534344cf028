//! The cells of a string in lanes, by the rules of [`crate::cell`].

use super::tables::{CurveTable, FactorTable, Factors};
use crate::cell::{Cell, CellState, Filling, Levelling, Wells};
use crate::lanes::{LaneMask, Lanes};
use crate::number::Number;
use crate::pack::{Pack, PackState};
use crate::units::{Charge, Energy, Resistance, Temperature, Time, Voltage};
use core::ops::{Add, Mul};

/// What does not move from day to day.
pub(super) struct LaneCells<'a> {
    pack: &'a Pack,
    cell: &'a Cell,
    curve: CurveTable,
    factors: FactorTable,
}

/// Resistances of a string.
#[derive(Clone, Copy)]
pub(super) struct Resisting<const L: usize> {
    pub(super) ohmic: Resistance<Lanes<L>>,
    pub(super) slow: Resistance<Lanes<L>>,
}

/// One cell of a string.
#[derive(Clone, Copy)]
pub(super) struct LaneCell<const L: usize> {
    wells: Wells<Lanes<L>>,
    capacity: Charge<Lanes<L>>,
}

/// What the cells of a string hold.
#[derive(Clone, Copy)]
pub(super) struct LaneState<const L: usize> {
    ordinary: LaneCell<L>,
    weakest: LaneCell<L>,
    /// Counted at the reference temperature.
    age: Time<Lanes<L>>,
}

impl<'a> LaneCells<'a> {
    pub(super) fn new(pack: &'a Pack) -> Self {
        let cell = pack.cell();
        Self {
            pack,
            cell,
            curve: CurveTable::of(&cell.open_circuit),
            factors: FactorTable::of(cell),
        }
    }

    /// What the pack's `start` holds, with capacities that differ by these factors.
    #[inline(always)]
    pub(super) fn start<const L: usize>(
        &self,
        start: &PackState,
        ordinary: Lanes<L>,
        weakest: Lanes<L>,
    ) -> LaneState<L> {
        let cell = |capacity: Charge, state: &CellState, factor: Lanes<L>| LaneCell {
            wells: Wells {
                available: state.wells.available.everywhere() * factor,
                bound: state.wells.bound.everywhere() * factor,
            },
            capacity: capacity.everywhere() * factor,
        };
        LaneState {
            ordinary: cell(self.cell.capacity, &start.ordinary, ordinary),
            weakest: cell(self.pack.weakest().capacity(), &start.weakest, weakest),
            age: start.ordinary.age.everywhere(),
        }
    }

    /// Whether a cell is the worse in every way the colder it is, as all of the catalogue are.
    #[inline(always)]
    pub(super) fn worst_when_cold(&self) -> bool {
        let Cell { ohmic, slow, .. } = self.cell;
        ohmic.activation_k >= 0.0 && slow.activation_k >= 0.0 && self.cell.open_circuit_per_k >= 0.0
    }

    /// What adds up along a string.
    #[inline(always)]
    fn along<const L: usize, Q>(&self, ordinary: Q, weakest: Q) -> Q
    where
        Q: Add<Output = Q> + Mul<Lanes<L>, Output = Q>,
    {
        self.pack.along_string::<Lanes<L>, Q>(ordinary, weakest)
    }

    /// What a temperature makes of the cells.
    #[inline(always)]
    pub(super) fn factors<const L: usize>(
        &self,
        temperature: Temperature<Lanes<L>>,
    ) -> Factors<Lanes<L>> {
        self.factors.at(temperature)
    }

    /// Open-circuit voltage of a string at the reference temperature, with depths of a cell that
    /// gives `usable` of its capacity.
    #[inline(always)]
    pub(super) fn open_circuit<const L: usize>(
        &self,
        state: &LaneState<L>,
        usable: Lanes<L>,
    ) -> Voltage<Lanes<L>> {
        self.along(
            self.cell_voltage(&state.ordinary, usable),
            self.cell_voltage(&state.weakest, usable),
        )
    }

    #[inline(always)]
    fn cell_voltage<const L: usize>(
        &self,
        cell: &LaneCell<L>,
        usable: Lanes<L>,
    ) -> Voltage<Lanes<L>> {
        let share = self.cell.kinetics.available_share;
        let depth = cell.wells.surface_depth(cell.capacity, share);
        self.curve.at(depth / usable)
    }

    /// Open-circuit voltage of a string at a temperature.
    #[inline(always)]
    pub(super) fn voltage<const L: usize>(
        &self,
        state: &LaneState<L>,
        temperature: Temperature<Lanes<L>>,
    ) -> Voltage<Lanes<L>> {
        self.open_circuit(state, Lanes::all(1.0)) + self.shift(temperature)
    }

    /// Share of the charge left in all cells of a string; the step in which a well runs dry may
    /// overshoot by a hundredth.
    #[inline(always)]
    pub(super) fn charge_left<const L: usize>(&self, state: &LaneState<L>) -> Lanes<L> {
        let ordinary = self.pack.ordinary_cells();
        let depths = state.ordinary.depth() * ordinary + state.weakest.depth();
        (Lanes::all(1.0) - depths / (ordinary + 1.0)).max(Lanes::all(0.0))
    }

    /// Energy of a string at the open-circuit voltage of levelled cells.
    pub(super) fn energy<const L: usize>(&self, state: &LaneState<L>) -> Energy<Lanes<L>> {
        let of = |cell: &LaneCell<L>| {
            let joules = |capacity, depth| {
                let capacity = Charge::from_coulombs(capacity);
                let energy = self.cell.open_circuit.energy_left(capacity, depth);
                energy.as_joules()
            };
            Energy::from_si(cell.capacity.si().zip(cell.depth(), joules))
        };
        self.along(of(&state.ordinary), of(&state.weakest))
    }

    /// Charge of a string's cells added up, at their share of a string's voltage.
    #[inline(always)]
    pub(super) fn charge_per_string_volt<const L: usize>(
        &self,
        state: &LaneState<L>,
    ) -> Charge<Lanes<L>> {
        let ordinary = self.pack.ordinary_cells();
        let all = state.ordinary.wells.total() * Lanes::all(ordinary) + state.weakest.wells.total();
        all / Lanes::all(ordinary + 1.0)
    }

    /// What a temperature adds to the open-circuit voltage of a string.
    #[inline(always)]
    pub(super) fn shift<const L: usize>(
        &self,
        temperature: Temperature<Lanes<L>>,
    ) -> Voltage<Lanes<L>> {
        let cells = f64::from(self.pack.cells_in_series());
        self.cell.open_circuit_shift(temperature) * Lanes::all(cells)
    }

    /// Resistances of a string at the reference temperature, of cells of this age.
    #[inline(always)]
    pub(super) fn resistances<const L: usize>(&self, state: &LaneState<L>) -> Resisting<L> {
        let aged = self.cell.storage.resistance_factor(state.age);
        let (ordinary, weakest) = (state.ordinary.depth(), state.weakest.depth());
        let Cell { ohmic, slow, .. } = self.cell;
        Resisting {
            ohmic: self.along(ohmic.at(ordinary, aged), ohmic.at(weakest, aged)),
            slow: self.along(slow.at(ordinary, aged), slow.at(weakest, aged)),
        }
    }

    /// How far the wells level out over `span`, `gain` times as fast as at the temperature of `factors`.
    #[inline(always)]
    pub(super) fn levelling<const L: usize>(
        &self,
        span: Time,
        factors: &Factors<Lanes<L>>,
        gain: f64,
    ) -> Levelling<Lanes<L>> {
        let rate = self.cell.kinetics.rate_per_second * gain;
        Levelling::over(factors.levelling * (rate * span.as_seconds()))
    }

    /// A charge drawn from the string evenly, while the wells level out.
    #[inline(always)]
    pub(super) fn after<const L: usize>(
        &self,
        state: &LaneState<L>,
        drawn: Charge<Lanes<L>>,
        levelling: &Levelling<Lanes<L>>,
    ) -> LaneState<L> {
        LaneState {
            ordinary: self.cell_after(&state.ordinary, drawn, levelling),
            weakest: self.cell_after(&state.weakest, drawn, levelling),
            age: state.age,
        }
    }

    #[inline(always)]
    fn cell_after<const L: usize>(
        &self,
        cell: &LaneCell<L>,
        drawn: Charge<Lanes<L>>,
        levelling: &Levelling<Lanes<L>>,
    ) -> LaneCell<L> {
        let share = self.cell.kinetics.available_share;
        LaneCell {
            wells: cell.wells.drained(share, levelling, drawn),
            capacity: cell.capacity,
        }
    }

    /// The charge that each cell of a string has room for if it is charged evenly while `drawn` flows
    /// out.
    #[inline(always)]
    pub(super) fn room<const L: usize>(
        &self,
        state: &LaneState<L>,
        drawn: Charge<Lanes<L>>,
        levelling: &Levelling<Lanes<L>>,
    ) -> Charge<Lanes<L>> {
        let weakest = self.cell_room(&state.weakest, drawn, levelling);
        if self.pack.series() > 1 {
            weakest.min(self.cell_room(&state.ordinary, drawn, levelling))
        } else {
            weakest
        }
    }

    #[inline(always)]
    fn cell_room<const L: usize>(
        &self,
        cell: &LaneCell<L>,
        drawn: Charge<Lanes<L>>,
        levelling: &Levelling<Lanes<L>>,
    ) -> Charge<Lanes<L>> {
        let probe = Filling::probe(cell.capacity);
        let filling = Filling {
            capacity: cell.capacity,
            idle: self.cell_after(cell, drawn, levelling).wells.available,
            probed: self
                .cell_after(cell, drawn - probe, levelling)
                .wells
                .available,
        };
        filling.room(self.cell.kinetics.available_share)
    }

    /// Self-discharge and ageing over `span`, `gain` times as fast as at the temperature of `factors`; gives the
    /// share that is lost too.
    #[inline(always)]
    pub(super) fn stored<const L: usize>(
        &self,
        state: &LaneState<L>,
        span: Time,
        factors: &Factors<Lanes<L>>,
        gain: f64,
    ) -> (LaneState<L>, Lanes<L>) {
        let more = span.everywhere() * (factors.ageing * gain);
        let kept = self.cell.storage.kept(state.age, more);
        let after = LaneState {
            ordinary: state.ordinary.scaled(kept),
            weakest: state.weakest.scaled(kept),
            age: state.age + more,
        };
        (after, Lanes::all(1.0) - kept)
    }
}

impl<const L: usize> Resisting<L> {
    /// The same resistances at a temperature.
    #[inline(always)]
    pub(super) fn at(&self, factors: &Factors<Lanes<L>>) -> Self {
        Self {
            ohmic: self.ohmic * factors.ohmic,
            slow: self.slow * factors.slow,
        }
    }
}

impl<const L: usize> LaneCell<L> {
    #[inline(always)]
    fn choose(mask: LaneMask<L>, yes: &Self, no: &Self) -> Self {
        Self {
            wells: Wells::choose(mask, &yes.wells, &no.wells),
            capacity: no.capacity,
        }
    }

    #[inline(always)]
    fn between(&self, end: &Self, at: Lanes<L>) -> Self {
        Self {
            wells: self.wells.between(&end.wells, at),
            capacity: self.capacity,
        }
    }

    #[inline(always)]
    fn depth(&self) -> Lanes<L> {
        self.wells.depth(self.capacity)
    }

    #[inline(always)]
    fn scaled(&self, share: Lanes<L>) -> Self {
        Self {
            wells: self.wells.scaled(share),
            capacity: self.capacity,
        }
    }
}

impl<const L: usize> LaneState<L> {
    /// What the weakest cell has within reach.
    #[inline(always)]
    pub(super) fn within_reach(&self) -> Charge<Lanes<L>> {
        self.weakest.wells.available
    }

    /// `yes` where the mask is true, else `no`.
    #[inline(always)]
    pub(super) fn choose(mask: LaneMask<L>, yes: &Self, no: &Self) -> Self {
        Self {
            ordinary: LaneCell::choose(mask, &yes.ordinary, &no.ordinary),
            weakest: LaneCell::choose(mask, &yes.weakest, &no.weakest),
            age: Time::choose(mask, yes.age, no.age),
        }
    }

    /// On the way to `end`, 0 to 1.
    #[inline(always)]
    pub(super) fn between(&self, end: &Self, at: Lanes<L>) -> Self {
        Self {
            ordinary: self.ordinary.between(&end.ordinary, at),
            weakest: self.weakest.between(&end.weakest, at),
            age: self.age,
        }
    }
}
