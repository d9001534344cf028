//! TOML files with known keys: read with their places, and refused in our own words.

mod date;
mod mistyped;
mod quotes;
mod reader;

use std::ops::Range;

use serde::de::DeserializeOwned;

use crate::problem::Problem;
use mistyped::{unquoted, wrong_value};

pub(crate) use quotes::escapes_in_path;
pub(crate) use reader::Reader;

/// What one kind of file says about its keys.
pub(crate) struct Dialect {
    /// The problem of a key that is not among the known ones.
    pub(crate) unknown_key: fn(Range<usize>, &str, &[&str]) -> Problem,
    /// The problem of a key that is not there, at its section.
    pub(crate) missing: fn(Range<usize>, &str) -> Problem,
    /// Advice where `name` stands twice.
    pub(crate) name_again: &'static str,
}

/// Parses a file's text.
pub(crate) fn parse<T: DeserializeOwned>(text: &str, dialect: &Dialect) -> Result<T, Problem> {
    toml::from_str(text).map_err(|error| in_our_words(text, &error, dialect))
}

/// A parser's error as a problem with its place and advice.
fn in_our_words(text: &str, error: &toml::de::Error, dialect: &Dialect) -> Problem {
    let message = error.message();
    let span = error.span().unwrap_or(0..0);
    if let Some((key, known)) = unknown_field(message) {
        return (dialect.unknown_key)(span, key, &known);
    }
    if let Some((given, known)) = unknown_variant(message) {
        return Problem::at(
            span,
            format!("\"{given}\" is not known here"),
            format!("expected one of: {}", known.join(", ")),
        )
        .did_you_mean(given, &known);
    }
    if let Some(key) = quoted_after(message, "missing field ") {
        return (dialect.missing)(span, key);
    }
    if let Some(expected) = wrong_type(message) {
        return wrong_value(text, span, expected);
    }
    not_toml(text, span, message, dialect)
}

/// Key and known keys of serde's "unknown field `x`, expected one of `a`, `b`". The parser's own key of a
/// date is none that anybody wrote.
fn unknown_field(message: &str) -> Option<(&str, Vec<&str>)> {
    given_and_known(message, "unknown field ").filter(|(key, _)| !key.starts_with('$'))
}

/// Name and known names of serde's "unknown variant `x`, expected `a` or `b`".
fn unknown_variant(message: &str) -> Option<(&str, Vec<&str>)> {
    given_and_known(message, "unknown variant ")
}

fn given_and_known<'a>(message: &'a str, start: &str) -> Option<(&'a str, Vec<&'a str>)> {
    let given = quoted_after(message, start)?;
    let (_, list) = message.split_once(", expected ")?;
    let known = list.split('`').skip(1).step_by(2).collect();
    Some((given, known))
}

/// The first name in backticks after `start`, if the message starts with that.
fn quoted_after<'a>(message: &'a str, start: &str) -> Option<&'a str> {
    message
        .strip_prefix(start)?
        .strip_prefix('`')?
        .split('`')
        .next()
}

/// What is expected by serde's "invalid type: string "x", expected f64", or by our own types.
fn wrong_type(message: &str) -> Option<&str> {
    if message.starts_with("a cell name") || message.starts_with("a range") {
        return Some(message);
    }
    if message.starts_with("unknown field `$") {
        return Some("a map");
    }
    let starts = ["invalid type: ", "invalid value: ", "invalid length "];
    let rest = starts
        .iter()
        .find_map(|start| message.strip_prefix(start))?;
    rest.rsplit_once(", expected ")
        .map(|(_, expected)| expected)
}

/// How cameras stand in a line file.
const EACH_CAMERA: &str = "write [[camera]], in double brackets, once for each camera";

/// Text that is no TOML at all.
fn not_toml(text: &str, span: Range<usize>, message: &str, dialect: &Dialect) -> Problem {
    if let Some((span, date)) = date::around(text, span.start) {
        let message = format!("{} is not a date", &text[span.clone()]);
        return Problem::at(span, message, "expected year-month-day")
            .help(format!("write it without quotes: {date}"));
    }
    if let Some(problem) = quotes::printed(text, &span) {
        return problem;
    }
    if let Some(problem) = quotes::pasted(text, &span) {
        return problem;
    }
    let shown = text.get(span.clone()).unwrap_or_default();
    let (what, expected) = match message.split_once(", expected ") {
        Some((what, expected)) => (what, format!("expected {expected}")),
        None => (message, "not expected here".to_owned()),
    };
    match what {
        "duplicate key" => {
            let problem = Problem::at(
                span,
                format!("`{shown}` stands here a second time"),
                "expected once",
            );
            match shown {
                "name" => problem.help(dialect.name_again),
                "camera" => problem.help(EACH_CAMERA),
                _ => problem,
            }
        }
        "string values must be quoted" => unquoted(text, span),
        "invalid date" | "invalid datetime" => {
            Problem::at(span, format!("{shown} is not a date"), expected)
        }
        _ if what.contains("recur") => Problem::at(
            span,
            "nested too deeply",
            "expected no more than a few levels",
        ),
        _ => {
            let problem = Problem::at(span.clone(), format!("not TOML: {what}"), expected);
            if splits_a_number(text, span.start) {
                problem.help("decimals are written with a point")
            } else if let Some(advice) = quotes::backslash(text, span.start) {
                problem.help(advice)
            } else {
                problem
            }
        }
    }
}

/// Whether a comma stands at `at`, between two digits.
fn splits_a_number(text: &str, at: usize) -> bool {
    let digit = |at: Option<usize>| {
        let byte = at.and_then(|at| text.as_bytes().get(at));
        byte.is_some_and(u8::is_ascii_digit)
    };
    text.as_bytes().get(at) == Some(&b',') && digit(at.checked_sub(1)) && digit(at.checked_add(1))
}
