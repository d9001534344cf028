//! What a panel brings in a block: the same equations as [`crate::season`]'s, on several paths at
//! once.

use super::EndDays;
use super::block::Block;
use super::cells::{LaneCells, LaneState, Levelling};
use super::light::BlockLight;
use super::panel_books::PanelBooks;
use super::store::LaneStore;
use crate::lanes::{Lanes, Root};
use crate::pack::Pack;
use crate::season::Feeds;
use crate::units::{Temperature, Time};

/// What a panel charges, with all that paths and days share worked out.
pub(super) enum LaneFeeds {
    Store(LaneStore),
    Pack(LanePack),
}

/// A pack that may be charged.
pub(super) struct LanePack {
    efficiency: f64,
    coldest_k: f64,
    warmest_k: f64,
    limit_v: f64,
    limit_v_per_k: f64,
    largest_a: f64,
    lag: Time,
    strings: f64,
}

impl LaneFeeds {
    /// Nothing for a primary pack, which takes nothing.
    pub(super) fn of(feeds: &Feeds, pack: &Pack) -> Option<Self> {
        match feeds {
            Feeds::Store(store) => Some(Self::Store(LaneStore::of(store))),
            Feeds::Pack { lag } => {
                let charging = pack.cell().rechargeable()?;
                let cells = f64::from(pack.cells_in_series());
                Some(Self::Pack(LanePack {
                    efficiency: charging.efficiency,
                    coldest_k: charging.coldest.as_kelvin(),
                    warmest_k: charging.warmest.as_kelvin(),
                    limit_v: charging.limit.as_volts() * cells,
                    limit_v_per_k: charging.limit_per_k * cells,
                    largest_a: charging.largest.as_amperes(),
                    lag: *lag,
                    strings: f64::from(pack.parallel()),
                }))
            }
        }
    }

    /// Between which temperatures charge is taken, kelvin.
    fn window_k(&self) -> (f64, f64) {
        match self {
            Self::Store(store) => (store.coldest_k, store.warmest_k),
            Self::Pack(pack) => (pack.coldest_k, pack.warmest_k),
        }
    }

    /// Colder than this a store carries a camera asleep and no more, kelvin.
    fn weak_below_k(&self) -> f64 {
        match self {
            Self::Store(store) => store.weak_below_k,
            Self::Pack(_) => 0.0,
        }
    }

    fn lag(&self) -> Time {
        match self {
            Self::Store(store) => store.lag,
            Self::Pack(pack) => pack.lag,
        }
    }
}

impl LanePack {
    /// Books what a block's charge loses: all that was taken but what the charge that is kept is worth,
    /// at the voltage that the pack has with nothing connected, mean of the block's start and end. A
    /// voltage that climbs takes so much more, of what else there is no room for.
    #[inline(always)]
    pub(super) fn book_loss<const L: usize>(
        &self,
        cells: &LaneCells<'_>,
        sun: &mut BlockSun<L>,
        (start, end): (&LaneState<L>, &LaneState<L>),
        kelvin: Lanes<L>,
    ) {
        if !sun.kept.any() {
            return;
        }
        let volts = |state| cells.open_circuit(state, Lanes::all(1.0)) + cells.shift(kelvin);
        let before = volts(start);
        let half_climb = (volts(end) - before) * 0.5;
        let kept = sun.kept * self.strings;
        let more_j = kept * half_climb.max(Lanes::all(0.0)) / self.efficiency;
        sun.books.spilled_j = (sun.books.spilled_j - more_j).max(Lanes::all(0.0));
        let lost_j = sun.books.stored_j() - kept * (before + half_climb);
        // Nothing where nothing is kept, to the last digit: whatever the other lanes do.
        sun.books.charging_loss_j = sun.kept.choose(lost_j, Lanes::all(0.0));
    }
}

/// What paths with a panel hold.
#[derive(Clone, Copy)]
pub(super) struct Sunlit<const L: usize> {
    /// In a store, joules.
    pub(super) held_j: Lanes<L>,
    /// Temperature of what is charged at the block's end, kelvin.
    warm_k: Lanes<L>,
    pub(super) books: PanelBooks<L>,
    /// When a store was empty for the first time, days.
    pub(super) store_empty: EndDays<L>,
    /// What the camera has wanted so far, joules.
    pub(super) wanted_j: Lanes<L>,
    /// What of it came from the pack, joules.
    pub(super) from_pack_j: Lanes<L>,
    /// In so many blocks so far a store was empty.
    pub(super) dry_blocks: Lanes<L>,
}

/// What a panel has to give in a block, and how warm what it charges is meanwhile.
pub(super) struct Offered<const L: usize> {
    pub(super) watts: Lanes<L>,
    /// Share of that which comes while it may be charged.
    pub(super) allowed: Lanes<L>,
    /// Share of the block in which a store is too cold for more than a camera asleep.
    pub(super) weak: Lanes<L>,
}

impl<const L: usize> Offered<L> {
    /// No panel.
    pub(super) const NONE: Self = Self {
        watts: Lanes::all(0.0),
        allowed: Lanes::all(0.0),
        weak: Lanes::all(0.0),
    };
}

/// What the camera wants in a block, joules.
pub(super) struct Wanted<const L: usize> {
    pub(super) all_j: Lanes<L>,
    /// Of that, what happens while it is not asleep.
    pub(super) events_j: Lanes<L>,
}

/// Shares of a block's draw that are left to the pack.
#[derive(Clone, Copy)]
pub(super) struct OnPack<const L: usize> {
    pub(super) asleep: Lanes<L>,
    pub(super) events: Lanes<L>,
}

impl<const L: usize> OnPack<L> {
    pub(super) const ALL: Self = Self {
        asleep: Lanes::all(1.0),
        events: Lanes::all(1.0),
    };

    /// 1 in each lane in which the pack has a share, else 0.
    #[inline(always)]
    pub(super) fn any_share(&self) -> Self {
        let zero = Lanes::all(0.0);
        Self {
            asleep: zero.below(self.asleep),
            events: zero.below(self.events),
        }
    }
}

/// What a panel and its store do for a block.
pub(super) struct BlockSun<const L: usize> {
    pub(super) on_pack: OnPack<L>,
    /// What is in the store at its end.
    pub(super) held_j: Lanes<L>,
    /// What each string keeps of a charge, coulombs.
    pub(super) kept: Lanes<L>,
    pub(super) self_discharge_j: Lanes<L>,
    pub(super) books: PanelBooks<L>,
    pub(super) wanted: Wanted<L>,
}

impl<const L: usize> BlockSun<L> {
    /// No panel.
    pub(super) const NONE: Self = Self {
        on_pack: OnPack::ALL,
        held_j: Lanes::all(0.0),
        kept: Lanes::all(0.0),
        self_discharge_j: Lanes::all(0.0),
        books: PanelBooks::NOTHING,
        wanted: Wanted {
            all_j: Lanes::all(0.0),
            events_j: Lanes::all(0.0),
        },
    };
}

/// The pack in a block that it may be charged in.
pub(super) struct Chargeable<'a, 'b, const L: usize> {
    pub(super) cells: &'a LaneCells<'b>,
    pub(super) state: &'a LaneState<L>,
    /// At the block's end without a charge.
    pub(super) uncharged: &'a LaneState<L>,
    pub(super) levelling: &'a Levelling<L>,
    pub(super) kelvin: Lanes<L>,
    pub(super) ohms: Lanes<L>,
    /// Drawn from each string, coulombs.
    pub(super) drawn: Lanes<L>,
}

impl<const L: usize> Sunlit<L> {
    pub(super) fn start(feeds: Option<&LaneFeeds>) -> Self {
        let held_j = match feeds {
            Some(LaneFeeds::Store(store)) => store.capacity_j,
            _ => 0.0,
        };
        Self {
            held_j: Lanes::all(held_j),
            warm_k: Lanes::all(Temperature::REFERENCE.as_kelvin()),
            books: PanelBooks::NOTHING,
            store_empty: Lanes::all(f64::INFINITY),
            wanted_j: Lanes::all(0.0),
            from_pack_j: Lanes::all(0.0),
            dry_blocks: Lanes::all(0.0),
        }
    }

    /// Lets what is charged follow the air over a block, and says what a panel of these `watts` offers.
    #[inline(always)]
    pub(super) fn follow_air(
        &mut self,
        feeds: &LaneFeeds,
        light: &BlockLight,
        warmer_k: Lanes<L>,
        watts: Lanes<L>,
        first: bool,
    ) -> Offered<L> {
        let (lag, (coldest_k, warmest_k)) = (feeds.lag(), feeds.window_k());
        let weak_below_k = Lanes::all(feeds.weak_below_k());
        let follows = if lag > Time::ZERO {
            1.0 - libm::exp(-(light.piece / lag))
        } else {
            1.0
        };
        let (mut allowed, mut weak, mut pieces) = (Lanes::all(0.0), Lanes::all(0.0), 0.0);
        let mut starts = first;
        for piece in light.pieces.iter().filter(|piece| piece.air_k > 0.0) {
            let air_k = warmer_k + piece.air_k;
            let share = if starts { 1.0 } else { follows };
            starts = false;
            self.warm_k += (air_k - self.warm_k) * share;
            let cold = self.warm_k.below(Lanes::all(coldest_k));
            let warm = Lanes::all(warmest_k).below(self.warm_k);
            allowed += (Lanes::all(1.0) - cold.max(warm)) * piece.share;
            weak += self.warm_k.below(weak_below_k);
            pieces += 1.0;
        }
        Offered {
            watts,
            allowed,
            weak: weak / libm::fmax(pieces, 1.0),
        }
    }

    /// A block in which the pack itself is charged: as [`crate::season`]'s step.
    #[inline(always)]
    pub(super) fn charge<R: Root>(
        &self,
        feeds: &LanePack,
        block: &Block,
        offered: &Offered<L>,
        pack: &Chargeable<'_, '_, L>,
        wanted: Wanted<L>,
    ) -> BlockSun<L> {
        let (zero, one) = (Lanes::all(0.0), Lanes::all(1.0));
        let seconds = block.span.as_seconds();
        let offered_j = offered.watts * seconds;
        let allowed_w = offered.watts * offered.allowed;
        if !allowed_w.any() {
            return BlockSun {
                books: PanelBooks {
                    offered_j,
                    kept_out_j: offered_j,
                    ..PanelBooks::NOTHING
                },
                wanted,
                ..BlockSun::NONE
            };
        }
        let shift = pack.cells.shift(pack.kelvin);
        let volts = |state: &LaneState<L>| pack.cells.open_circuit(state, one) + shift;
        let inner = volts(pack.state).max(Lanes::all(super::pulses::LEAST_VOLTS));

        // I (U + R I) = P for each string.
        let string_w = allowed_w / feeds.strings;
        let root = (inner * inner + pack.ohms * string_w * 4.0).sqrt::<R>();
        let fastest = (string_w * 2.0 / (inner + root)).min(Lanes::all(feeds.largest_a));
        let joules =
            |amperes: Lanes<L>| (inner + pack.ohms * amperes) * amperes * (seconds * feeds.strings);
        let kept = |amperes: Lanes<L>| amperes * (feeds.efficiency * seconds);

        let net = pack.drawn - kept(fastest);
        let full = pack.cells.after(pack.state, net, pack.levelling);
        let climb = (volts(&full) - inner).max(zero);
        let above_reference = self.warm_k - Temperature::REFERENCE.as_kelvin();
        let limit = above_reference * feeds.limit_v_per_k + feeds.limit_v;
        let rise = (pack.ohms * fastest + climb).max(Lanes::all(f64::MIN_POSITIVE));
        let by_voltage = ((limit - inner).max(zero) / rise).min(one);
        let room = pack.cells.room(pack.uncharged, pack.levelling);
        let by_room = (room / kept(fastest).max(Lanes::all(f64::MIN_POSITIVE))).min(one);
        let fastest_j = joules(fastest).min(offered_j);
        // The voltage climbs behind a current that was worked out at its start: a cell that loses next
        // to nothing must not keep more than it is given.
        let worth_j = kept(fastest) * (inner + climb * 0.5) * feeds.strings;
        let by_energy = (fastest_j / worth_j.max(Lanes::all(f64::MIN_POSITIVE))).min(one);
        let amperes = fastest * by_voltage.min(by_room).min(by_energy);

        let taken_j = joules(amperes).min(fastest_j);
        BlockSun {
            kept: kept(amperes),
            books: PanelBooks {
                offered_j,
                kept_out_j: offered_j - fastest_j,
                spilled_j: fastest_j - taken_j,
                // Known at the block's end: see [`LanePack::book_loss`].
                charging_loss_j: zero,
            },
            wanted,
            ..BlockSun::NONE
        }
    }

    /// Takes `part` of a block in each lane, and gives what a store lost by lying there.
    #[inline(always)]
    pub(super) fn take(&mut self, sun: &BlockSun<L>, part: Lanes<L>, days: f64) -> Lanes<L> {
        self.books.add(&sun.books, part);
        let OnPack { asleep, events } = sun.on_pack;
        let Wanted { all_j, events_j } = sun.wanted;
        self.wanted_j += all_j * part;
        self.from_pack_j += (all_j * asleep + events_j * (events - asleep)) * part;
        self.held_j += (sun.held_j - self.held_j) * part;
        let empty = Lanes::all(0.0).below(asleep) * part;
        self.dry_blocks += empty;
        super::failures::note(&mut self.store_empty, empty, days);
        sun.self_discharge_j * part
    }
}
