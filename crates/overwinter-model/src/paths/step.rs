//! A block's step on all lanes.

use super::cells::{LaneState, inverse};
use super::demand::Done;
use super::failures::{Coldest, cause_of, code, note};
use super::pulses::Standing;
use super::solar::{BlockSun, Chargeable, LaneFeeds, Offered, OnPack, Sunlit};
use super::{Block, DayAir, Followed, Luck, PanelBooks, Prepared, Traffic};
use crate::cell::Cell;
use crate::lanes::{Lanes, Root};
use crate::season::Cause;
use crate::units::{Power, Temperature};

/// Below the last published point the doubt about the cold sets in over so many kelvin: points thin
/// out, they do not stop. Ours, no source.
const DOUBT_GROWS_OVER_K: f64 = 5.0;

/// The least share of its capacity that a doubted cell gives.
const LEAST_USABLE: f64 = 0.2;

/// Follows `L` paths through a season to their ends: `blocks` in their order, `per_day` of them to
/// each day, with a day's weather in `air`. `observe` is told how things stand at the end of each day,
/// until all are dead.
///
/// Days without weather are as expected.
#[inline(always)]
pub fn follow<R: Root, T: Traffic<L>, const L: usize>(
    prepared: &Prepared<'_>,
    blocks: &[Block],
    per_day: usize,
    air: &[DayAir<L>],
    luck: &Luck<L>,
    traffic: &mut T,
    observe: &mut impl FnMut(u32, &Today<L>),
) -> Followed<L> {
    let mut paths = Paths::start(prepared, luck);
    let mut days = air.iter().chain(core::iter::repeat(&DayAir::EXPECTED));
    for (day, blocks) in (0..).zip(blocks.chunks(per_day.max(1))) {
        let Some(air) = days.next() else { break };
        for (number, block) in (0..).zip(blocks) {
            let expected = (block.day.triggers, block.night.triggers);
            let triggers = traffic.of_block(day, number, expected);
            paths.step::<R, T>(block, air, triggers);
        }
        observe(day, &paths.today());
        if !paths.alive.any() {
            break;
        }
    }
    paths.finish()
}

/// How paths stand at the end of a day.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Today<const L: usize> {
    /// Share of the pack's charge left.
    pub charge_left: Lanes<L>,
    /// Joules in a store.
    pub in_store_j: Lanes<L>,
    /// What a panel has brought so far.
    pub panel: PanelBooks<L>,
    /// What a camera with a panel has drawn so far, joules.
    pub wanted_j: Lanes<L>,
    /// What of that came from the pack: all, or what an empty store or one that is weak in frost left
    /// to it.
    pub from_pack_j: Lanes<L>,
    /// In so many blocks so far a store was empty.
    pub dry_blocks: Lanes<L>,
}

/// Paths on their way.
pub(super) struct Paths<'a, 'b, const L: usize> {
    pub(super) prepared: &'a Prepared<'b>,
    pub(super) luck: &'a Luck<L>,
    pub(super) state: LaneState<L>,
    /// Open-circuit voltage of a string at the coldest hour of the block before, at the reference
    /// temperature.
    pub(super) open_circuit: Lanes<L>,
    pub(super) polarisation: Lanes<L>,
    /// Pictures that wait for the daily session.
    pub(super) waiting: Lanes<L>,
    /// Megabytes on the card.
    pub(super) on_card: Lanes<L>,
    /// 1 in each lane that is alive, else 0.
    pub(super) alive: Lanes<L>,
    pub(super) seconds: f64,
    pub(super) charge_left: Lanes<L>,
    pub(super) cause: Lanes<L>,
    pub(super) doubted_below_k: f64,
    /// 1 in each lane whose pack has a share of it in the block, else 0: a store does the rest.
    pub(super) on_pack: OnPack<L>,
    sunlit: Sunlit<L>,
    /// Lost by a store that lay there, joules.
    of_store_j: Lanes<L>,
    /// What each string gave more than it was charged with because its cells were warmer or colder
    /// then than at the reference temperature, at which the books count a charge, joules.
    by_warmth_j: Lanes<L>,
    pub(super) followed: Followed<L>,
}

impl<'a, 'b, const L: usize> Paths<'a, 'b, L> {
    #[inline(always)]
    fn start(prepared: &'a Prepared<'b>, luck: &'a Luck<L>) -> Self {
        let scenario = prepared.scenario;
        let cells = &prepared.cells;
        let state = cells.start(&scenario.pack, &scenario.start, luck.ordinary, luck.weakest);
        let mut followed = Followed::nothing_yet();
        let sunlit = Sunlit::start(prepared.feeds.as_ref());
        followed.put_in_j = cells.energy(&state) * prepared.strings + sunlit.held_j;
        Self {
            prepared,
            luck,
            open_circuit: cells.open_circuit(&state, Lanes::all(1.0)),
            charge_left: cells.charge_left(&state),
            state,
            polarisation: Lanes::all(0.0),
            waiting: Lanes::all(0.0),
            on_card: Lanes::all(0.0),
            alive: Lanes::all(1.0),
            seconds: 0.0,
            cause: Lanes::all(0.0),
            doubted_below_k: doubted_below_k(prepared),
            on_pack: OnPack::ALL,
            sunlit,
            of_store_j: Lanes::all(0.0),
            by_warmth_j: Lanes::all(0.0),
            followed,
        }
    }
}

impl<const L: usize> Paths<'_, '_, L> {
    /// Takes a block.
    #[inline(always)]
    fn step<R: Root, T: Traffic<L>>(
        &mut self,
        block: &Block,
        air: &DayAir<L>,
        triggers: (Lanes<L>, Lanes<L>),
    ) {
        let cells = &self.prepared.cells;
        let seconds = block.span.as_seconds();
        let kelvin = air.warmer_k + block.air_k;
        let inverse = inverse(kelvin);
        let reference = cells.resistances(&self.state);
        let (ohmic, slow) = cells.resistances_at(&reference, inverse);
        let standing = Standing {
            open_circuit: self.open_circuit + cells.shift(kelvin),
            polarisation: self.polarisation,
            ohmic,
            slow,
        };
        let done = self.done(block, triggers);
        let offered = self.offered(block, air);
        let mut sun = self.served(block, &offered, &done);
        let asleep = self.asleep(&standing) * sun.on_pack.asleep;
        let coulombs = self.coulombs::<R>(&standing, &done, asleep * seconds, sun.on_pack.events);
        let levelling = cells.levelling(seconds, inverse, block.levelling_gain);
        let foreseen = cells.after(&self.state, coulombs, &levelling);
        if let Some(LaneFeeds::Pack(feeds)) = &self.prepared.feeds {
            let pack = Chargeable {
                cells,
                state: &self.state,
                uncharged: &foreseen,
                levelling: &levelling,
                kelvin,
                ohms: ohmic + slow,
                drawn: coulombs,
            };
            let wanted = self.wanted(block, &done);
            sun = self
                .sunlit
                .charge::<R>(feeds, block, &offered, &pack, wanted);
        }
        let net = coulombs - sun.kept;
        let foreseen = if self.prepared.feeds.is_some() {
            cells.after(&self.state, net, &levelling)
        } else {
            foreseen
        };

        let settled = slow * net / seconds;
        self.polarisation = settled + (self.polarisation - settled) * block.relaxing;
        let there = self.state.between(&foreseen, Lanes::all(block.coldest_to));
        let warmer_k = air.warmer_k - air.wider_k * 0.5;
        let lowest_k = warmer_k + block.coldest_k();
        let usable = self.usable(lowest_k);
        self.open_circuit = cells.open_circuit(&there, usable);
        let coulombs = coulombs * standing.over(self.open_circuit + cells.shift(kelvin));
        let end = cells.after(&self.state, coulombs - sun.kept, &levelling);
        let (ohmic, slow) = cells.resistances_at(&reference, super::cells::inverse(lowest_k));
        // What a charge lifts the voltage by is gone within minutes.
        let polarisation = self.polarisation.max(Lanes::all(0.0));
        let coldest = Coldest {
            reference,
            open_circuit: self.open_circuit,
            polarisation,
            warmer_k,
            worst: Standing {
                open_circuit: self.open_circuit + cells.shift(lowest_k),
                polarisation,
                ohmic,
                slow,
            },
        };
        let died = self.find_failures::<R, T>(block, &coldest, &done, asleep * ohmic);
        if let Some(LaneFeeds::Pack(feeds)) = &self.prepared.feeds {
            feeds.book_loss(cells, &mut sun, (&self.state, &end), kelvin);
        }
        let by_warmth = (coulombs - sun.kept) * cells.shift(kelvin);
        self.close(block, (&done, &sun), (&end, by_warmth), died, inverse);
    }

    /// What the panel offers in a block.
    #[inline(always)]
    fn offered(&mut self, block: &Block, air: &DayAir<L>) -> Offered<L> {
        let (Some(feeds), Some(light)) = (&self.prepared.feeds, &block.light) else {
            return Offered::NONE;
        };
        let first = self.seconds <= 0.0;
        let watts = light.watts(air.clearer);
        self.sunlit
            .follow_air(feeds, light, air.warmer_k, watts, first)
    }

    /// What a store does for a block, where a panel has one; and who needs the pack.
    #[inline(always)]
    fn served(&mut self, block: &Block, offered: &Offered<L>, done: &Done<L>) -> BlockSun<L> {
        let Some(LaneFeeds::Store(store)) = &self.prepared.feeds else {
            return BlockSun::NONE;
        };
        let wanted = self.wanted(block, done);
        let sun = store.serve(self.sunlit.held_j, block, offered, wanted);
        self.on_pack = sun.on_pack.any_share();
        sun
    }

    /// How things stand.
    #[inline(always)]
    fn today(&self) -> Today<L> {
        Today {
            charge_left: self.charge_left,
            in_store_j: self.sunlit.held_j,
            panel: self.sunlit.books,
            wanted_j: self.sunlit.wanted_j,
            from_pack_j: self.sunlit.from_pack_j,
            dry_blocks: self.sunlit.dry_blocks,
        }
    }

    /// Share of the capacity that a cell gives at this temperature: 1 within the published points.
    #[inline(always)]
    fn usable(&self, kelvin: Lanes<L>) -> Lanes<L> {
        let doubt = (Lanes::all(self.doubted_below_k) - kelvin) / DOUBT_GROWS_OVER_K;
        let doubt = doubt.max(Lanes::all(0.0)).min(Lanes::all(1.0));
        let usable = (self.luck.in_the_cold - 1.0) * doubt + 1.0;
        usable.max(Lanes::all(LEAST_USABLE))
    }

    /// Moves the charge and keeps the books: to the block's end, or to the death in it.
    #[inline(always)]
    fn close(
        &mut self,
        block: &Block,
        (done, sun): (&Done<L>, &BlockSun<L>),
        (end, by_warmth): (&LaneState<L>, Lanes<L>),
        died: Lanes<L>,
        inverse: Lanes<L>,
    ) {
        let (zero, one) = (Lanes::all(0.0), Lanes::all(1.0));
        let seconds = block.span.as_seconds();
        let before = self.state.within_reach();
        let runs_dry = end.within_reach().below(zero);
        let dry_at = before / (before - end.within_reach()).max(Lanes::all(f64::MIN_POSITIVE));
        let fails_at = died.choose(Lanes::all(block.coldest_from), dry_at);
        let cause = died.choose(died, runs_dry * code(Cause::WeakestCellEmpty)) * self.alive;
        let part = cause.choose(fails_at, one) * self.alive;
        note(
            &mut self.followed.dead,
            cause,
            (fails_at * seconds + self.seconds) / 86_400.0,
        );
        self.cause = self.cause.max(cause);

        let counts = &mut self.followed.counts;
        counts.alive_s += part * seconds;
        counts.by_day += part * done.by_day;
        counts.by_night += part * done.by_night;
        counts.sessions += part * done.sessions;
        counts.sent += part * done.sessions * done.pictures;
        counts.check_ins += part * done.check_ins;

        if let Some(card) = &self.prepared.scenario.draw.card {
            self.on_card +=
                part * (done.by_day * card.day_trigger_mb + done.by_night * card.night_trigger_mb);
            let full = Lanes::all(card.capacity_mb).below(self.on_card) * self.alive;
            let days = (self.seconds + seconds) / 86_400.0;
            note(&mut self.followed.card_full, full, days);
        }

        let cells = &self.prepared.cells;
        let (stored, lost) = cells.stored(end, seconds, inverse, block.ageing_gain);
        self.followed.self_discharge_j +=
            lost * cells.charge_per_string_volt(end) * self.open_circuit * part;
        self.by_warmth_j += by_warmth * part;
        if self.prepared.feeds.is_some() {
            self.of_store_j += self.sunlit.take(sun, part, self.seconds / 86_400.0);
        }
        let after = LaneState::choose(cause, &self.state.between(end, fails_at), &stored);
        self.state = LaneState::choose(self.alive, &after, &self.state);
        self.alive *= one - zero.below(cause);
        self.charge_left = cells.charge_left(&self.state);
        self.seconds += seconds;
    }

    #[inline(always)]
    fn finish(self) -> Followed<L> {
        let strings = self.prepared.strings;
        let mut followed = self.followed;
        followed.charge_left = self.charge_left;
        // Warmth of the air that became electrical energy was put in.
        followed.put_in_j += self.by_warmth_j.max(Lanes::all(0.0)) * strings;
        followed.left_j = self.prepared.cells.energy(&self.state) * strings + self.sunlit.held_j;
        followed.self_discharge_j = followed.self_discharge_j * strings + self.of_store_j;
        followed.store_empty = self.sunlit.store_empty;
        followed.panel = self.sunlit.books;
        for (cause, code) in followed.causes.iter_mut().zip(self.cause.0) {
            *cause = cause_of(code);
        }
        followed
    }
}

/// Below which temperature the model extrapolates for this camera: below the coldest published
/// point, or from frost on if it pulls more than any point there.
fn doubted_below_k(prepared: &Prepared<'_>) -> f64 {
    let Cell { tested, .. } = prepared.scenario.pack.cell();
    let volts = prepared.scenario.pack.fresh_voltage();
    let heaviest = Power::from_watts(prepared.peak_w()) / volts;
    if heaviest > tested.heaviest_in_frost {
        Temperature::from_celsius(0.0).as_kelvin()
    } else {
        tested.coldest.as_kelvin()
    }
}
