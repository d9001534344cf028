//! The cells that can be named in a line file.
//!
//! One file per cell, written by the fit from the published points of the note of the same name in
//! `datasheets-notes/`; what a cell is called, weighs and is rated at stands here.

mod alkaline_aa;
mod alkaline_c;
mod alkaline_d;
mod lead_acid_12v_4_5ah;
mod lead_acid_12v_7_2ah;
mod lead_acid_6v_4_5ah;
mod lfp_18650;
mod lithium_aa;
mod lithium_ion_18650;
mod nimh_aa;

use super::Cell;
use crate::units::Charge;

/// A cell with a name.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CatalogueCell {
    /// As in a line file and on the command line.
    pub name: &'static str,
    /// For a person.
    pub title: &'static str,
    /// Size or code by the open standards, for example `LR6`.
    pub size: &'static str,
    /// Its parameters.
    pub cell: Cell,
    /// Nominal capacity: what rates such as "0.5 It" and shares "of the rated" refer to. For
    /// primary cells, which carry no rating, the capacity at a light load.
    pub rated: Charge,
    /// Mass in grams.
    pub mass_g: f64,
}

/// A cell where any will do.
pub(crate) const PLAIN: Cell = alkaline_aa::CELL;

/// Every cell, primary ones first.
pub static CATALOGUE: &[CatalogueCell] = &[
    CatalogueCell {
        name: "alkaline-aa",
        title: "alkaline AA (LR6)",
        size: "LR6",
        cell: alkaline_aa::CELL,
        rated: Charge::from_milliampere_hours(2700.0),
        mass_g: 24.0,
    },
    CatalogueCell {
        name: "alkaline-c",
        title: "alkaline C (LR14)",
        size: "LR14",
        cell: alkaline_c::CELL,
        rated: Charge::from_milliampere_hours(7000.0),
        mass_g: 70.0,
    },
    CatalogueCell {
        name: "alkaline-d",
        title: "alkaline D (LR20)",
        size: "LR20",
        cell: alkaline_d::CELL,
        rated: Charge::from_milliampere_hours(15_000.0),
        mass_g: 140.0,
    },
    CatalogueCell {
        name: "lithium-aa",
        title: "lithium iron disulfide AA (FR6)",
        size: "FR6",
        cell: lithium_aa::CELL,
        rated: Charge::from_milliampere_hours(3000.0),
        mass_g: 15.0,
    },
    CatalogueCell {
        name: "nimh-aa",
        title: "nickel-metal hydride AA (HR6), low self-discharge",
        size: "HR6",
        cell: nimh_aa::CELL,
        rated: Charge::from_milliampere_hours(2000.0),
        mass_g: 26.0,
    },
    CatalogueCell {
        name: "lfp-18650",
        title: "lithium iron phosphate 18650, 1.5 Ah",
        size: "18650",
        cell: lfp_18650::CELL,
        rated: Charge::from_milliampere_hours(1500.0),
        mass_g: 41.0,
    },
    CatalogueCell {
        name: "lithium-ion-18650",
        title: "lithium-ion 18650, 3 Ah",
        size: "18650",
        cell: lithium_ion_18650::CELL,
        rated: Charge::from_milliampere_hours(3000.0),
        mass_g: 47.0,
    },
    CatalogueCell {
        name: "lead-acid-6v-4.5ah",
        title: "sealed lead-acid 6 V, 4.5 Ah",
        size: "6 V 4.5 Ah",
        cell: lead_acid_6v_4_5ah::CELL,
        rated: Charge::from_milliampere_hours(4500.0),
        mass_g: 800.0,
    },
    CatalogueCell {
        name: "lead-acid-12v-4.5ah",
        title: "sealed lead-acid 12 V, 4.5 Ah",
        size: "12 V 4.5 Ah",
        cell: lead_acid_12v_4_5ah::CELL,
        rated: Charge::from_milliampere_hours(4500.0),
        mass_g: 1600.0,
    },
    CatalogueCell {
        name: "lead-acid-12v-7.2ah",
        title: "sealed lead-acid 12 V, 7.2 Ah",
        size: "12 V 7.2 Ah",
        cell: lead_acid_12v_7_2ah::CELL,
        rated: Charge::from_milliampere_hours(7200.0),
        mass_g: 2450.0,
    },
];

/// The cell of that name.
#[must_use]
pub fn find(name: &str) -> Option<&'static CatalogueCell> {
    CATALOGUE.iter().find(|entry| entry.name == name)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::{Current, Temperature, Time};

    #[test]
    fn names_are_found_and_are_unique() {
        for (i, entry) in CATALOGUE.iter().enumerate() {
            assert_eq!(find(entry.name), Some(entry));
            let first = CATALOGUE.iter().position(|e| e.name == entry.name);
            assert_eq!(first, Some(i), "{}", entry.name);
        }
        assert_eq!(find("no such cell"), None);
    }

    #[test]
    fn open_circuit_voltages_fall() {
        for entry in CATALOGUE {
            let volts = entry.cell.open_circuit.volts;
            assert!(
                volts.windows(2).all(|pair| pair[0] >= pair[1]),
                "{}",
                entry.name
            );
        }
    }

    #[test]
    fn parameters_are_in_their_ranges() {
        for entry in CATALOGUE {
            let cell = &entry.cell;
            let share = cell.kinetics.available_share;
            assert!(share > 0.0 && share <= 1.0, "{}", entry.name);
            assert!(cell.kinetics.rate_per_second > 0.0, "{}", entry.name);
            let times = cell.branches.map(|branch| branch.time);
            assert!(
                times.iter().all(|time| *time > Time::ZERO),
                "{}",
                entry.name
            );
            assert!(cell.storage.early_time > Time::ZERO, "{}", entry.name);
            let rated = cell.capacity / entry.rated;
            assert!((0.8..1.3).contains(&rated), "{}: {rated}", entry.name);
            assert!(cell.tested.heaviest > Current::ZERO, "{}", entry.name);
            assert!(
                cell.tested.coldest <= Temperature::REFERENCE,
                "{}",
                entry.name
            );
        }
    }

    /// A fact about these cells, not a law: each gives less in the cold.
    #[test]
    fn resistance_and_levelling_are_worse_in_the_cold() {
        for entry in CATALOGUE {
            let state = entry.cell.full();
            let circuit = |celsius| {
                entry
                    .cell
                    .at(Temperature::from_celsius(celsius))
                    .circuit(&state)
            };
            assert!(circuit(-20.0).ohmic > circuit(20.0).ohmic, "{}", entry.name);
            let (cold, warm) = (circuit(-20.0), circuit(20.0));
            assert!(
                cold.settled_resistance() - cold.ohmic > warm.settled_resistance() - warm.ohmic,
                "{}",
                entry.name
            );
            assert!(entry.cell.kinetics_activation_k > 0.0, "{}", entry.name);
        }
    }
}
