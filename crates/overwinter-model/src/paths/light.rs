//! What a panel has to give in a block, and how warm the air is meanwhile.

use crate::harvest::{CLEARNESS_NODES, CLEARNESS_STEP, PanelDay};
use crate::lanes::Lanes;
use crate::number::Number;
use crate::season::Hour;
use crate::units::{Power, Time};

/// What a panel has to give in a block, by the day's clearness.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct BlockLight {
    /// Mean power at each node, watts.
    watts: [f64; CLEARNESS_NODES],
    /// Mean clearness of the days of its month.
    clearness: f64,
    pub(super) pieces: [Piece; PIECES],
    /// How long each piece is.
    pub(super) piece: Time,
}

/// A block is looked at in so many pieces for the temperature at which its light comes.
const PIECES: usize = 3;

/// A part of a block.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Piece {
    /// Share of the block's light that falls in it.
    pub(super) share: f64,
    /// Mean temperature of the air, kelvin.
    pub(super) air_k: f64,
}

impl BlockLight {
    /// Takes the light of `hours` together.
    pub(super) fn of(hours: &[Hour], panel: &PanelDay, clearness: f64) -> Self {
        let mut watts = [0.0; CLEARNESS_NODES];
        for hour in hours {
            let Some(nodes) = panel.nodes().get(usize::from(hour.of_day)) else {
                continue;
            };
            for (sum, node) in watts.iter_mut().zip(nodes) {
                *sum += node.as_watts() / length(hours);
            }
        }
        let at_mean = panel.at_clearness(clearness);
        let light = |hours: &[Hour]| {
            let of_hour = |hour: &Hour| at_mean.get(usize::from(hour.of_day)).copied();
            let watts = hours
                .iter()
                .filter_map(of_hour)
                .map(|power| power.as_watts());
            watts.sum::<f64>()
        };
        let all = libm::fmax(light(hours), f64::MIN_POSITIVE);
        let each = hours.len().div_ceil(PIECES).max(1);
        let mut pieces = [Piece::default(); PIECES];
        for (piece, hours) in pieces.iter_mut().zip(hours.chunks(each)) {
            let kelvin: f64 = hours.iter().map(|hour| hour.air.as_kelvin()).sum();
            *piece = Piece {
                share: light(hours) / all,
                air_k: kelvin / length(hours),
            };
        }
        Self {
            watts,
            clearness,
            pieces,
            piece: hours
                .get(..each)
                .map_or(Time::ZERO, |hours| Time::from_hours(length(hours))),
        }
    }

    /// Power in each lane, whose day is so much clearer than the mean one.
    #[inline(always)]
    pub(super) fn power<const L: usize>(&self, clearer: Lanes<L>) -> Power<Lanes<L>> {
        let steps = (clearer + self.clearness) / CLEARNESS_STEP;
        let [first, ..] = self.watts;
        let mut watts = Lanes::all(first);
        let mut passed = 0.0;
        for (from, to) in self.watts.iter().zip(self.watts.iter().skip(1)) {
            let part = (steps - passed).max(Lanes::all(0.0)).min(Lanes::all(1.0));
            watts += part * (to - from);
            passed += 1.0;
        }
        Power::from_si(watts)
    }
}

/// How many hours these are.
fn length(hours: &[Hour]) -> f64 {
    hours.iter().fold(0.0, |count, _| count + 1.0)
}
