//! A value of the wrong type: what stands there, what was expected, and how to write it.

use std::ops::Range;

use super::date;
use crate::problem::Problem;
use crate::words::with_decimal_point;

/// A value longer than this is not repeated in a message.
const LONGEST_SHOWN: usize = 60;

/// The problem of a value at `span` where serde expected something else.
pub(super) fn wrong_value(text: &str, span: Range<usize>, expected: &str) -> Problem {
    if let Some(key) = key_with_dots(text, &span) {
        let message = format!("`{key}` has a dot, which divides a name in two");
        let end = span.start + key.len();
        return Problem::at(
            span.start..end,
            message,
            "expected quotes around such a name",
        )
        .help(format!("put the name in quotes: \"{key}\""));
    }
    let shown = text.get(span.clone()).unwrap_or_default();
    let key = key_before(text, span.start);
    let shortened = shown.len() > LONGEST_SHOWN || shown.contains('\n');
    let message = match (key, shortened) {
        (Some(key), false) => format!("`{key}` is {shown}"),
        (Some(key), true) => format!("`{key}` is something else than expected"),
        (None, false) => format!("found {shown}"),
        (None, true) => "found something else than expected".to_owned(),
    };
    let label = match expected {
        "f64" => "expected a number",
        "i64" => "expected a whole number",
        "a string" => "expected text in quotes",
        "a sequence" => "expected a list in brackets",
        "a TOML datetime" => "expected a date",
        "a map" => "expected a section",
        section if section.starts_with("struct ") => "expected a section",
        other => &format!("expected {other}"),
    };
    let problem = Problem::at(span, message, label);
    match advice(shown, key, expected) {
        Some(advice) => problem.help(advice),
        None => problem,
    }
}

/// The problem of a value that is neither a number nor in quotes.
pub(super) fn unquoted(text: &str, span: Range<usize>) -> Problem {
    let shown = text.get(span.clone()).unwrap_or_default();
    let key = key_before(text, span.start);
    let problem = Problem::at(
        span,
        format!("{shown} is neither a number nor text"),
        "expected a number, or text in quotes",
    );
    match number_and_unit(shown, key) {
        Some(advice) => problem.help(advice),
        None if shown.trim().is_empty() => problem.help("write a value behind the `=`"),
        None => problem.help(format!("text stands in quotes: \"{shown}\"")),
    }
}

/// How to write the value, where it is clear what was meant.
fn advice(shown: &str, key: Option<&str>, expected: &str) -> Option<String> {
    let inner = shown.trim_matches(['"', '\'']).trim();
    match expected {
        "f64" | "i64" if inner.len() != shown.len() && inner.parse::<f64>().is_ok() => {
            Some(format!("write it without quotes: {inner}"))
        }
        "f64" if with_decimal_point(inner).is_some() => with_decimal_point(inner).map(|number| {
            format!("decimals are written with a point, and without quotes: {number}")
        }),
        "f64" => number_and_unit(inner, key),
        section if section == "a map" || section.starts_with("struct ") => {
            let key = key?;
            Some(format!(
                "a section has keys of its own: [{key}] with a line for each, or {key} = {{ … }}"
            ))
        }
        "i64" => {
            let whole = inner.strip_suffix(".0")?;
            Some(format!("write it without a point: {whole}"))
        }
        "a TOML datetime" => Some(match date::meant(inner) {
            Some(date) => format!("a date without quotes, year-month-day: {date}"),
            None => "a date without quotes, for example 2026-11-01".to_owned(),
        }),
        "a string" if inner.starts_with(['[', '{']) => None,
        "a string" => Some(format!("text stands in quotes: \"{inner}\"")),
        "a sequence" if shown.trim_matches(['[', ']', ' ']) == "camera" => {
            Some(super::EACH_CAMERA.to_owned())
        }
        _ => None,
    }
}

/// Advice on a number with something behind it: nearly always its unit.
fn number_and_unit(shown: &str, key: Option<&str>) -> Option<String> {
    let digits = |c: char| c.is_ascii_digit() || "+-.,".contains(c);
    let unit_at = shown.find(|c: char| !digits(c))?;
    let (number, unit) = shown.split_at(unit_at);
    number.replace(',', ".").parse::<f64>().ok()?;
    let of_key = key.and_then(|key| Some((key, key.rsplit_once('_')?.1)));
    Some(match of_key {
        Some((key, of_key)) if unit.trim().eq_ignore_ascii_case(of_key) => {
            let number = number.replace(',', ".");
            format!("the unit is in the key's name; write {key} = {number}")
        }
        Some((_, of_key)) => {
            format!("write the number alone, in the unit of the key's name: {of_key}")
        }
        None => "write the number alone".to_owned(),
    })
}

/// The whole of a key outside quotes whose part before a dot is at `span`: what serde takes for
/// the value.
fn key_with_dots<'a>(text: &'a str, span: &Range<usize>) -> Option<&'a str> {
    let part = |c: char| c.is_ascii_alphanumeric() || "_-.".contains(c);
    let behind = text.get(span.end..)?;
    let rest = behind.trim_start_matches(part);
    let is_key = behind.starts_with('.') && rest.trim_start().starts_with('=');
    is_key.then(|| text.get(span.start..text.len() - rest.len()))?
}

/// The key before a value that starts at `start`, if it stands in the same line.
fn key_before(text: &str, start: usize) -> Option<&str> {
    let line = text.get(..start)?.rsplit('\n').next()?;
    let before = line.trim_end().strip_suffix('=')?.trim_end();
    let bare = |c: char| c.is_ascii_alphanumeric() || c == '_' || c == '-';
    let key = before.rsplit(|c| !bare(c)).next()?;
    (!key.is_empty()).then_some(key)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn told(text: &str, value: &str, expected: &str) -> (String, String) {
        let at = text.find(value).unwrap();
        let problem = wrong_value(text, at..at + value.len(), expected);
        (problem.message, problem.help.unwrap_or_default())
    }

    #[test]
    fn a_unit_in_the_value_is_told_from_another_unit() {
        let (message, help) = told("draw = { standby_mw = \"0.6 mW\" }", "\"0.6 mW\"", "f64");
        assert_eq!(message, "`standby_mw` is \"0.6 mW\"");
        assert!(help.ends_with("standby_mw = 0.6"), "{help}");
        let (_, help) = told("standby_mw = \"600 uW\"", "\"600 uW\"", "f64");
        assert!(help.ends_with("the unit of the key's name: mw"), "{help}");
    }

    #[test]
    fn a_name_with_a_dot_outside_quotes() {
        let (message, help) = told("acid-7.2ah = 350", "acid-7", "f64");
        assert!(message.starts_with("`acid-7.2ah` has a dot"), "{message}");
        assert_eq!(help, "put the name in quotes: \"acid-7.2ah\"");
    }

    #[test]
    fn quotes_and_points_are_taken_off() {
        let (_, help) = told("latitude_deg = \"-61,2\"", "\"-61,2\"", "f64");
        assert!(help.ends_with("without quotes: -61.2"), "{help}");
        let (_, help) = told("latitude_deg = \"61.2\"", "\"61.2\"", "f64");
        assert!(help.ends_with("without quotes: 61.2"), "{help}");
        let (_, help) = told("series = 8.0", "8.0", "i64");
        assert!(help.ends_with("without a point: 8"), "{help}");
    }
}
