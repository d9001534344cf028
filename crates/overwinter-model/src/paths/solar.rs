//! What a panel brings in a block, by the rules of a store and of a pack that is charged.

use super::EndDays;
use super::block::Block;
use super::cells::{LaneCells, LaneState};
use super::failures::{above_zero, any, note};
use super::light::BlockLight;
use crate::cell::{ChargeLimits, Charger, Charging, Levelling, Recharge};
use crate::harvest::{ChargeWindow, FromPanel, Store, followed_share, nearer};
use crate::lanes::Lanes;
use crate::pack::Pack;
use crate::season::Feeds;
use crate::units::{Charge, Energy, Power, Resistance, Temperature, Time, Voltage};

/// What a panel charges.
pub(super) enum LaneFeeds<'a> {
    Store(&'a Store),
    Pack(LanePack<'a>),
}

/// A pack that may be charged.
pub(super) struct LanePack<'a> {
    charging: &'a Charging,
    lag: Time,
    strings: f64,
    cells_in_series: f64,
}

impl<'a> LaneFeeds<'a> {
    /// Nothing for a primary pack, which takes nothing.
    pub(super) fn of(feeds: &'a Feeds, pack: &'a Pack) -> Option<Self> {
        match feeds {
            Feeds::Store(store) => Some(Self::Store(store)),
            Feeds::Pack { lag } => Some(Self::Pack(LanePack {
                charging: pack.cell().rechargeable()?,
                lag: *lag,
                strings: f64::from(pack.parallel()),
                cells_in_series: f64::from(pack.cells_in_series()),
            })),
        }
    }

    /// Between which temperatures charge is taken.
    fn window(&self) -> ChargeWindow {
        match self {
            Self::Store(store) => store.limit.window(),
            Self::Pack(pack) => pack.charging.window(),
        }
    }

    /// Colder than this a store carries a camera asleep and no more.
    fn weak_below(&self) -> Temperature {
        match self {
            Self::Store(store) => store.weak_below(),
            Self::Pack(_) => Temperature::from_kelvin(f64::NEG_INFINITY),
        }
    }

    fn lag(&self) -> Time {
        match self {
            Self::Store(store) => store.lag,
            Self::Pack(pack) => pack.lag,
        }
    }
}

impl LanePack<'_> {
    /// Books what a block's charge loses: all that was taken but what the charge that is kept is worth,
    /// at the voltage that the pack has with nothing connected, mean of the block's start and end. A
    /// voltage that climbs takes so much more, of what else there is no room for.
    #[inline(always)]
    pub(super) fn book_loss<const L: usize>(
        &self,
        cells: &LaneCells<'_>,
        sun: &mut BlockSun<L>,
        (start, end): (&LaneState<L>, &LaneState<L>),
        at: (Temperature<Lanes<L>>, Lanes<L>),
    ) {
        if !any(sun.kept.si()) {
            return;
        }
        let none: Energy<Lanes<L>> = Energy::ZERO.everywhere();
        let before = cells.voltage(start, at);
        let half_climb = (cells.voltage(end, at) - before) * Lanes::all(0.5);
        let kept = sun.kept * Lanes::all(self.strings);
        let climbed = kept * half_climb.max(Voltage::ZERO.everywhere());
        let more = climbed / Lanes::all(self.charging.efficiency);
        sun.panel.spilled = (sun.panel.spilled - more).max(none);
        let lost = sun.panel.stored() - kept * (before + half_climb);
        // Nothing where nothing is kept, to the last digit: whatever the other lanes do.
        sun.panel.charging_loss = Energy::choose(above_zero(sun.kept.si()), lost, none);
    }
}

/// What paths with a panel hold.
#[derive(Clone, Copy)]
pub(super) struct Sunlit<const L: usize> {
    /// In a store.
    pub(super) held: Energy<Lanes<L>>,
    /// Temperature of what is charged at the block's end.
    warmth: Temperature<Lanes<L>>,
    pub(super) panel: FromPanel<Lanes<L>>,
    /// What the camera has wanted so far.
    pub(super) wanted: Energy<Lanes<L>>,
    /// What of it came from the pack.
    pub(super) from_pack: Energy<Lanes<L>>,
    /// In so many blocks so far a store was empty.
    pub(super) dry_blocks: Lanes<L>,
}

/// What a panel has to give in a block, and how warm what it charges is meanwhile.
pub(super) struct Offered<const L: usize> {
    pub(super) power: Power<Lanes<L>>,
    /// Share of that which comes while it may be charged.
    pub(super) allowed: Lanes<L>,
    /// Share of the block in which a store is too cold for more than a camera asleep.
    pub(super) weak: Lanes<L>,
}

impl<const L: usize> Offered<L> {
    /// No panel.
    pub(super) const NONE: Self = Self {
        power: Power::<Lanes<L>>::NONE,
        allowed: Lanes::all(0.0),
        weak: Lanes::all(0.0),
    };
}

/// What the camera wants in a block.
pub(super) struct Wanted<const L: usize> {
    pub(super) all: Energy<Lanes<L>>,
    /// Of that, what happens while it is not asleep.
    pub(super) events: Energy<Lanes<L>>,
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
        Self {
            asleep: above_zero(self.asleep).ones(),
            events: above_zero(self.events).ones(),
        }
    }
}

/// What a panel and its store do for a block.
pub(super) struct BlockSun<const L: usize> {
    pub(super) on_pack: OnPack<L>,
    /// What is in the store at its end.
    pub(super) held: Energy<Lanes<L>>,
    /// What each string keeps of a charge.
    pub(super) kept: Charge<Lanes<L>>,
    pub(super) self_discharge: Energy<Lanes<L>>,
    pub(super) panel: FromPanel<Lanes<L>>,
    pub(super) wanted: Wanted<L>,
}

impl<const L: usize> BlockSun<L> {
    /// No panel.
    pub(super) const NONE: Self = Self {
        on_pack: OnPack::ALL,
        held: Energy::<Lanes<L>>::NONE,
        kept: Charge::<Lanes<L>>::NONE,
        self_discharge: Energy::<Lanes<L>>::NONE,
        panel: FromPanel::<Lanes<L>>::NONE,
        wanted: Wanted {
            all: Energy::<Lanes<L>>::NONE,
            events: Energy::<Lanes<L>>::NONE,
        },
    };
}

/// A block in which a store holds `held` at first and serves the camera as far as it can. While it is
/// too cold for more than a camera asleep, all that happens is the pack's.
#[inline(always)]
pub(super) fn serve<const L: usize>(
    store: &Store,
    held: Energy<Lanes<L>>,
    block: &Block,
    offered: &Offered<L>,
    wanted: Wanted<L>,
) -> BlockSun<L> {
    let load = wanted.all - wanted.events * offered.weak;
    let hour = store.serve(held, offered.power, offered.allowed, load, block.span);
    let left = hour.unmet_share(load);
    BlockSun {
        on_pack: OnPack {
            asleep: left,
            events: left * (Lanes::all(1.0) - offered.weak) + offered.weak,
        },
        held: hour.held,
        kept: Charge::<Lanes<L>>::NONE,
        self_discharge: hour.self_discharge,
        panel: hour.panel,
        wanted,
    }
}

/// The pack in a block that it may be charged in.
pub(super) struct Chargeable<'a, 'b, const L: usize> {
    pub(super) cells: &'a LaneCells<'b>,
    pub(super) state: &'a LaneState<L>,
    pub(super) levelling: &'a Levelling<Lanes<L>>,
    /// Its temperature, at which its wells hold back so much.
    pub(super) at: (Temperature<Lanes<L>>, Lanes<L>),
    pub(super) resistance: Resistance<Lanes<L>>,
    /// Drawn from each string.
    pub(super) drawn: Charge<Lanes<L>>,
}

impl<const L: usize> Sunlit<L> {
    pub(super) fn start(feeds: Option<&LaneFeeds<'_>>) -> Self {
        let held = match feeds {
            Some(LaneFeeds::Store(store)) => store.capacity,
            _ => Energy::ZERO,
        };
        Self {
            held: held.everywhere(),
            warmth: Temperature::REFERENCE.everywhere(),
            panel: FromPanel::<Lanes<L>>::NONE,
            wanted: Energy::<Lanes<L>>::NONE,
            from_pack: Energy::<Lanes<L>>::NONE,
            dry_blocks: Lanes::all(0.0),
        }
    }

    /// Lets what is charged follow the air over a block, and says what a panel of this `power` offers.
    #[inline(always)]
    pub(super) fn follow_air(
        &mut self,
        feeds: &LaneFeeds<'_>,
        light: &BlockLight,
        warmer_k: Lanes<L>,
        power: Power<Lanes<L>>,
        first: bool,
    ) -> Offered<L> {
        let follows = followed_share(light.piece, feeds.lag());
        let (window, weak_below) = (feeds.window(), feeds.weak_below().everywhere());
        let (mut allowed, mut weak, mut pieces) = (Lanes::all(0.0), Lanes::all(0.0), 0.0);
        let mut starts = first;
        for piece in light.pieces.iter().filter(|piece| piece.air_k > 0.0) {
            let air = Temperature::from_si(warmer_k + piece.air_k);
            let share = if starts { 1.0 } else { follows };
            starts = false;
            self.warmth = nearer(self.warmth, air, share);
            allowed += window.allows(self.warmth).ones() * piece.share;
            weak += self.warmth.below(weak_below).ones();
            pieces += 1.0;
        }
        Offered {
            power,
            allowed,
            weak: weak / libm::fmax(pieces, 1.0),
        }
    }

    /// A block in which the pack itself is charged.
    #[inline(always)]
    pub(super) fn charge(
        &self,
        feeds: &LanePack<'_>,
        block: &Block,
        offered: &Offered<L>,
        pack: &Chargeable<'_, '_, L>,
        wanted: Wanted<L>,
    ) -> BlockSun<L> {
        let offered_energy = offered.power * block.span.everywhere();
        let allowed = offered.power * offered.allowed;
        if !any(allowed.si()) {
            return BlockSun {
                panel: FromPanel {
                    offered: offered_energy,
                    kept_out: offered_energy,
                    ..FromPanel::<Lanes<L>>::NONE
                },
                wanted,
                ..BlockSun::NONE
            };
        }
        let cells = pack.cells;
        let charger = Charger {
            charging: feeds.charging,
            strings: feeds.strings,
            open_circuit: cells.voltage(pack.state, pack.at),
            resistance: pack.resistance,
            span: block.span,
        };
        let fastest = charger.fastest(allowed);
        let net = pack.drawn - charger.kept(fastest);
        let full = cells.after(pack.state, net, pack.levelling);
        let limit = feeds.charging.limit_at(self.warmth);
        let limits = ChargeLimits {
            climb: cells.voltage(&full, pack.at) - charger.open_circuit,
            limit: limit * Lanes::all(feeds.cells_in_series),
            room: cells.room(pack.state, pack.drawn, (pack.levelling, pack.at.1)),
        };
        let Recharge { kept, panel } = charger.charge(offered_energy, fastest, &limits);
        BlockSun {
            kept,
            panel,
            wanted,
            ..BlockSun::NONE
        }
    }

    /// Takes `part` of a block in each lane, and gives what a store lost by lying there.
    #[inline(always)]
    pub(super) fn take(
        &mut self,
        sun: &BlockSun<L>,
        part: Lanes<L>,
        (store_empty, days): (&mut EndDays<L>, f64),
    ) -> Energy<Lanes<L>> {
        self.panel.add(&sun.panel, part);
        let OnPack { asleep, events } = sun.on_pack;
        let Wanted {
            all: wanted,
            events: wanted_events,
        } = sun.wanted;
        self.wanted += wanted * part;
        self.from_pack += (wanted * asleep + wanted_events * (events - asleep)) * part;
        self.held += (sun.held - self.held) * part;
        let empty = above_zero(asleep).ones() * part;
        self.dry_blocks += empty;
        note(store_empty, empty, days);
        sun.self_discharge * part
    }
}
