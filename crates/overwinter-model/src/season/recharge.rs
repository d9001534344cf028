//! What a panel does to the pack that it charges.

use super::ledger::FromPanel;
use crate::arithmetic::min;
use crate::cell::Charging;
use crate::pack::{Pack, PackAt, PackState};
use crate::units::{Charge, Current, Energy, Power, Resistance, Temperature, Time, Voltage, mean};

/// What a panel brings to the pack over one step.
#[derive(Clone, Copy, Default)]
pub(super) struct Recharge {
    /// Charge that each string keeps.
    pub(super) kept: Charge,
    /// The step's books, but for the charging loss: what the charge that is kept is worth is known when
    /// the step's end is.
    pub(super) panel: FromPanel,
}

impl Recharge {
    /// Energy that went into the pack.
    pub(super) fn taken(&self) -> Energy {
        self.panel.stored()
    }

    /// What the charge that is kept is worth: at the voltage that the pack has with nothing connected,
    /// mean of the step's start and end.
    pub(super) fn stored(&self, at: &PackAt<'_>, start: &PackState, end: &PackState) -> Energy {
        if self.kept <= Charge::ZERO {
            return Energy::ZERO;
        }
        let voltage = |state| at.string_circuit(state).open_circuit;
        let strings = f64::from(at.pack().parallel());
        self.kept * mean(voltage(start), voltage(end)) * strings
    }
}

/// A step of a pack that is charged: how warm it is where that decides whether it may be, the
/// panel's power, and what each string gives meanwhile.
pub(super) struct Offer {
    pub(super) warmth: Temperature,
    pub(super) panel: Power,
    pub(super) drawn: Charge,
    pub(super) span: Time,
}

/// Charges a pack for a step, as [`crate::cell::CellAt::charged`] does in many: at the panel's power
/// up to the largest current, then at the limit's voltage, and never more than there is room for.
///
/// The voltage is taken to climb evenly with the charge over the step, and the slow resistance to be
/// settled, which it is within minutes. The cells' age goes on: what the sun tops up by day is no
/// full charge that would begin it anew.
pub(super) fn recharge(pack: &Pack, at: &PackAt<'_>, state: &PackState, offer: &Offer) -> Recharge {
    if offer.panel <= Power::ZERO {
        return Recharge::default();
    }
    let offered = offer.panel * offer.span;
    let mut panel = FromPanel {
        offered,
        kept_out: offered,
        ..FromPanel::default()
    };
    let Some(charging) = allowed(pack, offer.warmth) else {
        return Recharge {
            panel,
            ..Recharge::default()
        };
    };
    let strings = f64::from(pack.parallel());
    let string = String::of(at, state);
    let fastest = string.current(offer.panel / strings).min(charging.largest);
    let energy = |current: Current| string.voltage(current) * current * offer.span * strings;
    let taken_fastest = energy(fastest).min(offered);
    let kept = |current: Current| current * offer.span * charging.efficiency;

    let full = at.after(
        state,
        (offer.drawn - kept(fastest)) / offer.span,
        offer.span,
    );
    let climb = at.string_circuit(&full).open_circuit - string.open_circuit;
    let limit = charging.limit_at(offer.warmth) * f64::from(pack.cells_in_series());
    let below_limit = (limit - string.open_circuit).max(Voltage::ZERO);
    // The voltage at the end is that at the start, and what the whole current adds, in proportion.
    let rise = string.resistance * fastest + climb.max(Voltage::ZERO);
    let by_voltage = if rise > below_limit {
        below_limit / rise
    } else {
        1.0
    };
    let room = at.room(state, offer.drawn, offer.span);
    let by_room = if kept(fastest) > room {
        room / kept(fastest)
    } else {
        1.0
    };
    let current = fastest * min(by_voltage, by_room);
    let taken = energy(current).min(taken_fastest);
    panel.kept_out = offered - taken_fastest;
    panel.spilled = taken_fastest - taken;
    Recharge {
        kept: kept(current),
        panel,
    }
}

/// How the pack is charged, if it may be when it is so warm.
fn allowed(pack: &Pack, warmth: Temperature) -> Option<&Charging> {
    let charging = pack.cell().rechargeable()?;
    (warmth >= charging.coldest && warmth <= charging.warmest).then_some(charging)
}

/// A string as a steady charging current sees it.
struct String {
    open_circuit: Voltage,
    resistance: Resistance,
}

impl String {
    fn of(at: &PackAt<'_>, state: &PackState) -> Self {
        let circuit = at.string_circuit(state);
        Self {
            open_circuit: circuit.open_circuit,
            resistance: circuit.ohmic + circuit.slow,
        }
    }

    fn voltage(&self, current: Current) -> Voltage {
        self.open_circuit + self.resistance * current
    }

    /// The current that takes up `power`: `I (U + R I) = P`.
    fn current(&self, power: Power) -> Current {
        let (u, r) = (self.open_circuit.as_volts(), self.resistance.as_ohms());
        let p = power.as_watts();
        Current::from_amperes(2.0 * p / (u + libm::sqrt(u * u + 4.0 * r * p)))
    }
}
