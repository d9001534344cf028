//! The summary as the table that the program shows.

use std::fmt::Write as _;

use overwinter_line::fit::{Group, Role};

use crate::recipe::RECIPES;
use crate::report::Summary;

const HEAD: &str = "\
//! Written by the fit (`overwinter-fit`), as `datasheets-notes/summary.csv` is. Not to be edited.

use super::accuracy::{Accuracy, RoleAccuracy};

pub(super) static ACCURACY: &[Accuracy] = &[
";

/// The table of all cells that have points, as Rust.
pub(crate) fn text(lines: &[Summary]) -> String {
    let mut out = HEAD.to_owned();
    for recipe in RECIPES {
        let own: Vec<&Summary> = lines.iter().filter(|l| l.cell == recipe.name).collect();
        if own.is_empty() {
            continue;
        }
        // Writing to a String cannot fail.
        let _ = writeln!(out, "    Accuracy {{\n        cell: {:?},", recipe.name);
        role(&mut out, "fitted", &own, Role::Fitted);
        role(&mut out, "held_out", &own, Role::HeldOut);
        out.push_str("    },\n");
    }
    out.push_str("];\n");
    out
}

fn role(out: &mut String, name: &str, lines: &[&Summary], role: Role) {
    let of_role = || lines.iter().filter(|line| line.role == role);
    let points: usize = of_role().map(|line| line.errors.points).sum();
    let errors = |group| {
        let line = of_role().find(|line| line.group == group);
        line.map_or("None".to_owned(), |line| {
            format!(
                "Some(({:.3}, {:.3}))",
                line.errors.median, line.errors.ninetieth
            )
        })
    };
    let _ = write!(
        out,
        "        {name}: RoleAccuracy {{
            points: {points},
            durations: {},
            voltages_v: {},
            resistances: {},
        }},
",
        errors(Group::Services),
        errors(Group::Voltages),
        errors(Group::Resistances)
    );
}
