//! TOML text to keys, with its errors in our words.

use std::ops::Range;

use super::file::LineKeys;
use super::misplaced::unknown_key;
use crate::keys::{self, Dialect};
use crate::problem::Problem;

const DIALECT: Dialect = Dialect {
    unknown_key,
    missing,
    name_again: "each camera starts with a [[camera]] of its own",
};

/// Parses the text of a line file.
pub(super) fn parse(text: &str) -> Result<LineKeys, Problem> {
    keys::parse(text, &DIALECT)
}

fn missing(span: Range<usize>, key: &str) -> Problem {
    match key {
        "site" => Problem::whole("the line file has no [site]").help(
            "for example\n[site]\nlatitude_deg = 61.2\nlongitude_deg = 14.6\nutc_offset_h = 1\n\
             climate = \"boreal-inland\"",
        ),
        "season" => Problem::whole("the line file has no [season]")
            .help("for example\n[season]\nstart = 2026-11-01\nend = 2027-04-15"),
        _ => Problem::at(
            span,
            format!("`{key}` is missing"),
            "expected in this section",
        )
        .help("every [[camera]] needs one, for example name = \"ford\""),
    }
}
