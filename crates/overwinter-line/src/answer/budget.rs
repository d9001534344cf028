//! What the energy went for.

use overwinter_model::draw::Use;
use overwinter_model::season::Ledger;
use serde::ser::SerializeMap;
use serde::{Serialize, Serializer};

use super::document::Rounded;
use crate::run::use_name;

/// What the energy went for, in the order in which tables show it; a document has a key for each.
#[derive(Clone, Debug, PartialEq)]
pub struct Budget {
    /// Names with watt-hours.
    pub parts: Vec<(&'static str, f64)>,
}

impl Budget {
    /// Out of the books of a season.
    #[must_use]
    pub fn of(ledger: &Ledger) -> Self {
        let uses = Use::ALL.map(|what| (use_name(what), ledger.used.get(what).as_watt_hours()));
        let mut parts = uses.to_vec();
        parts.extend([
            (
                "lost in cells",
                (ledger.resistive + ledger.held_back).as_watt_hours(),
            ),
            ("self-discharge", ledger.self_discharge.as_watt_hours()),
            ("left in cells", ledger.left.as_watt_hours()),
        ]);
        Self { parts }
    }
}

impl Serialize for Budget {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut map = serializer.serialize_map(Some(self.parts.len()))?;
        for (name, wh) in &self.parts {
            map.serialize_entry(&name.replace([' ', '-'], "_"), &Rounded::<5>(*wh))?;
        }
        map.end()
    }
}
