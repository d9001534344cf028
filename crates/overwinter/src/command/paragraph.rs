//! Paragraphs for a terminal.

use crate::table::terminal_width;

/// Breaks a paragraph at 100 characters, as wide as the tables come, or at the terminal's width.
pub(super) fn wrap(paragraph: &str) -> String {
    let width = terminal_width().map_or(100, |width| width.min(100));
    let mut lines: Vec<String> = Vec::new();
    for word in paragraph.split(' ') {
        match lines.last_mut() {
            Some(line) if line.chars().count() + 1 + word.chars().count() <= width => {
                line.push(' ');
                line.push_str(word);
            }
            _ => lines.push(word.to_owned()),
        }
    }
    lines.join("\n")
}
