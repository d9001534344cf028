//! The cells of a string in lanes: the same equations as [`crate::cell`], on several paths at once.

use crate::cell::{Cell, OCV_DEPTHS, OCV_POINTS};
use crate::lanes::{Lanes, exp};
use crate::pack::{Pack, PackState};
use crate::units::{Charge, Temperature};

const SECONDS_OF_YEAR: f64 = 365.25 * 86_400.0;

/// A straight piece of an open-circuit curve.
#[derive(Clone, Copy)]
struct Piece {
    depth: f64,
    width: f64,
    volts_per_depth: f64,
}

/// What does not move from day to day.
pub(super) struct LaneCells<'a> {
    cell: &'a Cell,
    fresh_volts: f64,
    pieces: [Piece; OCV_POINTS - 1],
    /// Ordinary cells of a string.
    ordinary: f64,
    /// Cells in series in each case.
    case: f64,
}

/// Factors that a temperature puts on a cell.
#[derive(Clone, Copy)]
pub(super) struct Resisting<const L: usize> {
    ohmic: Lanes<L>,
    slow: Lanes<L>,
}

/// How far the two wells of a cell level out over a block.
#[derive(Clone, Copy)]
pub(super) struct Levelling<const L: usize> {
    levelled: Lanes<L>,
    decay_mean: Lanes<L>,
}

/// Charge of one cell, coulombs.
#[derive(Clone, Copy)]
pub(super) struct LaneWells<const L: usize> {
    available: Lanes<L>,
    bound: Lanes<L>,
    /// Capacity.
    capacity: Lanes<L>,
}

/// What the cells of a string hold.
#[derive(Clone, Copy)]
pub(super) struct LaneState<const L: usize> {
    ordinary: LaneWells<L>,
    weakest: LaneWells<L>,
    /// Age at the reference temperature, seconds.
    age_s: Lanes<L>,
}

/// `1/T − 1/T_ref`.
#[inline(always)]
pub(super) fn inverse<const L: usize>(kelvin: Lanes<L>) -> Lanes<L> {
    Lanes::all(1.0) / kelvin - 1.0 / Temperature::REFERENCE.as_kelvin()
}

impl<'a> LaneCells<'a> {
    pub(super) fn new(pack: &'a Pack) -> Self {
        let cell = pack.cell();
        let volts = cell.open_circuit.volts;
        let mut pieces = [Piece {
            depth: 0.0,
            width: 0.0,
            volts_per_depth: 0.0,
        }; OCV_POINTS - 1];
        let depths = OCV_DEPTHS.iter().zip(OCV_DEPTHS.iter().skip(1));
        let rises = volts.iter().zip(volts.iter().skip(1));
        for ((piece, (x0, x1)), (u0, u1)) in pieces.iter_mut().zip(depths).zip(rises) {
            *piece = Piece {
                depth: *x0,
                width: x1 - x0,
                volts_per_depth: (u1 - u0) / (x1 - x0),
            };
        }
        let [fresh_volts, ..] = volts;
        Self {
            cell,
            fresh_volts,
            pieces,
            ordinary: f64::from(pack.series().saturating_sub(1)),
            case: f64::from(cell.in_series),
        }
    }

    /// What the pack's `start` holds, with capacities that differ by these factors.
    pub(super) fn start<const L: usize>(
        &self,
        pack: &Pack,
        start: &PackState,
        ordinary: Lanes<L>,
        weakest: Lanes<L>,
    ) -> LaneState<L> {
        let wells =
            |capacity: Charge, state: &crate::cell::CellState, factor: Lanes<L>| LaneWells {
                available: factor * state.wells.available.as_coulombs(),
                bound: factor * state.wells.bound.as_coulombs(),
                capacity: factor * capacity.as_coulombs(),
            };
        LaneState {
            ordinary: wells(pack.cell().capacity, &start.ordinary, ordinary),
            weakest: wells(pack.weakest().capacity(), &start.weakest, weakest),
            age_s: Lanes::all(start.ordinary.age.as_seconds()),
        }
    }

    /// Whether a cell is the worse in every way the colder it is, as all of the catalogue are.
    #[inline(always)]
    pub(super) fn worst_when_cold(&self) -> bool {
        let Cell { ohmic, slow, .. } = self.cell;
        ohmic.activation_k >= 0.0 && slow.activation_k >= 0.0 && self.cell.open_circuit_per_k >= 0.0
    }

    /// Open-circuit voltage of one cell by its surface depth: every piece adds what is passed of it.
    #[inline(always)]
    fn volts<const L: usize>(&self, depth: Lanes<L>) -> Lanes<L> {
        let mut volts = Lanes::all(self.fresh_volts);
        for piece in &self.pieces {
            let within = (depth - piece.depth)
                .max(Lanes::all(0.0))
                .min(Lanes::all(piece.width));
            volts += within * piece.volts_per_depth;
        }
        volts
    }

    /// Open-circuit voltage of a string at the reference temperature, with depths of a cell that
    /// gives `usable` of its capacity.
    #[inline(always)]
    pub(super) fn open_circuit<const L: usize>(
        &self,
        state: &LaneState<L>,
        usable: Lanes<L>,
    ) -> Lanes<L> {
        let surface = |wells: &LaneWells<L>| {
            let full = wells.capacity * self.cell.kinetics.available_share;
            (Lanes::all(1.0) - wells.available / full) / usable
        };
        let ordinary = self.volts(surface(&state.ordinary));
        let weakest = self.volts(surface(&state.weakest));
        (ordinary * self.ordinary + weakest) * self.case
    }

    /// Share of the charge left in all cells of a string; the step in which a well runs dry may
    /// overshoot by a hundredth.
    #[inline(always)]
    pub(super) fn charge_left<const L: usize>(&self, state: &LaneState<L>) -> Lanes<L> {
        let depths = state.ordinary.depth() * self.ordinary + state.weakest.depth();
        (Lanes::all(1.0) - depths / (self.ordinary + 1.0)).max(Lanes::all(0.0))
    }

    /// Energy of a string at the open-circuit voltage of levelled cells, joules.
    pub(super) fn energy<const L: usize>(&self, state: &LaneState<L>) -> Lanes<L> {
        let of = |wells: &LaneWells<L>| {
            wells.capacity.zip(wells.depth(), |capacity, depth| {
                let capacity = Charge::from_coulombs(capacity);
                self.cell
                    .open_circuit
                    .energy_left(capacity, depth)
                    .as_joules()
            })
        };
        (of(&state.ordinary) * self.ordinary + of(&state.weakest)) * self.case
    }

    /// Charge of a string's cells added up, coulombs, at their share of a string's voltage.
    #[inline(always)]
    pub(super) fn charge_per_string_volt<const L: usize>(&self, state: &LaneState<L>) -> Lanes<L> {
        let ordinary = state.ordinary.available + state.ordinary.bound;
        let weakest = state.weakest.available + state.weakest.bound;
        (ordinary * self.ordinary + weakest) / (self.ordinary + 1.0)
    }

    /// What a temperature adds to the open-circuit voltage of a string.
    #[inline(always)]
    pub(super) fn shift<const L: usize>(&self, kelvin: Lanes<L>) -> Lanes<L> {
        (kelvin - Temperature::REFERENCE.as_kelvin())
            * (self.cell.open_circuit_per_k * (self.ordinary + 1.0) * self.case)
    }

    /// Resistances of a string at the reference temperature, of cells of this age.
    #[inline(always)]
    pub(super) fn resistances<const L: usize>(&self, state: &LaneState<L>) -> Resisting<L> {
        let aged = state.age_s * (self.cell.storage.resistance_growth_per_year / SECONDS_OF_YEAR)
            + Lanes::all(1.0);
        let (x, y) = (state.ordinary.depth(), state.weakest.depth());
        let (x2, y2) = (x * x, y * y);
        let (x4, y4) = (x2 * x2, y2 * y2);
        let sum = (x * self.ordinary + y) * aged * self.case;
        let fourth = (x4 * self.ordinary + y4) * aged * self.case;
        let one = aged * ((self.ordinary + 1.0) * self.case);
        let of = |r: &crate::cell::Resistor| {
            (one + sum * r.growth + fourth * r.late_growth) * r.fresh.as_ohms()
        };
        Resisting {
            ohmic: of(&self.cell.ohmic),
            slow: of(&self.cell.slow),
        }
    }

    /// Those resistances, ohmic and slow, at another temperature.
    #[inline(always)]
    pub(super) fn resistances_at<const L: usize>(
        &self,
        reference: &Resisting<L>,
        inverse: Lanes<L>,
    ) -> (Lanes<L>, Lanes<L>) {
        (
            reference.ohmic * exp(inverse * self.cell.ohmic.activation_k),
            reference.slow * exp(inverse * self.cell.slow.activation_k),
        )
    }

    /// How far the wells level out over `seconds`, `gain` times as fast as at the mean temperature.
    #[inline(always)]
    pub(super) fn levelling<const L: usize>(
        &self,
        seconds: f64,
        inverse: Lanes<L>,
        gain: f64,
    ) -> Levelling<L> {
        let rate = exp(-(inverse * self.cell.kinetics_activation_k))
            * (self.cell.kinetics.rate_per_second * gain);
        // Keeps 0/0 from cells with one well only.
        let exponent = (rate * seconds).max(Lanes::all(1e-9));
        let levelled = Lanes::all(1.0) - exp(-exponent);
        Levelling {
            levelled,
            decay_mean: levelled / exponent,
        }
    }

    /// `coulombs` drawn from the string evenly, while the wells level out.
    #[inline(always)]
    pub(super) fn after<const L: usize>(
        &self,
        state: &LaneState<L>,
        coulombs: Lanes<L>,
        levelling: &Levelling<L>,
    ) -> LaneState<L> {
        let share = self.cell.kinetics.available_share;
        let Levelling {
            levelled,
            decay_mean,
        } = *levelling;
        let decay = Lanes::all(1.0) - levelled;
        let delayed = coulombs * (Lanes::all(1.0) - decay_mean);
        let drawn_available = coulombs * decay_mean + delayed * share;
        let drawn_bound = delayed * (1.0 - share);
        let after = |wells: &LaneWells<L>| {
            let total = (wells.available + wells.bound) * levelled;
            LaneWells {
                available: wells.available * decay + total * share - drawn_available,
                bound: wells.bound * decay + total * (1.0 - share) - drawn_bound,
                capacity: wells.capacity,
            }
        };
        LaneState {
            ordinary: after(&state.ordinary),
            weakest: after(&state.weakest),
            age_s: state.age_s,
        }
    }

    /// The charge that each cell of a string has room for if it is charged evenly, coulombs, where it
    /// would stand at `uncharged` without.
    #[inline(always)]
    pub(super) fn room<const L: usize>(
        &self,
        uncharged: &LaneState<L>,
        levelling: &Levelling<L>,
    ) -> Lanes<L> {
        let share = self.cell.kinetics.available_share;
        // What of a charge is still in the available well at the end.
        let stays = levelling.decay_mean + (Lanes::all(1.0) - levelling.decay_mean) * share;
        let room = |wells: &LaneWells<L>| (wells.capacity * share - wells.available) / stays;
        let mut least = room(&uncharged.weakest);
        if self.ordinary > 0.0 {
            least = least.min(room(&uncharged.ordinary));
        }
        least.max(Lanes::all(0.0))
    }

    /// Self-discharge over `seconds`, `gain` times as fast as at the mean temperature; gives the share
    /// that is lost too.
    #[inline(always)]
    pub(super) fn stored<const L: usize>(
        &self,
        state: &LaneState<L>,
        seconds: f64,
        inverse: Lanes<L>,
        gain: f64,
    ) -> (LaneState<L>, Lanes<L>) {
        let storage = &self.cell.storage;
        let aged_s = exp(-(inverse * storage.activation_k)) * (seconds * gain);
        let mut rate = aged_s * (storage.loss_per_year / SECONDS_OF_YEAR);
        if storage.early_loss > 0.0 {
            let of = -1.0 / storage.early_time.as_seconds();
            let before = exp(state.age_s * of);
            let after = exp((state.age_s + aged_s) * of);
            rate += (before - after) * storage.early_loss;
        }
        // e^−r − 1 to the third order: a block loses a few thousandths at most.
        let lost = rate - rate * rate * 0.5 + rate * rate * rate * (1.0 / 6.0);
        let kept = Lanes::all(1.0) - lost;
        let after = LaneState {
            ordinary: state.ordinary.scaled(kept),
            weakest: state.weakest.scaled(kept),
            age_s: state.age_s + aged_s,
        };
        (after, lost)
    }
}

impl<const L: usize> LaneWells<L> {
    #[inline(always)]
    fn depth(&self) -> Lanes<L> {
        Lanes::all(1.0) - (self.available + self.bound) / self.capacity
    }

    #[inline(always)]
    fn scaled(&self, share: Lanes<L>) -> Self {
        Self {
            available: self.available * share,
            bound: self.bound * share,
            capacity: self.capacity,
        }
    }

    #[inline(always)]
    fn between(&self, end: &Self, at: Lanes<L>) -> Self {
        Self {
            available: self.available + (end.available - self.available) * at,
            bound: self.bound + (end.bound - self.bound) * at,
            capacity: self.capacity,
        }
    }
}

impl<const L: usize> LaneState<L> {
    /// What the weakest cell has within reach, coulombs.
    #[inline(always)]
    pub(super) fn within_reach(&self) -> Lanes<L> {
        self.weakest.available
    }

    /// `yes` where `which` is not 0, else `no`.
    #[inline(always)]
    pub(super) fn choose(which: Lanes<L>, yes: &Self, no: &Self) -> Self {
        let wells = |yes: &LaneWells<L>, no: &LaneWells<L>| LaneWells {
            available: which.choose(yes.available, no.available),
            bound: which.choose(yes.bound, no.bound),
            capacity: no.capacity,
        };
        Self {
            ordinary: wells(&yes.ordinary, &no.ordinary),
            weakest: wells(&yes.weakest, &no.weakest),
            age_s: which.choose(yes.age_s, no.age_s),
        }
    }

    /// On the way to `end`, 0 to 1.
    #[inline(always)]
    pub(super) fn between(&self, end: &Self, at: Lanes<L>) -> Self {
        Self {
            ordinary: self.ordinary.between(&end.ordinary, at),
            weakest: self.weakest.between(&end.weakest, at),
            age_s: self.age_s,
        }
    }
}
