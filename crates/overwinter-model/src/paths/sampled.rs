//! Luck, weather and animals drawn by lot: path k of a camera is the same whatever its neighbours.

use crate::cell::{Cell, Makes};
use crate::lanes::Lanes;
use crate::number::Number;
use crate::pack::Pack;
use crate::random::{Anomalies, Draw, Key, bits, exp, ln, normal, poisson, uniform};
use crate::units::Voltage;

use super::chances::{AirChances, CameraChances};
use super::luck::{DayAir, Luck, Traffic};

/// What numbers are drawn for: the `purpose` of a [`Draw`].
mod purpose {
    pub(super) const AIR: u32 = 0;
    pub(super) const WINTER: u32 = 1;
    pub(super) const CELLS: u32 = 2;
    pub(super) const CAMERA: u32 = 3;
    pub(super) const MAKE: u32 = 4;
    /// What nobody has measured of a chemistry: the same for all of its cells.
    pub(super) const BEYOND: u32 = 5;
    /// What nobody has measured of a model of cameras: the same for all of them.
    pub(super) const MODEL: u32 = 6;
    /// How one camera differs from others of its model.
    pub(super) const UNIT: u32 = 7;
    /// The first of a day's blocks; the others follow.
    pub(super) const TRIGGERS: u32 = 8;
}

/// The stream of what a whole site shares.
const SITE: u32 = 0;

/// Which paths are drawn: their numbers, and the seed of the run.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Drawn<const L: usize> {
    /// The seed.
    pub key: Key,
    /// One number for each lane.
    pub paths: [u32; L],
}

impl<const L: usize> Drawn<L> {
    #[inline(always)]
    fn words(&self, stream: u32, purpose: u32, day: u32) -> [[u32; L]; 4] {
        let draw = Draw {
            day,
            purpose,
            stream,
        };
        bits(self.key, self.paths, draw)
    }
}

/// The weather of paths, day after day.
pub struct SampledAir<'a, const L: usize> {
    drawn: Drawn<L>,
    chances: &'a AirChances,
    number: u32,
    anomalies: Option<Anomalies<L>>,
    winter_k: Lanes<L>,
}

impl<'a, const L: usize> SampledAir<'a, L> {
    /// From a season's first day on.
    #[inline(always)]
    #[must_use]
    pub fn new(drawn: Drawn<L>, chances: &'a AirChances) -> Self {
        let [word, ..] = drawn.words(SITE, purpose::WINTER, 0);
        Self {
            drawn,
            chances,
            number: 0,
            anomalies: None,
            winter_k: Lanes(normal(uniform(word))) * chances.winters_sd_k,
        }
    }

    /// How much warmer than expected the season is, kelvin; its days differ from that.
    #[must_use]
    pub const fn winter_k(&self) -> Lanes<L> {
        self.winter_k
    }

    /// The next day's, which lies in the month of this index (0 for January; others have no swing).
    #[inline(always)]
    pub fn next_day(&mut self, month_index: usize) -> DayAir<L> {
        let Some(month) = self.chances.months.get(month_index) else {
            return DayAir::EXPECTED;
        };
        let [first, second, third, _] = self.drawn.words(SITE, purpose::AIR, self.number);
        let z = [normal(uniform(first)), normal(uniform(second))];
        let today = match self.anomalies {
            None => Anomalies::start(&month.law, z),
            Some(yesterday) => yesterday.next(&month.law, z),
        };
        self.anomalies = Some(today);
        self.number += 1;
        DayAir {
            warmer_k: Lanes(today.t) * month.temperature_sd_k + self.winter_k,
            wider_k: Lanes(normal(uniform(third))) * month.range_sd_k,
            clearer: Lanes(today.c) * month.clearness_sd,
        }
    }
}

/// What one purchase of cells is, by how makes differ: factors on capacity and resistance, and what is added
/// to the open-circuit voltage.
struct Bought<const L: usize> {
    capacity: Lanes<L>,
    resistance: Lanes<L>,
    open_circuit: Voltage<Lanes<L>>,
}

impl<const L: usize> Bought<L> {
    #[inline(always)]
    fn of(makes: &Makes, drawn: &Drawn<L>, purchase: u32) -> Self {
        let [first, second, third, _] = drawn.words(purchase, purpose::MAKE, 0);
        let first = Lanes(normal(uniform(first)));
        let second = Lanes(normal(uniform(second)));
        let third = Lanes(normal(uniform(third)));
        let apart = libm::sqrt(1.0 - makes.correlation * makes.correlation);
        let resisting = first * makes.correlation + second * apart;
        Self {
            capacity: Lanes(exp((first * makes.capacity).0)),
            resistance: Lanes(exp((resisting * makes.resistance).0)),
            open_circuit: makes.open_circuit.everywhere() * third,
        }
    }
}

/// `e^(s z − s²/2)`: mean 1.
#[inline(always)]
fn factor<const L: usize>(sd_ln: f64, z: [f64; L]) -> Lanes<L> {
    Lanes(exp((Lanes(z) * sd_ln - sd_ln * sd_ln / 2.0).0))
}

impl CameraChances {
    /// What is drawn once for each path of a camera with this pack.
    #[inline(always)]
    #[must_use]
    pub fn luck<const L: usize>(&self, drawn: &Drawn<L>, pack: &Pack) -> Luck<L> {
        let cell = pack.cell();
        let bought = Bought::of(&cell.makes, drawn, self.purchase);
        let [weakest, ..] = drawn.words(self.stream, purpose::CELLS, 0);
        let [_, airtime, ..] = drawn.words(self.stream, purpose::CAMERA, 0);
        let [resistance, reach, ..] = drawn.words(cell.chemistry as u32, purpose::BEYOND, 0);
        let taken_for = pack.weakest().capacity() / cell.capacity;
        let weakest = bought.capacity * weakest_cell(cell, pack.series(), uniform(weakest));
        Luck {
            // The others are no weaker than the weakest.
            ordinary: bought.capacity.max(weakest),
            weakest: weakest / taken_for,
            resistance: bought.resistance,
            open_circuit: bought.open_circuit,
            beyond_resistance: Lanes(normal(uniform(resistance))) * cell.beyond_points.resistance,
            beyond_reach: Lanes(normal(uniform(reach))) * cell.beyond_points.reach,
            airtime: factor(self.airtime_sd_ln, normal(uniform(airtime))),
        }
    }

    /// A standard normal deviate for something that nobody has measured of a camera: that of a `number` is
    /// the same in every camera of a model.
    #[inline(always)]
    #[must_use]
    pub fn of_model<const L: usize>(&self, drawn: &Drawn<L>, number: u32) -> Lanes<L> {
        let [word, ..] = drawn.words(self.model, purpose::MODEL, number);
        Lanes(normal(uniform(word)))
    }

    /// The same for how one camera differs from others of its model.
    #[inline(always)]
    #[must_use]
    pub fn of_unit<const L: usize>(&self, drawn: &Drawn<L>, number: u32) -> Lanes<L> {
        let [word, ..] = drawn.words(self.stream, purpose::UNIT, number);
        Lanes(normal(uniform(word)))
    }

    /// The animals of paths.
    #[inline(always)]
    #[must_use]
    pub fn traffic<'a, const L: usize>(&'a self, drawn: &Drawn<L>) -> Sampled<'a, L> {
        let [_, _, rate, _] = drawn.words(self.stream, purpose::CAMERA, 0);
        Sampled {
            chances: self,
            drawn: *drawn,
            rate: factor(self.rate_sd_ln, normal(uniform(rate))),
            today: Lanes::all(1.0),
        }
    }
}

/// Capacity of the weakest of so many cells over the mean one's: drawn from the law of the least of
/// n normal deviates, `Φ(z) = 1 − (1 − u)^(1/n)`.
#[inline(always)]
fn weakest_cell<const L: usize>(cell: &Cell, n: u8, u: [f64; L]) -> Lanes<L> {
    let share = Lanes(ln((Lanes::all(1.0) - Lanes(u)).0)) / f64::from(n);
    // Of 24 cells and the least u, 2^-33, still 4.9e-12: above 0, as a quantile needs.
    let below = Lanes::all(1.0) - Lanes(exp(share.0));
    let z = Lanes(normal(below.0));
    (z * cell.spread + 1.0).max(Lanes::all(0.1))
}

/// Animals by lot: a day's share of the traffic from the gamma law, the passes of a block from
/// Poisson's; together the counts of days follow the negative binomial law.
pub struct Sampled<'a, const L: usize> {
    chances: &'a CameraChances,
    drawn: Drawn<L>,
    rate: Lanes<L>,
    today: Lanes<L>,
}

impl<const L: usize> Sampled<'_, L> {
    /// Factor on the rate of triggers, for a season.
    #[must_use]
    pub const fn rate(&self) -> Lanes<L> {
        self.rate
    }
}

impl<const L: usize> Traffic<L> for Sampled<'_, L> {
    const ASKED_AT_COLDEST: bool = false;

    #[inline(always)]
    fn of_block(&mut self, day: u32, block: u32, expected: (f64, f64)) -> (Lanes<L>, Lanes<L>) {
        let stream = self.chances.stream;
        let words = self.drawn.words(stream, purpose::TRIGGERS + block, day);
        let [by_day, by_night, share, _] = words;
        if block == 0 {
            let share = self.chances.day_share.at(normal(uniform(share)));
            self.today = self.rate * Lanes(share);
        }
        (
            passes(self.today * expected.0, by_day),
            passes(self.today * expected.1, by_night),
        )
    }
}

/// Passes of a block of which so many are expected.
#[inline(always)]
fn passes<const L: usize>(expected: Lanes<L>, word: [u32; L]) -> Lanes<L> {
    Lanes(poisson(expected.0, uniform(word)))
}
