//! A store that a panel fills and a load empties, hour by hour.

use super::books::FromPanel;
use crate::number::{Number, part_of};
use crate::{Energy, Power, Temperature, Time};

/// When a store takes charge, and how fast.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct ChargeLimit {
    /// None below this temperature of the pack.
    pub coldest: Option<Temperature>,
    /// None above this temperature of the pack.
    pub warmest: Option<Temperature>,
    /// Never more than this, before losses.
    pub highest: Option<Power>,
}

/// Temperatures between which something may be charged.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct ChargeWindow {
    pub(crate) coldest: Temperature,
    pub(crate) warmest: Temperature,
}

impl ChargeWindow {
    /// Whether what is so warm takes charge.
    #[cfg_attr(not(target_os = "none"), inline(always))]
    pub(crate) fn allows<N: Number>(&self, warmth: Temperature<N>) -> N::Mask {
        !(warmth.below(self.coldest.everywhere()) | self.warmest.everywhere().below(warmth))
    }
}

// Limits that are not there lie at infinity: without a branch, which lanes could not take.
impl ChargeLimit {
    /// Between which temperatures it takes charge.
    pub(crate) fn window(&self) -> ChargeWindow {
        let (cold, warm) = (f64::NEG_INFINITY, f64::INFINITY);
        ChargeWindow {
            coldest: self.coldest.unwrap_or(Temperature::from_kelvin(cold)),
            warmest: self.warmest.unwrap_or(Temperature::from_kelvin(warm)),
        }
    }

    /// What goes in of a panel's power at most, before the losses of charging.
    #[cfg_attr(not(target_os = "none"), inline(always))]
    fn fastest<N: Number>(&self, panel: Power<N>) -> Power<N> {
        let highest = self.highest.unwrap_or(Power::from_watts(f64::INFINITY));
        panel.min(highest.everywhere())
    }
}

/// A store of energy, without the voltages of its cells.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct Store {
    /// What it holds when full.
    pub capacity: Energy,
    /// What charging keeps of what comes in, 0 to 1.
    #[cfg_attr(feature = "serde", serde(with = "crate::decimal"))]
    pub charge_efficiency: f64,
    /// When it takes charge.
    pub limit: ChargeLimit,
    /// Time constant with which its temperature follows the air's; zero for at once.
    pub lag: Time,
    /// Share of its charge that it loses in 30 days, 0 to 1.
    #[cfg_attr(feature = "serde", serde(with = "crate::decimal"))]
    pub self_discharge_per_month: f64,
    /// Colder than this its cells carry what a camera draws asleep and nothing that happens; `None`
    /// if they carry everything however cold they are.
    pub weak_below: Option<Temperature>,
}

/// What a store holds at a moment, and how warm it is.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct StoreState {
    /// Energy in it.
    pub held: Energy,
    /// Temperature of the pack.
    pub pack: Temperature,
}

/// Where the energy of one step went. What the store gained is
/// `panel.stored() - self_discharge - drawn`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StoreHour<N = f64> {
    /// What the panel brought.
    pub panel: FromPanel<N>,
    /// Lost by lying there.
    pub self_discharge: Energy<N>,
    /// What the load got.
    pub drawn: Energy<N>,
    /// What the load wanted and did not get.
    pub unmet: Energy<N>,
    /// What is in the store at the end.
    pub held: Energy<N>,
}

impl<N: Number> StoreHour<N> {
    /// Share of what was `wanted` of the store that it did not give, 0 to 1.
    #[cfg_attr(not(target_os = "none"), inline(always))]
    #[must_use]
    pub fn unmet_share(&self, wanted: Energy<N>) -> N {
        part_of(self.unmet.si(), wanted.si())
    }
}

impl Store {
    /// Full, and as warm as the air.
    #[must_use]
    pub const fn full(&self, air: Temperature) -> StoreState {
        StoreState {
            held: self.capacity,
            pack: air,
        }
    }

    /// Moves `state` on by `span` with steady panel, load and air, and says where the energy went.
    ///
    /// Charge and load are taken together over the span: in it the load is served by the panel
    /// first, with the losses of charging, and what the store cannot take beyond that is spilled.
    /// While charging is locked out the panel serves nothing.
    pub fn step(
        &self,
        state: &mut StoreState,
        panel: Power,
        load: Power,
        air: Temperature,
        span: Time,
    ) -> StoreHour {
        state.pack = self.followed(state.pack, air, span);
        let allowed = self.limit.window().allows(state.pack);
        let allowed = if allowed { 1.0 } else { 0.0 };
        let wanted = load * span;
        let hour = self.serve(state.held, panel, allowed, wanted, span);
        state.held = hour.held;
        hour
    }

    /// A step in which the store holds `held` at first, is `wanted` for so much, and takes charge in the
    /// share `allowed` of the panel's time: the rule of [`Store::step`].
    #[cfg_attr(not(target_os = "none"), inline(always))]
    #[must_use]
    pub fn serve<N: Number>(
        &self,
        held: Energy<N>,
        panel: Power<N>,
        allowed: N,
        wanted: Energy<N>,
        span: Time,
    ) -> StoreHour<N> {
        let (none, capacity) = (Energy::ZERO.everywhere(), self.capacity.everywhere());
        let (efficiency, time) = (N::from(self.charge_efficiency), span.everywhere());
        let taken = self.limit.fastest(panel) * allowed;
        let charged = taken * efficiency * time;
        let self_discharge = held * N::from(self.share_lost(span));
        let before_limits = held - self_discharge + charged - wanted;
        let beyond = (before_limits - capacity).max(none);
        // What is not taken for want of room loses nothing in charging.
        let spilled = if self.charge_efficiency > 0.0 {
            beyond / efficiency
        } else {
            beyond
        };
        let unmet = (-before_limits).max(none);
        StoreHour {
            panel: FromPanel {
                offered: panel * time,
                kept_out: (panel - taken) * time,
                spilled,
                charging_loss: taken * time - charged - (spilled - beyond),
            },
            self_discharge,
            drawn: wanted - unmet,
            unmet,
            held: before_limits.max(none).min(capacity),
        }
    }

    /// Whether it is too cold for more than a camera asleep, after `span` in this air.
    #[must_use]
    pub fn is_weak(&self, state: &StoreState, air: Temperature, span: Time) -> bool {
        self.is_weak_at(self.followed(state.pack, air, span))
    }

    /// Whether a store that is so warm carries a camera asleep and no more.
    #[cfg_attr(not(target_os = "none"), inline(always))]
    pub(crate) fn is_weak_at<N: Number>(&self, pack: Temperature<N>) -> N::Mask {
        pack.below(self.weak_below().everywhere())
    }

    /// The temperature below which it is weak: none where it never is.
    pub(crate) fn weak_below(&self) -> Temperature {
        let never = Temperature::from_kelvin(f64::NEG_INFINITY);
        self.weak_below.unwrap_or(never)
    }

    fn followed(&self, pack: Temperature, air: Temperature, span: Time) -> Temperature {
        followed(pack, air, span, self.lag)
    }

    fn share_lost(&self, span: Time) -> f64 {
        if self.self_discharge_per_month <= 0.0 {
            return 0.0;
        }
        let months = span.as_days() / 30.0;
        1.0 - libm::pow(1.0 - self.self_discharge_per_month, months)
    }
}

/// A pack's temperature after `span` in this air, which it follows with a time constant `lag`.
///
/// ```text
/// T' = T + (1 − exp (−span / lag)) (air − T)
/// ```
pub(crate) fn followed(pack: Temperature, air: Temperature, span: Time, lag: Time) -> Temperature {
    if lag <= Time::ZERO {
        return air;
    }
    nearer(pack, air, followed_share(span, lag))
}

/// Share of the way to the air's temperature that a pack goes in `span`: all of it without a lag.
pub(crate) fn followed_share(span: Time, lag: Time) -> f64 {
    if lag <= Time::ZERO {
        return 1.0;
    }
    1.0 - libm::exp(-(span / lag))
}

/// A pack's temperature after it went such a share of the way to the air's.
#[cfg_attr(not(target_os = "none"), inline(always))]
pub(crate) fn nearer<N: Number>(
    pack: Temperature<N>,
    air: Temperature<N>,
    share: f64,
) -> Temperature<N> {
    pack.warmer(N::from(share) * air.above(pack))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const HOUR: Time = Time::from_hours(1.0);

    fn store(capacity_wh: f64) -> Store {
        Store {
            capacity: Energy::from_watt_hours(capacity_wh),
            charge_efficiency: 0.85,
            limit: ChargeLimit {
                coldest: Some(Temperature::from_celsius(0.0)),
                warmest: Some(Temperature::from_celsius(45.0)),
                highest: Some(Power::from_watts(2.0)),
            },
            lag: Time::from_hours(6.0),
            self_discharge_per_month: 0.05,
            weak_below: None,
        }
    }

    #[test]
    fn a_pack_in_frost_takes_no_charge() {
        let store = store(10.0);
        let frost = Temperature::from_celsius(-1.0);
        let mut state = store.full(frost);
        let hour = store.step(
            &mut state,
            Power::from_watts(1.0),
            Power::from_watts(0.5),
            frost,
            HOUR,
        );
        assert_eq!(hour.panel.kept_out, hour.panel.offered);
        assert!(state.held < store.capacity);
    }

    #[test]
    fn a_pack_in_heat_takes_no_charge() {
        let store = store(10.0);
        let heat = Temperature::from_celsius(46.0);
        let mut state = store.full(heat);
        let panel = Power::from_watts(1.0);
        let hour = store.step(&mut state, panel, Power::from_watts(0.5), heat, HOUR);
        assert_eq!(hour.panel.kept_out, hour.panel.offered);
    }

    #[test]
    fn a_warm_pack_takes_charge_into_the_first_frost() {
        let store = store(10.0);
        let mut state = store.full(Temperature::from_celsius(4.0));
        state.held = Energy::ZERO;
        let frost = Temperature::from_celsius(-6.0);
        let panel = Power::from_watts(1.0);
        let locked: std::vec::Vec<bool> = (0..6)
            .map(|_| store.step(&mut state, panel, Power::ZERO, frost, HOUR))
            .map(|hour| hour.panel.kept_out > Energy::ZERO)
            .collect();
        // 4 exp(-t / 6 h) - 6 (1 - exp(-t / 6 h)) passes zero after 6 h ln(10 / 6) = 3.06 h.
        assert_eq!(locked, [false, false, false, true, true, true]);
    }

    proptest! {
        #[test]
        fn no_energy_comes_or_goes_unbooked(
            capacity in 0.1..50.0_f64,
            hours in prop::collection::vec((0.0..10.0_f64, 0.0..2.0_f64, -20.0..20.0_f64), 1..200),
        ) {
            let store = store(capacity);
            let mut state = store.full(Temperature::REFERENCE);
            for (panel, load, air) in hours {
                let before = state.held;
                let air = Temperature::from_celsius(air);
                let (panel, load) = (Power::from_watts(panel), Power::from_watts(load));
                let h = store.step(&mut state, panel, load, air, HOUR);
                let gained = h.panel.stored() - h.self_discharge - h.drawn;
                prop_assert!((state.held - before - gained).as_joules().abs() < 1e-6);
                prop_assert!((h.drawn + h.unmet - load * HOUR).as_joules().abs() < 1e-6);
                prop_assert!((Energy::ZERO..=store.capacity).contains(&state.held));
            }
        }

        #[test]
        fn a_bigger_store_or_panel_leaves_no_more_unmet(
            capacity in 0.1..20.0_f64, more_store in 0.0..20.0_f64, more_panel in 1.0..3.0_f64,
            hours in prop::collection::vec((0.0..3.0_f64, -10.0..10.0_f64), 1..200),
        ) {
            let unmet = |capacity: f64, panel_factor: f64| {
                let store = Store { self_discharge_per_month: 0.0, ..store(capacity) };
                let mut state = store.full(Temperature::REFERENCE);
                let load = Power::from_watts(0.5);
                hours.iter().fold(Energy::ZERO, |sum, (panel, air)| {
                    let air = Temperature::from_celsius(*air);
                    let panel = Power::from_watts(panel * panel_factor);
                    sum + store.step(&mut state, panel, load, air, HOUR).unmet
                })
            };
            let base = unmet(capacity, 1.0).as_joules();
            prop_assert!(unmet(capacity + more_store, 1.0).as_joules() <= base + 1e-6);
            prop_assert!(unmet(capacity, more_panel).as_joules() <= base + 1e-6);
        }
    }
}
