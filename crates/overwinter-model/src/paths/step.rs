//! A block's step on all lanes.

use super::cells::LaneState;
use super::demand::Done;
use super::failures::{Coldest, above_zero, any, cause_of, code, note};
use super::pulses::Standing;
use super::solar::{BlockSun, Chargeable, LaneFeeds, Offered, OnPack, Sunlit, serve};
use super::{Block, Cameras, DayAir, Followed, Luck, Prepared, Traffic};
use crate::circuit::Polarisation;
use crate::draw::written_mb;
use crate::harvest::FromPanel;
use crate::lanes::Lanes;
use crate::number::Number;
use crate::season::{Cause, Ending};
use crate::units::{Charge, Energy, Temperature, Voltage};

use super::tables::Factors;

/// Follows `L` paths of `cameras` through a season to their ends: `blocks` in their order, `per_day` of them to
/// each day, with a day's weather in `air`. `observe` is told how things stand at the end of each day,
/// until all are dead.
///
/// Days without weather are as expected.
#[inline(always)]
pub fn follow<T: Traffic<L>, const L: usize>(
    cameras: &Cameras<'_, '_, L>,
    blocks: &[Block],
    per_day: usize,
    air: &[DayAir<L>],
    luck: &Luck<L>,
    traffic: &mut T,
    observe: &mut impl FnMut(u32, &Today<L>),
) -> Followed<L> {
    let mut paths = Paths::start(cameras, luck);
    // What is known to others stays in memory, lane beside lane, and is taken from there by whole
    // registers. Compilers that may take it apart keep single lanes where ways meet, at a third of the speed.
    core::hint::black_box(&mut paths);
    let mut days = air.iter().chain(core::iter::repeat(&DayAir::EXPECTED));
    for (day, blocks) in (0..).zip(blocks.chunks(per_day.max(1))) {
        let Some(air) = days.next() else { break };
        for (number, block) in (0..).zip(blocks) {
            let expected = (block.day.triggers, block.night.triggers);
            let triggers = traffic.of_block(day, number, expected);
            paths.step::<T>(block, air, triggers);
        }
        observe(day, &paths.today());
        if !any(paths.alive) {
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
    /// What is in a store.
    pub in_store: Energy<Lanes<L>>,
    /// What a panel has brought so far.
    pub panel: FromPanel<Lanes<L>>,
    /// What a camera with a panel has drawn so far.
    pub wanted: Energy<Lanes<L>>,
    /// What of that came from the pack: all, or what an empty store or one that is weak in frost left
    /// to it.
    pub from_pack: Energy<Lanes<L>>,
    /// In so many blocks so far a store was empty.
    pub dry_blocks: Lanes<L>,
}

/// Paths on their way.
pub(super) struct Paths<'a, 'b, const L: usize> {
    pub(super) prepared: &'a Prepared<'b>,
    pub(super) cameras: &'a Cameras<'a, 'b, L>,
    pub(super) luck: &'a Luck<L>,
    pub(super) state: LaneState<L>,
    /// Open-circuit voltage of a string with the depths of the coldest hour of the block before, at the
    /// reference temperature; its wells hold back as much as in the mean of that block.
    pub(super) open_circuit: Voltage<Lanes<L>>,
    pub(super) polarisation: Polarisation<Lanes<L>>,
    /// Pictures that wait for the daily session.
    pub(super) waiting: Lanes<L>,
    /// Megabytes on the card.
    pub(super) on_card: Lanes<L>,
    /// 1 in each lane that is alive, else 0.
    pub(super) alive: Lanes<L>,
    pub(super) seconds: f64,
    pub(super) cause: Lanes<L>,
    /// 1 in each lane whose pack has a share of it in the block, else 0: a store does the rest.
    pub(super) on_pack: OnPack<L>,
    sunlit: Sunlit<L>,
    /// Lost by a store that lay there.
    of_store: Energy<Lanes<L>>,
    /// What each string gave more than it was charged with because its cells were warmer or colder
    /// then than at the reference temperature, at which the books count a charge.
    by_warmth: Energy<Lanes<L>>,
    pub(super) followed: Followed<L>,
}

/// How the cells differ from the model's where no published point reaches; 1 elsewhere.
struct Beyond<const L: usize> {
    /// Factor on every resistance.
    resistance: Lanes<L>,
    /// Factor on the charge within reach.
    usable: Lanes<L>,
}

/// A block's end, before it is known who lives to see it.
struct End<const L: usize> {
    state: LaneState<L>,
    by_warmth: Energy<Lanes<L>>,
    factors: Factors<Lanes<L>>,
}

impl<'a, 'b, const L: usize> Paths<'a, 'b, L> {
    #[inline(always)]
    fn start(cameras: &'a Cameras<'a, 'b, L>, luck: &'a Luck<L>) -> Self {
        let prepared = cameras.prepared;
        let scenario = prepared.scenario;
        let cells = &prepared.cells;
        let state = cells.start(&scenario.start, luck);
        let mut followed = Followed::NOTHING_YET;
        let sunlit = Sunlit::start(prepared.feeds.as_ref());
        followed.put_in = cells.energy(&state) * Lanes::all(prepared.strings) + sunlit.held;
        Self {
            prepared,
            cameras,
            luck,
            open_circuit: cells.open_circuit(&state, Lanes::all(1.0), Lanes::all(1.0)),
            state,
            polarisation: Polarisation::NONE.everywhere(),
            waiting: Lanes::all(0.0),
            on_card: Lanes::all(0.0),
            alive: Lanes::all(1.0),
            seconds: 0.0,
            cause: Lanes::all(0.0),
            on_pack: OnPack::ALL,
            sunlit,
            of_store: Energy::<Lanes<L>>::NONE,
            by_warmth: Energy::<Lanes<L>>::NONE,
            followed,
        }
    }
}

impl<const L: usize> Paths<'_, '_, L> {
    /// Takes a block.
    #[inline(always)]
    fn step<T: Traffic<L>>(
        &mut self,
        block: &Block,
        air: &DayAir<L>,
        triggers: (Lanes<L>, Lanes<L>),
    ) {
        let cells = &self.prepared.cells;
        let span = Self::span(block);
        let temperature = Temperature::from_si(air.warmer_k + block.air_k);
        let factors = cells.factors(temperature);
        let warmer_k = air.warmer_k - air.wider_k * 0.5;
        let lowest = Temperature::from_si(warmer_k + block.coldest_k());
        let Beyond { resistance, usable } = self.beyond(lowest);
        let reference = cells.resistances(&self.state, resistance);
        let shift = cells.shift(temperature);
        let resisting = reference.at(&factors);
        let standing = Standing {
            circuit: cells.circuit(self.open_circuit + shift, &resisting, &factors),
            polarisation: self.polarisation,
        };
        let done = self.done(block, triggers);
        let offered = self.offered(block, air);
        let mut sun = self.served(block, &offered, &done);
        let resting = self.asleep(&standing).current * sun.on_pack.asleep;
        let charge = self.charge(&standing, &done, resting * span, sun.on_pack.events);
        let levelling = cells.levelling(block.span, &factors, block.levelling_gain);
        if let Some(LaneFeeds::Pack(feeds)) = &self.prepared.feeds {
            let pack = Chargeable {
                cells,
                state: &self.state,
                levelling: &levelling,
                at: (temperature, factors.held_back),
                resistance: resisting.together(),
                drawn: charge,
            };
            let wanted = self.wanted(block, &done);
            sun = self.sunlit.charge(feeds, block, &offered, &pack, wanted);
        }
        let net = charge - sun.kept;
        let foreseen = cells.after(&self.state, net, &levelling);
        let [quick, slow] = block.relaxing;
        let relaxing = [Lanes::all(quick), Lanes::all(slow)];
        self.polarisation = standing
            .circuit
            .relaxed(&self.polarisation, net / span, relaxing);

        let there = self.state.between(&foreseen, Lanes::all(block.coldest_to));
        let coldest_factors = cells.factors(lowest);
        self.open_circuit = cells.open_circuit(&there, usable, factors.held_back);
        let at_coldest = cells.open_circuit(&there, usable, coldest_factors.held_back);
        let righted = charge * standing.over(self.open_circuit + shift) - sun.kept;
        let end = cells.after(&self.state, righted, &levelling);
        let resisting = reference.at(&coldest_factors);
        // What a charge lifts the voltage by is gone within the hour.
        let polarisation = self.polarisation.of_draws();
        let coldest = Coldest {
            reference,
            there,
            usable,
            warmer_k,
            worst: Standing {
                circuit: cells.circuit(
                    at_coldest + cells.shift(lowest),
                    &resisting,
                    &coldest_factors,
                ),
                polarisation,
            },
        };
        let died = self.find_failures::<T>(block, &coldest, &done);
        if let Some(LaneFeeds::Pack(feeds)) = &self.prepared.feeds {
            feeds.book_loss(
                cells,
                &mut sun,
                (&self.state, &end),
                (temperature, factors.held_back),
            );
        }
        let end = End {
            state: end,
            by_warmth: righted * shift,
            factors,
        };
        self.close(block, (&done, &sun), &end, died);
    }

    /// What the panel offers in a block.
    #[inline(always)]
    fn offered(&mut self, block: &Block, air: &DayAir<L>) -> Offered<L> {
        let (Some(feeds), Some(light)) = (&self.prepared.feeds, &block.light) else {
            return Offered::NONE;
        };
        let first = self.seconds <= 0.0;
        let power = light.power(air.clearer);
        self.sunlit
            .follow_air(feeds, light, air.warmer_k, power, first)
    }

    /// What a store does for a block, where a panel has one; and who needs the pack.
    #[inline(always)]
    fn served(&mut self, block: &Block, offered: &Offered<L>, done: &Done<L>) -> BlockSun<L> {
        let Some(LaneFeeds::Store(store)) = &self.prepared.feeds else {
            return BlockSun::NONE;
        };
        let wanted = self.wanted(block, done);
        let sun = serve(store, self.sunlit.held, block, offered, wanted);
        self.on_pack = sun.on_pack.any_share();
        sun
    }

    /// How things stand.
    #[inline(always)]
    fn today(&self) -> Today<L> {
        Today {
            charge_left: self.prepared.cells.charge_left(&self.state),
            in_store: self.sunlit.held,
            panel: self.sunlit.panel,
            wanted: self.sunlit.wanted,
            from_pack: self.sunlit.from_pack,
            dry_blocks: self.sunlit.dry_blocks,
        }
    }

    /// What the cells are at this temperature under what this camera asks of them.
    #[inline(always)]
    fn beyond(&self, temperature: Temperature<Lanes<L>>) -> Beyond<L> {
        let steps = self.cameras.draw.beyond.at(temperature);
        Beyond {
            resistance: (steps.resistance * self.luck.beyond_resistance).exp(),
            usable: (steps.reach * self.luck.beyond_reach).exp(),
        }
    }

    /// Moves the charge and keeps the books: to the block's end, or to the death in it.
    #[inline(always)]
    fn close(
        &mut self,
        block: &Block,
        (done, sun): (&Done<L>, &BlockSun<L>),
        end: &End<L>,
        died: Lanes<L>,
    ) {
        let none: Charge<Lanes<L>> = Charge::ZERO.everywhere();
        let cells = &self.prepared.cells;
        let held_back = end.factors.held_back;
        let runs_dry = cells.within_reach(&end.state, held_back).below(none).ones();
        let empty = runs_dry * code(Cause::WeakestCellEmpty);
        let cause = Lanes::choose(above_zero(died), died, empty) * self.alive;
        let (stored, lost) = cells.stored(&end.state, block.span, &end.factors, block.ageing_gain);
        let mut part = self.alive;
        let mut after = stored;
        // In most blocks nobody dies.
        if any(cause) {
            let fails_at = self.fails_at(block, end, died);
            let dies = above_zero(cause);
            part = Lanes::choose(dies, fails_at, part);
            after = LaneState::choose(dies, &self.state.between(&end.state, fails_at), &stored);
            let days = (fails_at * block.span.as_seconds() + self.seconds) / 86_400.0;
            note(&mut self.followed.ends[Ending::Camera], cause, days);
            self.cause = self.cause.max(cause);
        }
        self.count(block, done, part);
        self.followed.self_discharge +=
            cells.charge_per_string_volt(&end.state) * self.open_circuit * (lost * part);
        self.by_warmth += end.by_warmth * part;
        if self.prepared.feeds.is_some() {
            let store_empty = &mut self.followed.ends[Ending::Store];
            let began = (store_empty, self.seconds / 86_400.0);
            self.of_store += self.sunlit.take(sun, part, began);
        }
        self.state = LaneState::choose(above_zero(self.alive), &after, &self.state);
        self.alive *= (!above_zero(cause)).ones();
        self.seconds += block.span.as_seconds();
    }

    /// Where in a block a camera that dies in it does, 0 to 1: at its coldest hour, or when its weakest
    /// cell runs dry.
    #[inline(always)]
    fn fails_at(&self, block: &Block, end: &End<L>, died: Lanes<L>) -> Lanes<L> {
        // Asked only where a cell that has something within reach, or nothing, ends below nothing: so something
        // is drawn.
        let reach = |state| {
            let cells = &self.prepared.cells;
            cells.within_reach(state, end.factors.held_back)
        };
        // A block that is colder than the one before may find nothing within reach from its start on.
        let before = reach(&self.state).max(Charge::ZERO.everywhere());
        let dry_at = before / (before - reach(&end.state));
        Lanes::choose(above_zero(died), Lanes::all(block.coldest_from), dry_at)
    }

    /// Counts what the camera did in `part` of a block, and what that wrote on its card.
    #[inline(always)]
    fn count(&mut self, block: &Block, done: &Done<L>, part: Lanes<L>) {
        let seconds = block.span.as_seconds();
        let counts = &mut self.followed.counts;
        counts.alive_s += part * seconds;
        counts.by_day += part * done.by_day;
        counts.by_night += part * done.by_night;
        counts.sessions += part * done.sessions;
        counts.sent += part * done.sessions * done.pictures;
        counts.check_ins += part * done.check_ins;
        if let Some(card) = &self.prepared.scenario.draw.card {
            let each = self.cameras.draw.written_mb;
            self.on_card += part * written_mb(each, done.by_day, done.by_night);
            let full = card.is_full(self.on_card).ones() * self.alive;
            let days = (self.seconds + seconds) / 86_400.0;
            note(&mut self.followed.ends[Ending::CardRoom], full, days);
        }
    }

    #[inline(always)]
    fn finish(self) -> Followed<L> {
        let strings = Lanes::all(self.prepared.strings);
        let mut followed = self.followed;
        followed.charge_left = self.prepared.cells.charge_left(&self.state);
        // Warmth of the air that became electrical energy was put in.
        followed.put_in += self.by_warmth.max(Energy::ZERO.everywhere()) * strings;
        followed.left = self.prepared.cells.energy(&self.state) * strings + self.sunlit.held;
        followed.self_discharge = followed.self_discharge * strings + self.of_store;
        followed.panel = self.sunlit.panel;
        for (cause, code) in followed.causes.iter_mut().zip(self.cause.0) {
            *cause = cause_of(code);
        }
        followed
    }
}
