//! A cell as the text of its file.

use overwinter_model::Voltage;
use overwinter_model::cell::{Branch, Makes, Resistor};
use serde::Serialize;

use super::charging::ChargingOut;
use super::{NamedCell, chemistry_name};
use crate::fit::clean;

/// The file, in the order of its keys.
#[derive(Serialize)]
struct CellOut<'a> {
    name: &'a str,
    title: &'a str,
    chemistry: &'a str,
    in_series: u8,
    rated_mah: f64,
    capacity_mah: f64,
    mass_g: f64,
    floor_v: f64,
    spread: f64,
    open_circuit: OpenCircuitOut,
    ohmic: ResistorOut,
    #[serde(skip_serializing_if = "Option::is_none")]
    overpotential: Option<OverpotentialOut>,
    branch: Vec<BranchOut>,
    kinetics: KineticsOut,
    storage: StorageOut,
    #[serde(skip_serializing_if = "Option::is_none")]
    makes: Option<MakesOut>,
    beyond_points: BeyondPointsOut,
    #[serde(skip_serializing_if = "Option::is_none")]
    charging: Option<ChargingOut>,
    tested: TestedOut,
}

#[derive(Serialize)]
struct OpenCircuitOut {
    volts: Vec<f64>,
    volts_per_k: f64,
}

#[derive(Serialize)]
struct ResistorOut {
    fresh_ohm: f64,
    growth: f64,
    late_growth: f64,
    activation_k: f64,
}

#[derive(Serialize)]
struct OverpotentialOut {
    most_v: f64,
    half_at_ma: f64,
}

#[derive(Serialize)]
struct BranchOut {
    #[serde(flatten)]
    resistor: ResistorOut,
    time_s: f64,
}

#[derive(Serialize)]
struct KineticsOut {
    available_share: f64,
    rate_per_s: f64,
    activation_k: f64,
    reach_activation_k: f64,
}

#[derive(Serialize)]
struct StorageOut {
    loss_per_year: f64,
    early_loss: f64,
    early_time_d: f64,
    activation_k: f64,
    resistance_growth_per_year: f64,
}

#[derive(Serialize)]
struct MakesOut {
    capacity: f64,
    resistance: f64,
    correlation: f64,
    open_circuit_v: f64,
}

#[derive(Serialize)]
struct BeyondPointsOut {
    resistance: f64,
    reach: f64,
}

#[derive(Serialize)]
struct TestedOut {
    coldest_c: f64,
    warmest_c: f64,
    heaviest_ma: f64,
    heaviest_in_frost_ma: f64,
}

impl From<&Resistor> for ResistorOut {
    fn from(resistor: &Resistor) -> Self {
        Self {
            fresh_ohm: resistor.fresh.as_ohms(),
            growth: resistor.growth,
            late_growth: resistor.late_growth,
            activation_k: resistor.activation_k,
        }
    }
}

impl From<&Makes> for MakesOut {
    fn from(makes: &Makes) -> Self {
        Self {
            capacity: makes.capacity,
            resistance: makes.resistance,
            correlation: makes.correlation,
            open_circuit_v: makes.open_circuit.as_volts(),
        }
    }
}

impl From<&Branch> for BranchOut {
    fn from(branch: &Branch) -> Self {
        Self {
            resistor: (&branch.resistor).into(),
            time_s: clean(branch.time.as_seconds()),
        }
    }
}

/// The text of a cell's file, with a first line that says where it comes from. A cell with
/// [rounded](crate::fit::rounded) parameters is read back exactly.
///
/// # Errors
/// If a parameter has no form in TOML, which no number lacks.
pub(crate) fn text(named: &NamedCell, origin: &str) -> Result<String, toml::ser::Error> {
    let NamedCell { cell, .. } = named;
    let tested = &cell.tested;
    let storage = &cell.storage;
    let out = CellOut {
        name: &named.name,
        title: &named.title,
        chemistry: chemistry_name(cell.chemistry),
        in_series: cell.in_series,
        rated_mah: clean(named.rated.as_milliampere_hours()),
        capacity_mah: clean(cell.capacity.as_milliampere_hours()),
        mass_g: named.mass_g,
        floor_v: cell.floor.as_volts(),
        spread: cell.spread,
        open_circuit: OpenCircuitOut {
            volts: cell.open_circuit.volts.to_vec(),
            volts_per_k: cell.open_circuit_per_k,
        },
        ohmic: (&cell.ohmic).into(),
        overpotential: (cell.overpotential.most > Voltage::ZERO).then(|| OverpotentialOut {
            most_v: cell.overpotential.most.as_volts(),
            half_at_ma: clean(cell.overpotential.half_at.as_milliamperes()),
        }),
        branch: cell.branches.iter().map(BranchOut::from).collect(),
        kinetics: KineticsOut {
            available_share: cell.kinetics.available_share,
            rate_per_s: cell.kinetics.rate_per_second,
            activation_k: cell.kinetics_activation_k,
            reach_activation_k: cell.reach_activation_k,
        },
        storage: StorageOut {
            loss_per_year: storage.loss_per_year,
            early_loss: storage.early_loss,
            early_time_d: clean(storage.early_time.as_days()),
            activation_k: storage.activation_k,
            resistance_growth_per_year: storage.resistance_growth_per_year,
        },
        makes: (cell.makes != Makes::ALIKE).then(|| (&cell.makes).into()),
        beyond_points: BeyondPointsOut {
            resistance: cell.beyond_points.resistance,
            reach: cell.beyond_points.reach,
        },
        charging: cell.charging.as_ref().map(ChargingOut::from),
        tested: TestedOut {
            coldest_c: clean(tested.coldest.as_celsius()),
            warmest_c: clean(tested.warmest.as_celsius()),
            heaviest_ma: clean(tested.heaviest.as_milliamperes()),
            heaviest_in_frost_ma: clean(tested.heaviest_in_frost.as_milliamperes()),
        },
    };
    Ok(format!(
        "# {origin}\n# Voltages and resistances are those of one cell inside.\n\n{}",
        toml::to_string(&out)?
    ))
}

#[cfg(test)]
mod tests {
    use overwinter_model::cell::catalogue::{CATALOGUE, find};

    use super::super::file::read;
    use super::*;
    use crate::fit::rounded;

    #[test]
    fn what_is_written_is_read_back_exactly() {
        for entry in CATALOGUE {
            let mut own = NamedCell::from(entry);
            own.name = format!("my-{}", entry.name);
            own.cell = rounded(&own.cell.scaled(0.837));
            let text = text(&own, "A test.").expect("TOML");
            assert_eq!(read(&text).expect(&text), own);
            assert_eq!(text.contains("[charging]"), own.cell.charging.is_some());
        }
    }

    #[test]
    fn a_cell_that_must_not_be_charged_has_no_section_for_it() {
        let text_of = |name| {
            let mut own = NamedCell::from(find(name).expect("a catalogue cell"));
            "my-cell".clone_into(&mut own.name);
            text(&own, "A test.").expect("TOML")
        };
        let chargeable = text_of("lfp-18650");
        let primary = chargeable.replace("lithium-iron-phosphate", "alkaline");
        let problems = read(&primary).expect_err("refused");
        assert!(format!("{problems:?}").contains("a primary cell must not be charged"));
        let turned = chargeable.replace("coldest_c = 0.0", "coldest_c = 60.0");
        let problems = read(&turned).expect_err("refused");
        assert!(format!("{problems:?}").contains("`coldest_c` is above `warmest_c`"));
        let (before, rest) = chargeable.split_once("[charging]").expect("a section");
        let (_, after) = rest.split_once("[tested]").expect("the last section");
        let without = read(&format!("{before}[tested]{after}")).expect("may be left out");
        assert_eq!(without.cell.charging, None);
    }
}
