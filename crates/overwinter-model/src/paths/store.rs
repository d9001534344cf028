//! A store beside the pack in a block: as [`crate::harvest::Store`], on several paths at once.

use super::block::Block;
use super::panel_books::PanelBooks;
use super::solar::{BlockSun, Offered, OnPack, Wanted};
use crate::harvest::Store;
use crate::lanes::Lanes;
use crate::units::{Temperature, Time};

/// A store beside the pack.
pub(super) struct LaneStore {
    pub(super) capacity_j: f64,
    charge_efficiency: f64,
    pub(super) coldest_k: f64,
    pub(super) warmest_k: f64,
    highest_w: f64,
    pub(super) lag: Time,
    self_discharge_per_month: f64,
    /// 0 where it is never too cold.
    pub(super) weak_below_k: f64,
}

impl LaneStore {
    pub(super) fn of(store: &Store) -> Self {
        Self {
            capacity_j: store.capacity.as_joules(),
            charge_efficiency: store.charge_efficiency,
            coldest_k: store.limit.coldest.map_or(0.0, Temperature::as_kelvin),
            warmest_k: store
                .limit
                .warmest
                .map_or(f64::INFINITY, Temperature::as_kelvin),
            highest_w: store.limit.highest.map_or(f64::INFINITY, |p| p.as_watts()),
            lag: store.lag,
            self_discharge_per_month: store.self_discharge_per_month,
            weak_below_k: store.weak_below.map_or(0.0, Temperature::as_kelvin),
        }
    }

    fn share_lost(&self, seconds: f64) -> f64 {
        let months = seconds / Time::from_days(30.0).as_seconds();
        1.0 - libm::pow(1.0 - self.self_discharge_per_month, months)
    }

    /// A block in which it holds `held_j` at first and serves the camera as far as it can. While it is
    /// too cold for more than a camera asleep, all that happens is the pack's.
    #[inline(always)]
    pub(super) fn serve<const L: usize>(
        &self,
        held_j: Lanes<L>,
        block: &Block,
        offered: &Offered<L>,
        wanted: Wanted<L>,
    ) -> BlockSun<L> {
        let (zero, one) = (Lanes::all(0.0), Lanes::all(1.0));
        let seconds = block.span.as_seconds();
        let panel_w = offered.watts;
        let taken_w = panel_w.min(Lanes::all(self.highest_w)) * offered.allowed;
        let charged_j = taken_w * (self.charge_efficiency * seconds);
        let self_discharge_j = held_j * self.share_lost(seconds);
        let load_j = wanted.all_j - wanted.events_j * offered.weak;
        let balance = held_j - self_discharge_j + charged_j - load_j;
        let unmet = (-balance).max(zero);
        let beyond_j = (balance - self.capacity_j).max(zero);
        let spilled_j = if self.charge_efficiency > 0.0 {
            beyond_j / self.charge_efficiency
        } else {
            beyond_j
        };
        let some = load_j.max(Lanes::all(f64::MIN_POSITIVE));
        let left_to_pack = (unmet / some).min(one);
        BlockSun {
            on_pack: OnPack {
                asleep: left_to_pack,
                events: left_to_pack * (one - offered.weak) + offered.weak,
            },
            held_j: balance.max(zero).min(Lanes::all(self.capacity_j)),
            kept: zero,
            self_discharge_j,
            books: PanelBooks {
                offered_j: panel_w * seconds,
                kept_out_j: (panel_w - taken_w) * seconds,
                spilled_j,
                charging_loss_j: taken_w * seconds - charged_j - (spilled_j - beyond_j),
            },
            wanted,
        }
    }
}
