//! Plain tables for a terminal: a line under the head and nothing else drawn.

use comfy_table::{CellAlignment, ContentArrangement, LineStyle, Table, TableStyle};

/// How a column stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Column {
    /// Text.
    Left,
    /// Numbers.
    Right,
}

/// A table with `head` over `rows`; as wide as the terminal at the most, where there is one.
#[must_use]
pub fn table(head: &[(&str, Column)], rows: Vec<Vec<String>>) -> String {
    let mut table = Table::new();
    table
        .load_style(TableStyle::new().header_separator(LineStyle::none().fill('-')))
        .set_content_arrangement(ContentArrangement::Dynamic)
        .set_header(head.iter().map(|(name, _)| *name))
        .add_rows(rows);
    for (column, (_, stands)) in table.column_iter_mut().zip(head) {
        column.set_padding((0, 2));
        if *stands == Column::Right {
            column.set_cell_alignment(CellAlignment::Right);
        }
    }
    let lines = table.lines().map(|line| line.trim_end().to_owned());
    lines.collect::<Vec<_>>().join("\n")
}

/// `count` of the numbers below `all`, as evenly spread as they can be.
#[must_use]
pub fn evenly(all: usize, count: usize) -> Vec<usize> {
    if count >= all {
        return (0..all).collect();
    }
    let gaps = count.saturating_sub(1).max(1);
    (0..count)
        .map(|place| (place * (all - 1) + gaps / 2) / gaps)
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn thinned_numbers_keep_both_ends() {
        assert_eq!(evenly(5, 9), [0, 1, 2, 3, 4]);
        assert_eq!(evenly(10, 4), [0, 3, 6, 9]);
        assert_eq!(evenly(100, 3), [0, 50, 99]);
    }
}
