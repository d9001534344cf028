//! What a panel does to the pack that it charges.

use crate::cell::{ChargeLimits, Charger, Charging, Recharge};
use crate::harvest::FromPanel;
use crate::pack::{Pack, PackAt, PackState};
use crate::units::{Charge, Energy, Power, Temperature, Time, mean};

/// What the charge that is kept is worth: at the voltage that the pack has with nothing connected,
/// mean of the step's start and end.
pub(super) fn stored(kept: Charge, at: &PackAt<'_>, start: &PackState, end: &PackState) -> Energy {
    if kept <= Charge::ZERO {
        return Energy::ZERO;
    }
    let voltage = |state| at.string_circuit(state).open_circuit;
    let strings = f64::from(at.pack().parallel());
    kept * mean(voltage(start), voltage(end)) * strings
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
pub(super) fn recharge(pack: &Pack, at: &PackAt<'_>, state: &PackState, offer: &Offer) -> Recharge {
    if offer.panel <= Power::ZERO {
        return Recharge::nothing();
    }
    let offered = offer.panel * offer.span;
    let allowed = |charging: &&Charging| charging.window().allows(offer.warmth);
    let Some(charging) = pack.cell().rechargeable().filter(allowed) else {
        let panel = FromPanel {
            offered,
            kept_out: offered,
            ..FromPanel::default()
        };
        return Recharge {
            panel,
            ..Recharge::nothing()
        };
    };
    let circuit = at.string_circuit(state);
    let charger = Charger {
        charging,
        strings: f64::from(pack.parallel()),
        open_circuit: circuit.open_circuit,
        resistance: circuit.settled_resistance(),
        span: offer.span,
    };
    let fastest = charger.fastest(offer.panel);
    let net = (offer.drawn - charger.kept(fastest)) / offer.span;
    let full = at.after(state, net, offer.span);
    let limits = ChargeLimits {
        climb: at.string_circuit(&full).open_circuit - circuit.open_circuit,
        limit: charging.limit_at(offer.warmth) * f64::from(pack.cells_in_series()),
        room: at.room(state, offer.drawn, offer.span),
    };
    charger.charge(offered, fastest, &limits)
}
