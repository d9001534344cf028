//! A camera's set of cells in words.

use overwinter_line::answer::document::SetDocument;

/// `8 x alkaline-aa`, with the strings where there are several.
pub(super) fn cells(set: &SetDocument) -> String {
    match set.parallel {
        1 => format!("{} x {}", set.series, set.cell),
        n => format!("{n} x {} x {}", set.series, set.cell),
    }
}
