//! A text that problems point into.

/// A file's name as the user gave it, and its text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SourceText {
    /// Name to show.
    pub name: String,
    /// Whole text.
    pub text: String,
}

/// Line and column, in characters from 1, of what follows `before`.
pub(crate) fn place_after(before: &[u8]) -> (usize, usize) {
    let before = String::from_utf8_lossy(before);
    let line = before.matches('\n').count() + 1;
    let start = before.rfind('\n').map_or(0, |end| end + 1);
    (line, before[start..].chars().count() + 1)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn places_are_counted_in_characters_from_one() {
        assert_eq!(place_after(b""), (1, 1));
        assert_eq!(place_after("a\nfjäll".as_bytes()), (2, 6));
        assert_eq!(place_after(b"a\n\n"), (3, 1));
    }
}
