//! What the energy went for.

use overwinter_model::draw::Use;
use overwinter_model::season::Ledger;

use crate::run::use_name;

/// What the energy went for, in the order of the table's columns.
pub fn budget(ledger: &Ledger) -> Vec<(&'static str, f64)> {
    let uses = Use::ALL.map(|what| (use_name(what), ledger.used.get(what).as_watt_hours()));
    let mut budget = uses.to_vec();
    budget.extend([
        (
            "lost in cells",
            (ledger.resistive + ledger.held_back).as_watt_hours(),
        ),
        ("self-discharge", ledger.self_discharge.as_watt_hours()),
        ("left in cells", ledger.left.as_watt_hours()),
    ]);
    budget
}
