//! Doubts and warnings beside an answer.

use overwinter_line::answer::warnings::Told;

use super::paragraph::wrap;

/// That the odds hold what nobody has measured, where a run asked its cells for more than their published
/// points tell; else nothing. `whose` says of which cells `settings` knows.
pub(super) fn beyond_points(beyond_points: bool, whose: &str) -> String {
    if !beyond_points {
        return String::new();
    }
    format!(
        " How far cells may be off beyond their published points, as noted below, is in the odds; \
         `settings` shows what it moves{whose}."
    )
}

/// What is told once, in a line each.
pub(super) fn notes(told: &[Told]) -> String {
    let lines = told.iter().map(|told| {
        let (cell, cameras, text) = (&told.cell, told.cameras.join(", "), &told.warning.text);
        wrap(&format!("Note on {cell} ({cameras}): {text}.")) + "\n"
    });
    let text: String = lines.collect();
    if text.is_empty() { text } else { text + "\n" }
}
