//! Plain tables for a terminal: a line under the head and nothing else drawn.

use comfy_table::{
    CellAlignment, ColumnConstraint, ContentArrangement, LineStyle, TableStyle, Width,
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
    comfy_table::Table::new()
        .width()
        .map(|width| believed(width.into()))
}

/// A width that a terminal says it has, or a usual one: some say 0 that do not know.
fn believed(width: usize) -> usize {
    if width < NARROWEST { USUAL } else { width }
}

/// One column: what stands over it, and a cell for each row.
struct Filled {
    name: String,
    stands: Column,
    cells: Vec<String>,
}

/// A table of things, a row each. A column comes with the cells of all rows, so that no row can be
/// longer or shorter than the head.
pub struct Table<T> {
    rows: Vec<T>,
    columns: Vec<Filled>,
}

impl<T> Table<T> {
    /// A table without columns yet.
    #[must_use]
    pub fn of(rows: impl IntoIterator<Item = T>) -> Self {
        Self {
            rows: rows.into_iter().collect(),
            columns: Vec::new(),
        }
    }

    /// With more columns to the right: their names, and their cells in each row.
    #[must_use]
    pub fn with<const N: usize>(
        mut self,
        heads: [(&str, Column); N],
        cells: impl Fn(&T) -> [String; N],
    ) -> Self {
        let mut columns = heads.map(|(name, stands)| Filled {
            name: name.to_owned(),
            stands,
            cells: Vec::with_capacity(self.rows.len()),
        });
        for row in &self.rows {
            for (column, cell) in columns.iter_mut().zip(cells(row)) {
                column.cells.push(cell);
            }
        }
        self.columns.extend(columns);
        self
    }

    /// With more columns where they are `wanted`.
    #[must_use]
    pub fn with_if<const N: usize>(
        self,
        wanted: bool,
        heads: [(&str, Column); N],
        cells: impl Fn(&T) -> [String; N],
    ) -> Self {
        if wanted {
            self.with(heads, cells)
        } else {
            self
        }
    }

    /// The table for a person; as wide as the terminal at the most, where there is one.
    #[must_use]
    pub fn text(&self) -> String {
        within(&self.columns, terminal_width())
    }
}

/// Between two columns.
const GAP: usize = 2;

/// A table of so many characters at the most. Cells break between words only: what does not fit
/// even so follows below, under the first column once more.
fn within(columns: &[Filled], width: Option<usize>) -> String {
    let narrowest: Vec<usize> = columns.iter().map(narrowest).collect();
    let parts = parts(&narrowest, width.unwrap_or(usize::MAX));
    let parts = parts.iter().map(|places| {
        let columns: Vec<_> = places.iter().map(|&place| &columns[place]).collect();
        let narrowest: Vec<_> = places.iter().map(|&place| narrowest[place]).collect();
        part(&columns, &narrowest, width)
    });
    parts.collect::<Vec<_>>().join("\n\n")
}

/// Binds the units to their numbers, until the table stands.
fn tied(cell: &str) -> String {
    cell.replace(" %", "\u{a0}%").replace(" °C", "\u{a0}°C")
}

/// The longest word of a column with the gap behind it.
fn narrowest(column: &Filled) -> usize {
    let texts = std::iter::once(&column.name).chain(&column.cells);
    let longest = texts.flat_map(|text| {
        let words = tied(text);
        let lengths = words.split([' ', '\n']).map(|word| word.chars().count());
        lengths.max()
    });
    longest.max().unwrap_or(0) + GAP
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

fn part(columns: &[&Filled], narrowest: &[usize], width: Option<usize>) -> String {
    let rows = columns.first().map_or(0, |column| column.cells.len());
    let row = |row: usize| columns.iter().map(move |column| tied(&column.cells[row]));
    let mut table = comfy_table::Table::new();
    table
        .load_style(TableStyle::new().header_separator(LineStyle::none().fill('-')))
        .set_content_arrangement(ContentArrangement::Dynamic)
        .set_header(columns.iter().map(|column| column.name.as_str()))
        .add_rows((0..rows).map(row));
    if let Some(width) = width.and_then(|width| u16::try_from(width).ok()) {
        table.set_width(width);
    }
    for ((drawn, column), least) in table.column_iter_mut().zip(columns).zip(narrowest) {
        drawn.set_padding((0, GAP as u16));
        if let Ok(least) = u16::try_from(*least) {
            drawn.set_constraint(ColumnConstraint::LowerBoundary(Width::Fixed(least)));
        }
        if column.stands == Column::Right {
            drawn.set_cell_alignment(CellAlignment::Right);
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
            let rows = cells.len() / columns;
            let filled: Vec<Filled> = (0..columns)
                .map(|column| Filled {
                    name: cells[column].clone(),
                    stands: Column::Left,
                    cells: (0..rows).map(|row| cells[row * columns + column].clone()).collect(),
                })
                .collect();
            let text = within(&filled, Some(width));
            let told: Vec<&str> = text.split_whitespace().collect();
            for word in cells.iter().take(cells.len() / columns * columns).flat_map(|cell| cell.split(' ')) {
                prop_assert!(told.contains(&word), "{word}\n{text}");
            }
            prop_assert!(text.lines().all(|line| line.chars().count() <= width), "{width}\n{text}");
        }
    }

    #[test]
    fn what_does_not_fit_follows_under_the_first_column() {
        let table = Table::of(["alkaline"]).with(
            [
                ("cell", Column::Left),
                ("days", Column::Right),
                ("end", Column::Left),
            ],
            |cell| [*cell, "7", "the weakest"].map(str::to_owned),
        );
        assert_eq!(
            within(&table.columns, Some(22)),
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
