//! What a message quotes: one line, in which nothing does anything but stand there.

use std::borrow::Cow;
use std::ops::Range;

use crate::shown::{is_unprintable, visible};

/// More characters of a message are cut off: it quotes what somebody wrote.
const LONGEST_MESSAGE: usize = 400;

/// A message or label on one line that does nothing but stand there.
pub(super) fn told(text: &str) -> Cow<'_, str> {
    let shown = visible(text);
    match shown.char_indices().nth(LONGEST_MESSAGE) {
        Some((cut, _)) => Cow::Owned(format!("{}…", &shown[..cut])),
        None => shown,
    }
}

/// The one line of a file that an error quotes, and the place in it.
pub(super) struct Quoted {
    pub(super) line: String,
    /// Of the line, from 1.
    pub(super) number: usize,
    /// In the line.
    pub(super) span: Range<usize>,
}

impl Quoted {
    /// The line in which `span` starts. What goes on beyond it is marked to its end.
    pub(super) fn of(text: &str, span: &Range<usize>) -> Self {
        let span = clip(span, text.len());
        let at = text.floor_char_boundary(span.start);
        let start = text[..at].rfind('\n').map_or(0, |end| end + 1);
        let end = text[at..].find('\n').map_or(text.len(), |end| at + end);
        let line = text[start..end].trim_end_matches('\r');
        let shown = |part: &str| part.chars().map(stand_in).collect::<String>();
        // A place at the very end is that of the line's end.
        let from = (at - start).min(line.len());
        let to = line.floor_char_boundary(span.end.max(at) - start).max(from);
        let (before, marked) = (shown(&line[..from]), shown(&line[from..to]));
        let span = before.len()..before.len() + marked.len();
        Self {
            line: before + &marked + &shown(&line[to..]),
            number: text[..start].matches('\n').count() + 1,
            span,
        }
    }
}

/// One character for one, so that columns stay: a picture of a control character (Unicode's block of those),
/// or the sign for one that cannot be shown.
fn stand_in(character: char) -> char {
    match character {
        '\t' => '\t',
        '\0'..='\u{1f}' => char::from_u32(0x2400 + u32::from(character)).unwrap_or('\u{fffd}'),
        '\u{7f}' => '\u{2421}',
        other if is_unprintable(other) => '\u{fffd}',
        other => other,
    }
}

/// A span inside the text: a parser may point one past its end.
pub(super) fn clip(span: &Range<usize>, length: usize) -> Range<usize> {
    let start = span.start.min(length);
    start..span.end.clamp(start, length)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn a_quoted_line_is_one_line_and_its_columns_stay() {
        let text = "a = 1\nb\u{9b} = \u{1b}2\n3\n";
        let at = text.find('2').unwrap_or(0);
        let quoted = Quoted::of(text, &(at..text.len()));
        assert_eq!(quoted.line, "b\u{fffd} = \u{241b}2");
        assert_eq!((quoted.number, &quoted.line[quoted.span]), (2, "2"));
        let long = told(&"x\n".repeat(1000)).into_owned();
        assert!(long.chars().count() == LONGEST_MESSAGE + 1 && !long.contains('\n'));
    }

    proptest! {
        #[test]
        fn any_place_in_any_text_is_quoted(text in "(?s).{0,80}", start in 0..100_usize, length in 0..100_usize) {
            let quoted = Quoted::of(&text, &(start..start + length));
            prop_assert!(quoted.line.get(quoted.span).is_some());
            prop_assert!(!quoted.line.contains(|c| c != '\t' && is_unprintable(c)));
        }
    }
}
