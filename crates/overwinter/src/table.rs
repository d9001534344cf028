//! Plain tables for a terminal: a line under the head and nothing else drawn.

use comfy_table::{
    CellAlignment, ColumnConstraint, ContentArrangement, LineStyle, Table, TableStyle, Width,
};

/// No terminal is narrower that somebody reads.
const NARROWEST: usize = 20;

/// A terminal's width, where it is not known.
const USUAL: usize = 80;

/// How a column stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Column {
    /// Text.
    Left,
    /// Numbers.
    Right,
}

/// The terminal's width in characters, if the answer goes to one.
#[must_use]
pub fn terminal_width() -> Option<usize> {
    Table::new().width().map(|width| believed(width.into()))
}

/// A width that a terminal says it has, or a usual one: some say 0 that do not know.
fn believed(width: usize) -> usize {
    if width < NARROWEST { USUAL } else { width }
}

/// A table with `head` over `rows`; as wide as the terminal at the most, where there is one.
#[must_use]
pub fn table(head: &[(&str, Column)], rows: Vec<Vec<String>>) -> String {
    within(head, &rows, terminal_width())
}

/// Between two columns.
const GAP: usize = 2;

/// A table of so many characters at the most. Cells break between words only: what does not fit
/// even so follows below, under the first column once more.
fn within(head: &[(&str, Column)], rows: &[Vec<String>], width: Option<usize>) -> String {
    let narrowest = narrowest(head, rows);
    let parts = parts(&narrowest, width.unwrap_or(usize::MAX));
    let parts = parts.iter().map(|columns| {
        let of = |row: &Vec<String>| -> Vec<String> {
            let cells = columns.iter().filter_map(|&column| row.get(column));
            cells.map(|cell| tied(cell)).collect()
        };
        let head: Vec<_> = columns.iter().map(|&column| head[column]).collect();
        let narrowest: Vec<_> = columns.iter().map(|&column| narrowest[column]).collect();
        part(&head, rows.iter().map(of), &narrowest, width)
    });
    parts.collect::<Vec<_>>().join("\n\n")
}

/// Binds the units to their numbers, until the table stands.
fn tied(cell: &str) -> String {
    cell.replace(" %", "\u{a0}%").replace(" °C", "\u{a0}°C")
}

/// The longest word of each column with the gap behind it.
fn narrowest(head: &[(&str, Column)], rows: &[Vec<String>]) -> Vec<usize> {
    let longest = |text: &str| {
        let text = tied(text);
        let words = text.split([' ', '\n']).map(|word| word.chars().count());
        words.max().unwrap_or(0)
    };
    let columns = head.iter().enumerate().map(|(column, (name, _))| {
        let cells = rows.iter().filter_map(|row| row.get(column));
        cells
            .map(|cell| longest(cell))
            .fold(longest(name), usize::max)
            + GAP
    });
    columns.collect()
}

/// Which columns stand together: as many as there is room for, the first always.
fn parts(narrowest: &[usize], width: usize) -> Vec<Vec<usize>> {
    let first = narrowest.first().copied().unwrap_or(0);
    let mut parts = vec![Vec::new()];
    let mut taken = 0;
    for (column, room) in narrowest.iter().enumerate() {
        if let Some(part) = parts.last_mut()
            && (part.len() < 2 || taken + room <= width)
        {
            part.push(column);
            taken += room;
        } else {
            parts.push(vec![0, column]);
            taken = first + room;
        }
    }
    parts
}

fn part(
    head: &[(&str, Column)],
    rows: impl Iterator<Item = Vec<String>>,
    narrowest: &[usize],
    width: Option<usize>,
) -> String {
    let mut table = Table::new();
    table
        .load_style(TableStyle::new().header_separator(LineStyle::none().fill('-')))
        .set_content_arrangement(ContentArrangement::Dynamic)
        .set_header(head.iter().map(|(name, _)| *name))
        .add_rows(rows);
    if let Some(width) = width.and_then(|width| u16::try_from(width).ok()) {
        table.set_width(width);
    }
    for ((column, (_, stands)), least) in table.column_iter_mut().zip(head).zip(narrowest) {
        column.set_padding((0, GAP as u16));
        if let Ok(least) = u16::try_from(*least) {
            column.set_constraint(ColumnConstraint::LowerBoundary(Width::Fixed(least)));
        }
        if *stands == Column::Right {
            column.set_cell_alignment(CellAlignment::Right);
        }
    }
    let lines = table
        .lines()
        .map(|line| line.trim_end().replace('\u{a0}', " "));
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
    use proptest::prelude::*;

    use super::*;

    proptest! {
        #[test]
        fn words_stay_whole_and_lines_within_the_width(
            cells in prop::collection::vec("[a-zµ°]{1,12}( [a-z0-9]{1,9}){0,3}", 12),
            columns in 1..=6_usize,
            width in 30..120_usize,
        ) {
            let head: Vec<_> = cells[..columns].iter().map(|name| (name.as_str(), Column::Left)).collect();
            let rows: Vec<Vec<String>> = cells.chunks_exact(columns).map(<[_]>::to_vec).collect();
            let text = within(&head, &rows, Some(width));
            let told: Vec<&str> = text.split_whitespace().collect();
            for word in cells.iter().take(cells.len() / columns * columns).flat_map(|cell| cell.split(' ')) {
                prop_assert!(told.contains(&word), "{word}\n{text}");
            }
            prop_assert!(text.lines().all(|line| line.chars().count() <= width), "{width}\n{text}");
        }
    }

    #[test]
    fn what_does_not_fit_follows_under_the_first_column() {
        let head = [
            ("cell", Column::Left),
            ("days", Column::Right),
            ("end", Column::Left),
        ];
        let rows = vec![vec![
            "alkaline".to_owned(),
            "7".to_owned(),
            "the weakest".to_owned(),
        ]];
        assert_eq!(
            within(&head, &rows, Some(22)),
            "cell      days\n----------------\nalkaline     7\n\n\
             cell      end\n-------------------\nalkaline  the\n          weakest"
        );
    }

    #[test]
    fn a_width_that_cannot_be_read_is_not_believed() {
        assert_eq!([0, 19, 20, 57].map(believed), [80, 80, 20, 57]);
    }

    #[test]
    fn thinned_numbers_keep_both_ends() {
        assert_eq!(evenly(5, 9), [0, 1, 2, 3, 4]);
        assert_eq!(evenly(10, 4), [0, 3, 6, 9]);
        assert_eq!(evenly(100, 3), [0, 50, 99]);
    }
}
