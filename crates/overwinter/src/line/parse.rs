//! TOML text to keys, with its errors in our words.

use super::file::LineKeys;
use crate::problem::{Problem, nearest};

/// Parses the text of a line file.
pub(super) fn parse(text: &str) -> Result<LineKeys, Problem> {
    toml::from_str(text).map_err(|error| in_our_words(text, &error))
}

/// A parser's error as a problem with its place and advice.
fn in_our_words(text: &str, error: &toml::de::Error) -> Problem {
    let message = error.message();
    let span = error.span().unwrap_or(0..0);
    if let Some((key, known)) = unknown_field(message) {
        let problem = Problem::at(
            span,
            format!("`{key}` is not a key of this section"),
            "not known here",
        );
        return problem.help(match nearest(key, known.iter().copied()) {
            Some(name) => format!("did you mean `{name}`?"),
            None => format!("keys of this section: {}", known.join(", ")),
        });
    }
    if let Some(key) = quoted_after(message, "missing field ") {
        let problem = if key == "site" || key == "season" {
            Problem::whole(format!("the line file has no [{key}]"))
        } else {
            Problem::at(
                span,
                format!("`{key}` is missing"),
                "expected in this section",
            )
        };
        return problem.help(example_of(key));
    }
    if let Some((found, expected)) = wrong_type(message) {
        let shown = text.get(span.clone()).unwrap_or_default();
        let problem = Problem::at(
            span,
            format!("found {found}"),
            format!("expected {expected}"),
        );
        return match shown.trim_matches('"').split_once(' ') {
            Some((number, _)) if number.parse::<f64>().is_ok() => problem.help(format!(
                "units stand in the key's name: write the number alone, {number}"
            )),
            _ => problem,
        };
    }
    Problem::at(
        span,
        "this is not a line file in TOML",
        message.replace('\n', "; "),
    )
}

/// Key and known keys of serde's "unknown field `x`, expected one of `a`, `b`".
fn unknown_field(message: &str) -> Option<(&str, Vec<&str>)> {
    let key = quoted_after(message, "unknown field ")?;
    let (_, list) = message.split_once(", expected ")?;
    let known = list.split('`').skip(1).step_by(2).collect();
    Some((key, known))
}

/// The first name in backticks after `start`, if the message starts with that.
fn quoted_after<'a>(message: &'a str, start: &str) -> Option<&'a str> {
    message
        .strip_prefix(start)?
        .strip_prefix('`')?
        .split('`')
        .next()
}

/// What was found and expected of serde's "invalid type: string "x", expected f64".
fn wrong_type(message: &str) -> Option<(&str, &str)> {
    let rest = message
        .strip_prefix("invalid type: ")
        .or_else(|| message.strip_prefix("invalid value: "))?;
    let (found, expected) = rest.split_once(", expected ")?;
    let expected = match expected {
        "f64" => "a number",
        "i64" => "a whole number",
        "a string" => "text in quotes",
        "a sequence" => "a list in brackets",
        other => other,
    };
    Some((found, expected))
}

/// How a missing section or key may look.
fn example_of(key: &str) -> String {
    match key {
        "site" => "for example\n[site]\nlatitude_deg = 61.2\nlongitude_deg = 14.6\n\
                   utc_offset_h = 1\nclimate = \"boreal-inland\""
            .to_owned(),
        "season" => "for example\n[season]\nstart = 2026-11-01\nend = 2027-04-15".to_owned(),
        "name" => "every [[camera]] needs one, for example name = \"ford\"".to_owned(),
        other => format!("add `{other}`"),
    }
}
