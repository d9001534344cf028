//! The cells of a string in lanes, by the rules of [`crate::cell`].

use super::Luck;
use super::tables::{CurveTable, FactorTable, Factors};
use crate::cell::{Cell, CellState, Filling, Levelling, Resistor, Wells};
use crate::circuit::{BRANCHES, Circuit, Overpotential, each, every};
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
    pub(super) branches: [Resistance<Lanes<L>>; BRANCHES],
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
    make: Make<L>,
}

/// How the make of a string differs from the median one.
#[derive(Clone, Copy)]
struct Make<const L: usize> {
    /// On every resistance.
    resistance: Lanes<L>,
    /// Added to the open-circuit voltage of each cell.
    open_circuit: Voltage<Lanes<L>>,
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

    /// What the pack's `start` holds, in cells that differ by this luck.
    #[inline(always)]
    pub(super) fn start<const L: usize>(&self, start: &PackState, luck: &Luck<L>) -> LaneState<L> {
        let cell = |capacity: Charge, state: &CellState, factor: Lanes<L>| LaneCell {
            wells: Wells {
                available: state.wells.available.everywhere() * factor,
                bound: state.wells.bound.everywhere() * factor,
            },
            capacity: capacity.everywhere() * factor,
        };
        LaneState {
            ordinary: cell(self.cell.capacity, &start.ordinary, luck.ordinary),
            weakest: cell(self.pack.weakest().capacity(), &start.weakest, luck.weakest),
            age: start.ordinary.age.everywhere(),
            make: Make {
                resistance: luck.resistance,
                open_circuit: luck.open_circuit,
            },
        }
    }

    /// Whether a cell is the worse in every way the colder it is, as all of the catalogue are.
    #[inline(always)]
    pub(super) fn worst_when_cold(&self) -> bool {
        let Cell {
            ohmic, branches, ..
        } = self.cell;
        let branches = branches.iter().map(|branch| branch.resistor);
        let mut resistors = branches.chain([*ohmic]);
        resistors.all(|resistor| resistor.activation_k >= 0.0)
            && self.cell.open_circuit_per_k >= 0.0
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
    /// gives `usable` of its capacity and has its wells hold back so much.
    #[inline(always)]
    pub(super) fn open_circuit<const L: usize>(
        &self,
        state: &LaneState<L>,
        usable: Lanes<L>,
        held_back: Lanes<L>,
    ) -> Voltage<Lanes<L>> {
        let make = state.make.open_circuit;
        self.along(
            self.cell_voltage(&state.ordinary, usable, held_back) + make,
            self.cell_voltage(&state.weakest, usable, held_back) + make,
        )
    }

    #[inline(always)]
    fn cell_voltage<const L: usize>(
        &self,
        cell: &LaneCell<L>,
        usable: Lanes<L>,
        held_back: Lanes<L>,
    ) -> Voltage<Lanes<L>> {
        let share = self.cell.kinetics.available_share;
        let depth = cell.wells.surface_depth(cell.capacity, share, held_back);
        self.curve.at(depth / usable)
    }

    /// Open-circuit voltage of a string at a temperature, at which its wells hold back so much.
    #[inline(always)]
    pub(super) fn voltage<const L: usize>(
        &self,
        state: &LaneState<L>,
        (temperature, held_back): (Temperature<Lanes<L>>, Lanes<L>),
    ) -> Voltage<Lanes<L>> {
        self.open_circuit(state, Lanes::all(1.0), held_back) + self.shift(temperature)
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
            let median = Energy::from_si(cell.capacity.si().zip(cell.depth(), joules));
            // A block's straight line may end a breath below empty.
            let held = cell.wells.total().max(Charge::ZERO.everywhere());
            median + held * state.make.open_circuit
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

    /// Resistances of a string at the reference temperature, of cells of this age, `times` as large as the make
    /// has them.
    #[inline(always)]
    pub(super) fn resistances<const L: usize>(
        &self,
        state: &LaneState<L>,
        times: Lanes<L>,
    ) -> Resisting<L> {
        let aged = self.cell.storage.resistance_factor(state.age);
        let aged = aged * state.make.resistance * times;
        let depths = [state.ordinary.depth(), state.weakest.depth()];
        let [quick, slow] = &self.cell.branches;
        Resisting {
            ohmic: self.resistance(&self.cell.ohmic, depths, aged),
            branches: [
                self.resistance(&quick.resistor, depths, aged),
                self.resistance(&slow.resistor, depths, aged),
            ],
        }
    }

    /// One resistance of a string whose ordinary and weakest cells are so deep, times a factor.
    #[inline(always)]
    fn resistance<const L: usize>(
        &self,
        resistor: &Resistor,
        [ordinary, weakest]: [Lanes<L>; 2],
        times: Lanes<L>,
    ) -> Resistance<Lanes<L>> {
        self.along(resistor.at(ordinary, times), resistor.at(weakest, times))
    }

    /// A string as its loads see it, with this open-circuit voltage and these resistances at the temperature
    /// of `factors`.
    #[inline(always)]
    pub(super) fn circuit<const L: usize>(
        &self,
        open_circuit: Voltage<Lanes<L>>,
        resisting: &Resisting<L>,
        factors: &Factors<Lanes<L>>,
    ) -> Circuit<Lanes<L>> {
        let one = self.cell.overpotential;
        let cells = f64::from(self.pack.cells_in_series());
        let [charge_transfer, ..] = factors.branches;
        let string = Overpotential {
            most: one.most * cells,
            ..one
        };
        Circuit {
            open_circuit,
            ohmic: resisting.ohmic,
            overpotential: string.everywhere().slowed(charge_transfer),
            branches: resisting.branches,
            times: every(self.cell.branches, |branch| branch.time),
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
            make: state.make,
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

    /// What the weakest cell has within reach.
    #[inline(always)]
    pub(super) fn within_reach<const L: usize>(
        &self,
        state: &LaneState<L>,
        held_back: Lanes<L>,
    ) -> Charge<Lanes<L>> {
        let share = self.cell.kinetics.available_share;
        state.weakest.wells.within_reach(share, held_back)
    }

    /// The charge that each cell of a string has room for if it is charged evenly while `drawn` flows
    /// out.
    #[inline(always)]
    pub(super) fn room<const L: usize>(
        &self,
        state: &LaneState<L>,
        drawn: Charge<Lanes<L>>,
        (levelling, held_back): (&Levelling<Lanes<L>>, Lanes<L>),
    ) -> Charge<Lanes<L>> {
        let wells = (levelling, held_back);
        let weakest = self.cell_room(&state.weakest, drawn, wells);
        if self.pack.series() > 1 {
            weakest.min(self.cell_room(&state.ordinary, drawn, wells))
        } else {
            weakest
        }
    }

    #[inline(always)]
    fn cell_room<const L: usize>(
        &self,
        cell: &LaneCell<L>,
        drawn: Charge<Lanes<L>>,
        (levelling, held_back): (&Levelling<Lanes<L>>, Lanes<L>),
    ) -> Charge<Lanes<L>> {
        let share = self.cell.kinetics.available_share;
        let reach = |drawn| {
            let after = self.cell_after(cell, drawn, levelling);
            after.wells.within_reach(share, held_back)
        };
        let filling = Filling {
            capacity: cell.capacity,
            idle: reach(drawn),
            probed: reach(drawn - Filling::probe(cell.capacity)),
        };
        filling.room()
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
            make: state.make,
        };
        (after, Lanes::all(1.0) - kept)
    }
}

impl<const L: usize> Resisting<L> {
    /// All of them: what a load sees that lasts.
    #[inline(always)]
    pub(super) fn together(&self) -> Resistance<Lanes<L>> {
        let [quick, slow] = self.branches;
        self.ohmic + quick + slow
    }

    /// The same resistances at a temperature.
    #[inline(always)]
    pub(super) fn at(&self, factors: &Factors<Lanes<L>>) -> Self {
        Self {
            ohmic: self.ohmic * factors.ohmic,
            branches: each(self.branches, factors.branches, |resistance, factor| {
                resistance * factor
            }),
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
    /// `yes` where the mask is true, else `no`.
    #[inline(always)]
    pub(super) fn choose(mask: LaneMask<L>, yes: &Self, no: &Self) -> Self {
        Self {
            ordinary: LaneCell::choose(mask, &yes.ordinary, &no.ordinary),
            weakest: LaneCell::choose(mask, &yes.weakest, &no.weakest),
            age: Time::choose(mask, yes.age, no.age),
            make: no.make,
        }
    }

    /// On the way to `end`, 0 to 1.
    #[inline(always)]
    pub(super) fn between(&self, end: &Self, at: Lanes<L>) -> Self {
        Self {
            ordinary: self.ordinary.between(&end.ordinary, at),
            weakest: self.weakest.between(&end.weakest, at),
            age: self.age,
            make: self.make,
        }
    }
}
