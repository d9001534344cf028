//! The cell file: every parameter of a cell, with units in the names of its keys.

use std::ops::RangeInclusive;
use std::path::Path;

use overwinter_model::cell::{
    BeyondPoints, Branch, Cell, Chemistry, Kinetics, Makes, OCV_POINTS, OpenCircuit, Resistor,
    Storage, Tested, accepted,
};
use overwinter_model::{
    BRANCHES, Charge, Current, Overpotential, Resistance, Temperature, Time, Voltage,
};
use serde::Deserialize;
use toml::Spanned;

use super::charging::{ChargingKeys, charging};
use super::{NamedCell, read_own_name};
use crate::host::Files;
use crate::keys::{self, Dialect, Reader};
use crate::problem::{Failure, Problem, in_order, suggest};
use crate::source::read_text;

/// A cell file larger than this is not one.
const LARGEST_FILE_BYTES: u64 = 100_000;

type Number = Spanned<f64>;

/// The whole file: every key must be there, but how the cell is charged.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct CellKeys {
    name: Spanned<String>,
    title: Spanned<String>,
    chemistry: Spanned<String>,
    in_series: Spanned<i64>,
    rated_mah: Number,
    capacity_mah: Number,
    mass_g: Number,
    floor_v: Number,
    spread: Number,
    makes: Option<MakesKeys>,
    beyond_points: BeyondPointsKeys,
    open_circuit: OpenCircuitKeys,
    ohmic: ResistorKeys,
    overpotential: Option<OverpotentialKeys>,
    branch: Spanned<Vec<BranchKeys>>,
    kinetics: KineticsKeys,
    storage: StorageKeys,
    charging: Option<Spanned<ChargingKeys>>,
    tested: TestedKeys,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct MakesKeys {
    capacity: Number,
    resistance: Number,
    correlation: Number,
    open_circuit_v: Number,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct BeyondPointsKeys {
    resistance: Number,
    reach: Number,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct OpenCircuitKeys {
    volts: Spanned<Vec<f64>>,
    volts_per_k: Number,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct ResistorKeys {
    fresh_ohm: Number,
    growth: Number,
    late_growth: Number,
    activation_k: Number,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct OverpotentialKeys {
    most_v: Number,
    half_at_ma: Number,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct BranchKeys {
    fresh_ohm: Number,
    growth: Number,
    late_growth: Number,
    activation_k: Number,
    time_s: Number,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct KineticsKeys {
    available_share: Number,
    rate_per_s: Number,
    activation_k: Number,
    reach_activation_k: Number,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct StorageKeys {
    loss_per_year: Number,
    early_loss: Number,
    early_time_d: Number,
    activation_k: Number,
    resistance_growth_per_year: Number,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct TestedKeys {
    coldest_c: Number,
    warmest_c: Number,
    heaviest_ma: Number,
    heaviest_in_frost_ma: Number,
}

/// The chemistries by the names that cell files have for them.
const CHEMISTRIES: [(&str, Chemistry); 6] = [
    ("alkaline", Chemistry::Alkaline),
    ("lithium-iron-disulfide", Chemistry::LithiumIronDisulfide),
    ("nickel-metal-hydride", Chemistry::NickelMetalHydride),
    ("lead-acid", Chemistry::LeadAcid),
    ("lithium-iron-phosphate", Chemistry::LithiumIronPhosphate),
    ("lithium-ion", Chemistry::LithiumIon),
];

/// The name that a cell file has for a chemistry.
pub fn chemistry_name(chemistry: Chemistry) -> &'static str {
    let mut known = CHEMISTRIES.iter();
    known
        .find(|(_, other)| *other == chemistry)
        .map_or("other", |(name, _)| name)
}

/// Reads a cell file.
///
/// # Errors
/// [`Failure::Input`] with every problem of the file and its place; [`Failure::Request`] if it
/// cannot be read at all.
pub fn load(files: &dyn Files, path: &Path) -> Result<NamedCell, Failure> {
    let source = read_text(files, path, "cell file", LARGEST_FILE_BYTES)?;
    read(&source.text).map_err(|problems| Failure::Input { source, problems })
}

/// Reads a cell from the text of its file.
pub(super) fn read(text: &str) -> Result<NamedCell, Vec<Problem>> {
    let dialect = Dialect {
        unknown_key,
        missing,
        name_again: "one file holds one cell",
    };
    let keys: CellKeys = keys::parse(text, &dialect).map_err(|problem| vec![problem])?;
    let mut reader = Reader::default();
    let named = named(&mut reader, &keys);
    match named {
        Some(named) if reader.problems.is_empty() => Ok(named),
        _ => Err(in_order(reader.problems)),
    }
}

fn unknown_key(span: std::ops::Range<usize>, key: &str, known: &[&str]) -> Problem {
    let problem = Problem::at(
        span,
        format!("`{key}` is not a key of a cell file"),
        "not known here",
    );
    problem.help(if ["like", "point"].contains(&key) {
        "these are points, not a cell yet: `overwinter catalogue --from POINTS.toml -o CELL.toml` \
         makes a cell of them"
            .to_owned()
    } else {
        suggest(key, known)
    })
}

fn missing(span: std::ops::Range<usize>, key: &str) -> Problem {
    Problem::at(span, format!("`{key}` is missing"), "expected here").help(
        "a cell file has every parameter; `overwinter catalogue --from POINTS.toml -o CELL.toml` \
         writes one",
    )
}

/// The longest title of a cell, characters.
pub(crate) const LONGEST_TITLE: usize = 100;

/// Mass of one cell or battery, grams.
const MASS_G: RangeInclusive<f64> = 0.1..=1e6;

fn named(reader: &mut Reader, keys: &CellKeys) -> Option<NamedCell> {
    let name = read_own_name(reader, &keys.name);
    let mut number = |given: &Number, key, range| reader.number(Some(given), key, range, 1.0);
    let rated = number(&keys.rated_mah, "rated_mah", accepted::CAPACITY_MAH);
    let capacity = number(&keys.capacity_mah, "capacity_mah", accepted::CAPACITY_MAH);
    let mass_g = number(&keys.mass_g, "mass_g", MASS_G);
    let floor = number(&keys.floor_v, "floor_v", accepted::VOLTS);
    let spread = number(&keys.spread, "spread", accepted::SPREAD);
    let BeyondPointsKeys { resistance, reach } = &keys.beyond_points;
    let beyond_points = BeyondPoints {
        resistance: number(resistance, "resistance", accepted::UNCERTAINTY),
        reach: number(reach, "reach", accepted::UNCERTAINTY),
    };
    let per_k = number(
        &keys.open_circuit.volts_per_k,
        "volts_per_k",
        accepted::VOLTS_PER_K,
    );
    let kinetics_activation_k = number(
        &keys.kinetics.activation_k,
        "activation_k",
        accepted::ACTIVATION_K,
    );
    let reach_activation_k = number(
        &keys.kinetics.reach_activation_k,
        "reach_activation_k",
        accepted::ACTIVATION_K,
    );
    let chemistry = reader.choice(
        Some(&keys.chemistry),
        "chemistry",
        &CHEMISTRIES,
        Chemistry::Alkaline,
    );
    let cell = Cell {
        chemistry,
        in_series: reader.whole(Some(&keys.in_series), "in_series", accepted::IN_SERIES, 1),
        capacity: Charge::from_milliampere_hours(capacity),
        floor: Voltage::from_volts(floor),
        open_circuit_per_k: per_k,
        ohmic: ohmic(reader, &keys.ohmic),
        overpotential: overpotential(reader, keys.overpotential.as_ref()),
        branches: branches(reader, &keys.branch),
        kinetics: kinetics(reader, &keys.kinetics),
        kinetics_activation_k,
        reach_activation_k,
        storage: storage(reader, &keys.storage),
        charging: keys
            .charging
            .as_ref()
            .map(|keys| charging(reader, keys, chemistry)),
        spread,
        makes: keys
            .makes
            .as_ref()
            .map_or(Makes::ALIKE, |keys| makes(reader, keys)),
        beyond_points,
        tested: tested(reader, &keys.tested),
        open_circuit: open_circuit(reader, &keys.open_circuit.volts)?,
    };
    below_fresh(reader, &keys.floor_v, &cell);
    Some(NamedCell {
        name,
        title: reader.printed(&keys.title, "title", LONGEST_TITLE),
        cell,
        rated: Charge::from_milliampere_hours(rated),
        mass_g,
    })
}

/// How makes differ; left out of files of bought cells, which are of one.
fn makes(reader: &mut Reader, keys: &MakesKeys) -> Makes {
    let mut number = |given: &Number, key, range| reader.number(Some(given), key, range, 1.0);
    Makes {
        capacity: number(&keys.capacity, "capacity", accepted::SPREAD),
        resistance: number(&keys.resistance, "resistance", accepted::SPREAD),
        correlation: number(&keys.correlation, "correlation", accepted::CORRELATION),
        open_circuit: Voltage::from_volts(number(
            &keys.open_circuit_v,
            "open_circuit_v",
            accepted::MAKE_VOLTS,
        )),
    }
}

/// A floor that no discharge starts above would end every run at once.
fn below_fresh(reader: &mut Reader, floor: &Number, cell: &Cell) {
    let fresh = cell.open_circuit.at(0.0);
    if cell.floor >= fresh {
        reader.problem(Problem::at(
            floor.span(),
            "`floor_v` is not below the open-circuit voltage of a fresh cell",
            format!("expected below {} V", crate::words::plain(fresh.as_volts())),
        ));
    }
}

fn open_circuit(reader: &mut Reader, given: &Spanned<Vec<f64>>) -> Option<OpenCircuit> {
    let volts: [f64; OCV_POINTS] = reader.numbers(given, "volts", accepted::VOLTS)?;
    if let Some(pair) = volts.windows(2).find(|pair| pair[0] < pair[1]) {
        reader.problem(Problem::at(
            given.span(),
            format!("`volts` rises from {} to {}", pair[0], pair[1]),
            "expected values that fall or stay level, full to empty",
        ));
        return None;
    }
    Some(OpenCircuit { volts })
}

/// A resistance out of its keys.
fn resistor(
    reader: &mut Reader,
    [fresh, growth, late, activation]: [&Number; 4],
    ohms: RangeInclusive<f64>,
) -> Resistor {
    let mut number = |given, key, range| reader.number(Some(given), key, range, 1.0);
    Resistor {
        fresh: Resistance::from_ohms(number(fresh, "fresh_ohm", ohms)),
        growth: number(growth, "growth", accepted::GROWTH),
        late_growth: number(late, "late_growth", accepted::GROWTH),
        activation_k: number(activation, "activation_k", accepted::ACTIVATION_K),
    }
}

fn ohmic(reader: &mut Reader, keys: &ResistorKeys) -> Resistor {
    let keys = [
        &keys.fresh_ohm,
        &keys.growth,
        &keys.late_growth,
        &keys.activation_k,
    ];
    resistor(reader, keys, accepted::OHMS)
}

fn overpotential(reader: &mut Reader, keys: Option<&OverpotentialKeys>) -> Overpotential {
    let Some(keys) = keys else {
        return Overpotential::NONE;
    };
    let mut number = |given, key, range| reader.number(Some(given), key, range, 1.0);
    let half_at = number(&keys.half_at_ma, "half_at_ma", accepted::HALF_AT_MA);
    Overpotential {
        most: Voltage::from_volts(number(&keys.most_v, "most_v", accepted::OVERPOTENTIAL)),
        half_at: Current::from_milliamperes(half_at),
    }
}

/// The branches, the quickest first; those that are left out have no resistance.
fn branches(reader: &mut Reader, given: &Spanned<Vec<BranchKeys>>) -> [Branch; BRANCHES] {
    if given.get_ref().len() > BRANCHES {
        reader.problem(Problem::at(
            given.span(),
            format!("{} tables `[[branch]]`", given.get_ref().len()),
            format!("expected {BRANCHES} at the most"),
        ));
    }
    let mut branches = [Branch::NONE; BRANCHES];
    for (branch, keys) in branches.iter_mut().zip(given.get_ref()) {
        let resistances = [
            &keys.fresh_ohm,
            &keys.growth,
            &keys.late_growth,
            &keys.activation_k,
        ];
        let time = reader.number(Some(&keys.time_s), "time_s", accepted::SECONDS, 1.0);
        *branch = Branch {
            resistor: resistor(reader, resistances, accepted::BRANCH_OHMS),
            time: Time::from_seconds(time),
        };
    }
    branches
}

fn kinetics(reader: &mut Reader, keys: &KineticsKeys) -> Kinetics {
    let mut number = |given, key, range| reader.number(Some(given), key, range, 1.0);
    Kinetics {
        available_share: number(&keys.available_share, "available_share", accepted::SHARE),
        rate_per_second: number(&keys.rate_per_s, "rate_per_s", accepted::RATE_PER_S),
    }
}

fn storage(reader: &mut Reader, keys: &StorageKeys) -> Storage {
    let mut number = |given, key, range| reader.number(Some(given), key, range, 1.0);
    Storage {
        loss_per_year: number(&keys.loss_per_year, "loss_per_year", accepted::LOSS),
        early_loss: number(&keys.early_loss, "early_loss", accepted::LOSS),
        early_time: Time::from_days(number(&keys.early_time_d, "early_time_d", accepted::DAYS)),
        activation_k: number(&keys.activation_k, "activation_k", accepted::ACTIVATION_K),
        resistance_growth_per_year: number(
            &keys.resistance_growth_per_year,
            "resistance_growth_per_year",
            accepted::LOSS,
        ),
    }
}

fn tested(reader: &mut Reader, keys: &TestedKeys) -> Tested {
    let mut number = |given, key, range| reader.number(Some(given), key, range, 1.0);
    let celsius = accepted::CELSIUS;
    let currents = accepted::MILLIAMPERES;
    let coldest = number(&keys.coldest_c, "coldest_c", celsius.clone());
    let warmest = number(&keys.warmest_c, "warmest_c", celsius);
    let heaviest = number(&keys.heaviest_ma, "heaviest_ma", currents.clone());
    let in_frost = number(&keys.heaviest_in_frost_ma, "heaviest_in_frost_ma", currents);
    if coldest > warmest {
        reader.problem(Problem::at(
            keys.coldest_c.span(),
            "`coldest_c` is above `warmest_c`",
            format!("expected at most {}", crate::words::plain(warmest)),
        ));
    }
    Tested {
        coldest: Temperature::from_celsius(coldest),
        warmest: Temperature::from_celsius(warmest),
        heaviest: Current::from_milliamperes(heaviest),
        heaviest_in_frost: Current::from_milliamperes(in_frost),
    }
}
