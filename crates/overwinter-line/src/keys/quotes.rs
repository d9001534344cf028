//! Quotes that a word processor made of straight ones, and backslashes between double quotes.

use std::ops::Range;

use super::date;
use crate::problem::Problem;

/// Quotation marks as they are printed.
const PRINTED: [char; 10] = [
    '\u{201c}', '\u{201d}', '\u{201e}', '\u{201f}', '\u{2018}', '\u{2019}', '\u{201a}', '\u{201b}',
    '\u{ab}', '\u{bb}',
];

/// What to do about a backslash that was meant as one.
const IN_PATHS: &str = "between double quotes a backslash begins an escape, \\t is a tab; write the path \
    with / or between single quotes";

/// The problem of text that TOML cannot read because of a printed quotation mark at `span`, or at the
/// end of the line before it.
pub(super) fn printed(text: &str, span: &Range<usize>) -> Option<Problem> {
    let from = text.get(span.start..)?;
    let (at, mark) = if from.starts_with(PRINTED) {
        (span.start, from.chars().next()?)
    } else {
        // A text that was opened with a straight one goes on to the end of its line.
        let line = text.get(..span.start)?.rsplit('\n').next()?;
        let is_open = line.matches('"').count() == 1 || line.matches('\'').count() == 1;
        let mark = line.trim_end().chars().next_back()?;
        if !PRINTED.contains(&mark) || !is_open {
            return None;
        }
        let after = span.start - (line.len() - line.trim_end().len());
        (after - mark.len_utf8(), mark)
    };
    let end = if span.start == at { span.end } else { at };
    let end = end.max(at + mark.len_utf8());
    let problem = Problem::at(
        at..end,
        format!("{mark} is a quotation mark of a word processor"),
        "expected straight ones",
    );
    let inner = text.get(at..end)?.trim_matches(PRINTED);
    let needs_none = inner.parse::<f64>().is_ok() || is_date(inner);
    Some(problem.help(if inner.is_empty() {
        "write \" in its place".to_owned()
    } else if needs_none {
        format!("write it without quotes: {inner}")
    } else {
        format!("write \"{inner}\"")
    }))
}

/// The problem of text that TOML cannot read because of a minus that a word processor made of a hyphen, or a
/// space that does not break, within `span`. In quotes and behind a `#` such signs do no harm.
pub(super) fn pasted(text: &str, span: &Range<usize>) -> Option<Problem> {
    let from = text.get(span.start..)?;
    let first = from.chars().next()?.len_utf8();
    let blamed = from.get(..span.len().max(first))?;
    let blamed = blamed.split(['"', '\'', '#', '\n']).next()?;
    let (at, sign) = blamed
        .char_indices()
        .find(|(_, sign)| PASTED.iter().any(|(known, ..)| known == sign))?;
    let (_, what, meant) = PASTED.iter().find(|(known, ..)| *known == sign)?;
    let at = span.start + at..span.start + at + sign.len_utf8();
    Some(
        Problem::at(
            at,
            format!("{what} stands here"),
            "expected what the keyboard types",
        )
        .help(*meant),
    )
}

/// Signs that are pasted in place of those of the keyboard: what they are called, and what was meant.
const PASTED: [(char, &str, &str); 5] = [
    ('\u{2212}', "a typeset minus", "write - before the number"),
    (
        '\u{2013}',
        "a dash",
        "write - before a number, and between the parts of a date",
    ),
    (
        '\u{a0}',
        "a space that does not break",
        "write an ordinary space",
    ),
    (
        '\u{202f}',
        "a space that does not break",
        "write an ordinary space",
    ),
    ('\u{200b}', "a space without width", "take it away"),
];

fn is_date(text: &str) -> bool {
    date::meant(text).is_some_and(|date| date.to_string() == text)
}

/// Advice where TOML stumbles at `at` over an escape between double quotes.
pub(super) fn backslash(text: &str, at: usize) -> Option<&'static str> {
    let line = text.get(..at)?.rsplit('\n').next()?;
    let (before, escape) = line.rsplit_once('\\')?;
    let is_open = before.matches('"').count() % 2 == 1;
    // `\U` with the digits of a code point, as far as there are any.
    let is_escape = escape.len() <= 9 && escape.chars().all(|c| c.is_ascii_alphanumeric());
    (is_open && is_escape).then_some(IN_PATHS)
}

/// Advice on a path out of a TOML file that cannot be read: where it starts, or why it holds a tab.
pub(crate) fn escapes_in_path(path: &str) -> &'static str {
    if path.contains(char::is_control) {
        IN_PATHS
    } else {
        "the path is taken from the line file's folder"
    }
}
