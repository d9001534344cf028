//! Text that comes from a file and goes out again: what may stand in it, and how the rest is shown.
//!
//! A line file comes from a colleague, a weather file from anywhere. Nothing of them may clear a
//! terminal, turn a table around or make a picture that no program opens.

use std::borrow::Cow;
use std::path::Path;

/// Whether a character would do something other than stand there: a control character, one that turns
/// the direction of writing (Unicode Standard Annex 9) or ends a line, or one that XML 1.0 has not.
#[must_use]
pub fn is_unprintable(character: char) -> bool {
    character.is_control()
        || matches!(character,
            '\u{061c}' | '\u{200e}' | '\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2066}'..='\u{2069}'
            | '\u{fffe}' | '\u{ffff}')
}

/// A text with such characters as escapes, `\u{1b}`.
#[must_use]
pub fn visible(text: &str) -> Cow<'_, str> {
    escaped(text, |_| false)
}

/// A text of several lines with such characters as escapes, but for the ends of its lines.
#[must_use]
pub fn visible_lines(text: &str) -> Cow<'_, str> {
    escaped(text, |character| character == '\n')
}

fn escaped(text: &str, keep: impl Fn(char) -> bool) -> Cow<'_, str> {
    let escape = |character| is_unprintable(character) && !keep(character);
    if !text.contains(escape) {
        return Cow::Borrowed(text);
    }
    let mut shown = String::with_capacity(text.len() + 16);
    for character in text.chars() {
        if escape(character) {
            shown.extend(character.escape_unicode());
        } else {
            shown.push(character);
        }
    }
    Cow::Owned(shown)
}

/// A path as messages name it.
#[must_use]
pub fn path(path: &Path) -> String {
    visible(&path.to_string_lossy()).into_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_would_do_something_becomes_an_escape() {
        let text = "a\u{1b}[2J\u{9b}\u{7f}\u{202e}\u{fffe}\n\u{e4}";
        assert_eq!(
            visible(text),
            "a\\u{1b}[2J\\u{9b}\\u{7f}\\u{202e}\\u{fffe}\\u{a}\u{e4}"
        );
        assert!(visible_lines(text).ends_with("\n\u{e4}"));
        assert!(matches!(visible("Hollen valley \u{b0}"), Cow::Borrowed(_)));
    }
}
