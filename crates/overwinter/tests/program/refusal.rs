//! How tests spoil a line file, and look at what is said about it.

use crate::sandbox::{LINE, Sandbox};

/// Runs a line file that must be refused, with nothing written.
pub(crate) fn refused(text: impl AsRef<[u8]>) -> String {
    let sandbox = Sandbox::with_line(text);
    let said = sandbox.run(&["forecast", "line.toml"]).refused();
    assert_eq!(sandbox.names(), ["line.toml"]);
    said
}

/// `line.toml:LINE:COLUMN` of the last `mark` in the text.
pub(crate) fn place(text: &str, mark: &str) -> String {
    let at = text.rfind(mark).expect("the mark is in the text");
    let before = &text[..at];
    let line = before.matches('\n').count() + 1;
    let column = before
        .rsplit('\n')
        .next()
        .map_or(0, |line| line.chars().count())
        + 1;
    format!("line.toml:{line}:{column}\n")
}

/// Asserts that the text is refused at `mark`, with all of `says` in the message.
#[track_caller]
pub(crate) fn refused_at(text: &str, mark: &str, says: &[&str]) {
    let said = refused(text);
    let place = place(text, mark);
    assert!(said.contains(&place), "{said}\nis not at {place}");
    for words in says {
        assert!(said.contains(words), "{said}\ndoes not say: {words}");
    }
}

/// The line with `from` replaced.
#[track_caller]
pub(crate) fn with(from: &str, to: &str) -> String {
    assert!(LINE.contains(from), "{from}");
    LINE.replace(from, to)
}

/// The line with more about its camera.
pub(crate) fn and(more: &str) -> String {
    format!("{LINE}{more}\n")
}
