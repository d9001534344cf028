//! A cell as the text of its catalogue file.

use std::fmt::Write as _;

use overwinter_line::fit::clean;
use overwinter_model::Overpotential;
use overwinter_model::cell::{Branch, Cell, Charging, Makes, Resistor};

/// The catalogue file of a [rounded](overwinter_line::fit::rounded) cell.
pub(crate) fn text(name: &str, cell: &Cell) -> String {
    let mut out = format!(
        "//! `{name}`: written by the fit (`overwinter-fit`), from `datasheets-notes/{name}.md`. Not to be edited.\n\n{}",
        head(cell)
    );
    let Cell {
        storage, tested, ..
    } = cell;
    let lines = [
        format!("chemistry: Chemistry::{:?},", cell.chemistry),
        format!("in_series: {},", cell.in_series),
        format!(
            "capacity: Charge::from_milliampere_hours({:?}),",
            clean(cell.capacity.as_milliampere_hours())
        ),
        format!("floor: Voltage::from_volts({:?}),", cell.floor.as_volts()),
    ];
    for line in lines {
        put(&mut out, &line);
    }
    put(&mut out, "open_circuit: OpenCircuit {");
    out.push_str("        volts: [\n");
    let volts: Vec<String> = cell
        .open_circuit
        .volts
        .iter()
        .map(|v| format!("{v:?}"))
        .collect();
    out.push_str(&wrapped(&volts));
    out.push_str("        ],\n    },\n");
    put(
        &mut out,
        &format!("open_circuit_per_k: {:?},", cell.open_circuit_per_k),
    );
    resistor(&mut out, "ohmic", &cell.ohmic);
    overpotential(&mut out, &cell.overpotential);
    put(&mut out, "branches: [");
    for one in &cell.branches {
        branch(&mut out, one);
    }
    put(&mut out, "],");
    put(&mut out, "kinetics: Kinetics {");
    deep(
        &mut out,
        &format!("available_share: {:?},", cell.kinetics.available_share),
    );
    deep(
        &mut out,
        &format!("rate_per_second: {:?},", cell.kinetics.rate_per_second),
    );
    put(&mut out, "},");
    put(
        &mut out,
        &format!("kinetics_activation_k: {:?},", cell.kinetics_activation_k),
    );
    put(
        &mut out,
        &format!("reach_activation_k: {:?},", cell.reach_activation_k),
    );
    put(&mut out, "storage: Storage {");
    deep(
        &mut out,
        &format!("loss_per_year: {:?},", storage.loss_per_year),
    );
    deep(&mut out, &format!("early_loss: {:?},", storage.early_loss));
    deep(
        &mut out,
        &format!(
            "early_time: Time::from_days({:?}),",
            clean(storage.early_time.as_days())
        ),
    );
    deep(
        &mut out,
        &format!("activation_k: {:?},", storage.activation_k),
    );
    deep(
        &mut out,
        &format!(
            "resistance_growth_per_year: {:?},",
            storage.resistance_growth_per_year
        ),
    );
    put(&mut out, "},");
    charging(&mut out, cell.charging.as_ref());
    put(&mut out, &format!("spread: {:?},", cell.spread));
    makes(&mut out, &cell.makes);
    let beyond = &cell.beyond_points;
    put(&mut out, "beyond_points: BeyondPoints {");
    deep(&mut out, &format!("resistance: {:?},", beyond.resistance));
    deep(&mut out, &format!("reach: {:?},", beyond.reach));
    put(&mut out, "},");
    put(&mut out, "tested: Tested {");
    for (field, t) in [("coldest", tested.coldest), ("warmest", tested.warmest)] {
        deep(
            &mut out,
            &format!(
                "{field}: Temperature::from_celsius({:?}),",
                clean(t.as_celsius())
            ),
        );
    }
    for (field, i) in [
        ("heaviest", tested.heaviest),
        ("heaviest_in_frost", tested.heaviest_in_frost),
    ] {
        deep(
            &mut out,
            &format!(
                "{field}: Current::from_milliamperes({:?}),",
                clean(i.as_milliamperes())
            ),
        );
    }
    put(&mut out, "},");
    out.push_str("};\n");
    out
}

/// What a file begins with: the names that it uses.
fn head(cell: &Cell) -> String {
    // As the formatter breaks the line.
    let types = if cell.charging.is_some() {
        "BeyondPoints, Branch, Cell, Charging, Chemistry, Kinetics, Makes, OpenCircuit, Resistor,
    Storage, Tested,"
    } else {
        "BeyondPoints, Branch, Cell, Chemistry, Kinetics, Makes, OpenCircuit, Resistor, Storage, Tested,"
    };
    format!(
        "use crate::cell::{{
    {types}
}};
use crate::circuit::Overpotential;
use crate::units::{{Charge, Current, Resistance, Temperature, Time, Voltage}};

pub(super) const CELL: Cell = Cell {{
"
    )
}

fn makes(out: &mut String, makes: &Makes) {
    put(out, "makes: Makes {");
    deep(out, &format!("capacity: {:?},", makes.capacity));
    deep(out, &format!("resistance: {:?},", makes.resistance));
    deep(out, &format!("correlation: {:?},", makes.correlation));
    let volts = makes.open_circuit.as_volts();
    deep(
        out,
        &format!("open_circuit: Voltage::from_volts({volts:?}),"),
    );
    put(out, "},");
}

fn charging(out: &mut String, charging: Option<&Charging>) {
    let Some(charging) = charging else {
        put(out, "charging: None,");
        return;
    };
    put(out, "charging: Some(Charging {");
    deep(out, &format!("efficiency: {:?},", charging.efficiency));
    for (field, t) in [("coldest", charging.coldest), ("warmest", charging.warmest)] {
        let celsius = clean(t.as_celsius());
        deep(
            out,
            &format!("{field}: Temperature::from_celsius({celsius:?}),"),
        );
    }
    let volts = charging.limit.as_volts();
    deep(out, &format!("limit: Voltage::from_volts({volts:?}),"));
    deep(out, &format!("limit_per_k: {:?},", charging.limit_per_k));
    let milliamperes = clean(charging.largest.as_milliamperes());
    deep(
        out,
        &format!("largest: Current::from_milliamperes({milliamperes:?}),"),
    );
    put(out, "}),");
}

fn put(out: &mut String, line: &str) {
    // Writing to a String cannot fail.
    let _ = writeln!(out, "    {line}");
}

fn deep(out: &mut String, line: &str) {
    let _ = writeln!(out, "        {line}");
}

fn resistor(out: &mut String, name: &str, resistor: &Resistor) {
    put(out, &format!("{name}: Resistor {{"));
    deep(
        out,
        &format!(
            "fresh: Resistance::from_ohms({:?}),",
            resistor.fresh.as_ohms()
        ),
    );
    deep(out, &format!("growth: {:?},", resistor.growth));
    deep(out, &format!("late_growth: {:?},", resistor.late_growth));
    deep(out, &format!("activation_k: {:?},", resistor.activation_k));
    put(out, "},");
}

fn overpotential(out: &mut String, overpotential: &Overpotential) {
    if *overpotential == Overpotential::NONE {
        put(out, "overpotential: Overpotential::NONE,");
        return;
    }
    put(out, "overpotential: Overpotential {");
    let volts = overpotential.most.as_volts();
    deep(out, &format!("most: Voltage::from_volts({volts:?}),"));
    let milliamperes = clean(overpotential.half_at.as_milliamperes());
    deep(
        out,
        &format!("half_at: Current::from_milliamperes({milliamperes:?}),"),
    );
    put(out, "},");
}

fn branch(out: &mut String, branch: &Branch) {
    if *branch == Branch::NONE {
        deep(out, "Branch::NONE,");
        return;
    }
    deep(out, "Branch {");
    let mut within = String::new();
    resistor(&mut within, "resistor", &branch.resistor);
    let seconds = clean(branch.time.as_seconds());
    put(
        &mut within,
        &format!("time: Time::from_seconds({seconds:?}),"),
    );
    for line in within.lines() {
        deep(out, line);
    }
    deep(out, "},");
}

/// Numbers in lines of less than 100 columns, twelve in, as rustfmt sets a short array.
fn wrapped(numbers: &[String]) -> String {
    let mut out = String::new();
    let mut line = String::new();
    for number in numbers {
        let next = format!("{number},");
        if 12 + line.len() + 1 + next.len() > 99 {
            let _ = writeln!(out, "            {line}");
            line.clear();
        }
        if !line.is_empty() {
            line.push(' ');
        }
        line.push_str(&next);
    }
    let _ = writeln!(out, "            {line}");
    out
}
