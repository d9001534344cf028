//! What differs between paths: the weather of each day, the animals, and what is drawn once.

use crate::lanes::Lanes;
use crate::units::Voltage;

/// How a day's weather differs from what is expected of it, in each lane.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DayAir<const L: usize> {
    /// Mean temperature above the expected, kelvin.
    pub warmer_k: Lanes<L>,
    /// Range between the day's lowest and highest above the expected, kelvin.
    pub wider_k: Lanes<L>,
    /// Clearness above its month's mean.
    pub clearer: Lanes<L>,
}

impl<const L: usize> DayAir<L> {
    /// A day just as it is expected.
    pub const EXPECTED: Self = Self {
        warmer_k: Lanes::all(0.0),
        wider_k: Lanes::all(0.0),
        clearer: Lanes::all(0.0),
    };
}

/// What is drawn once for a path: factors on what the scenario says, 1 where it is right, if nothing else
/// is said.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Luck<const L: usize> {
    /// On the capacity of the ordinary cells.
    pub ordinary: Lanes<L>,
    /// On the capacity of the weakest cell, over what the pack takes it for.
    pub weakest: Lanes<L>,
    /// On every resistance of the cells.
    pub resistance: Lanes<L>,
    /// Added to the open-circuit voltage of each cell.
    pub open_circuit: Voltage<Lanes<L>>,
    /// The logarithm of a factor on every resistance, a step beyond the published points; 0 where the model
    /// is right.
    pub beyond_resistance: Lanes<L>,
    /// The same on the charge within reach.
    pub beyond_reach: Lanes<L>,
    /// On how long sessions and sending take: the signal.
    pub airtime: Lanes<L>,
}

impl<const L: usize> Luck<L> {
    /// Everything is as the scenario says.
    pub const NONE: Self = Self {
        ordinary: Lanes::all(1.0),
        weakest: Lanes::all(1.0),
        resistance: Lanes::all(1.0),
        open_circuit: Voltage::<Lanes<L>>::NONE,
        beyond_resistance: Lanes::all(0.0),
        beyond_reach: Lanes::all(0.0),
        airtime: Lanes::all(1.0),
    };
}

/// How many animals pass.
pub trait Traffic<const L: usize> {
    /// Whether an event is asked for at a block's coldest moment however seldom it comes, as on the
    /// expected path; else at the coldest of the moments at which it did come.
    const ASKED_AT_COLDEST: bool;

    /// Triggers by day and by night in one of a day's blocks, of which so many are expected.
    fn of_block(&mut self, day: u32, block: u32, expected: (f64, f64)) -> (Lanes<L>, Lanes<L>);
}

/// As many as are expected.
#[derive(Clone, Copy, Debug)]
pub struct Expected;

impl<const L: usize> Traffic<L> for Expected {
    const ASKED_AT_COLDEST: bool = true;

    #[inline(always)]
    fn of_block(&mut self, _: u32, _: u32, expected: (f64, f64)) -> (Lanes<L>, Lanes<L>) {
        (Lanes::all(expected.0), Lanes::all(expected.1))
    }
}
