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
