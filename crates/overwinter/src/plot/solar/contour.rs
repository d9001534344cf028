//! Lines between cells that reach some odds and cells that do not. They follow the cells' edges: between
//! two sizes nothing was computed.

use crate::plot::grid::Grid;
use crate::plot::picture::{Picture, Stroke};

/// A line, drawn `aside` units from the edges, towards the cells that reach the odds: so that lines of
/// several odds along one edge lie side by side.
pub(super) fn line(
    picture: &mut Picture,
    grid: &Grid,
    reaches: impl Fn(usize, usize) -> bool,
    aside: i32,
    stroke: Stroke,
) {
    let cell = |column: Option<usize>, row: Option<usize>| {
        let (column, row) = (column?, row?);
        (column < grid.across && row < grid.up).then(|| reaches(column, row))
    };
    let end = |beyond| past_end(beyond, aside, stroke);
    for row in 0..grid.up {
        for column in 0..grid.across {
            let here = reaches(column, row);
            let side = if here { aside } else { -aside };
            let (to_left, below) = (column.checked_sub(1), row.checked_sub(1));
            let (to_right, above) = (Some(column + 1), Some(row + 1));
            if cell(to_left, Some(row)).is_some_and(|left| left != here) {
                let beyond = |row| ordered(here, cell(Some(column), row), cell(to_left, row));
                let x = grid.x(column) + side;
                let bottom = grid.y(row) + end(beyond(below));
                let top = grid.y(row + 1) - end(beyond(above));
                picture.path([(x, bottom), (x, top)], stroke);
            }
            if cell(Some(column), below).is_some_and(|below| below != here) {
                let beyond = |column| ordered(here, cell(column, Some(row)), cell(column, below));
                let y = grid.y(row) - side;
                let from = grid.x(column) - end(beyond(to_left));
                let to = grid.x(column + 1) + end(beyond(to_right));
                picture.path([(from, y), (to, y)], stroke);
            }
        }
    }
}

/// The two cells beyond an edge's end, the one on the side that reaches the odds first.
type Beyond = [Option<bool>; 2];

fn ordered(here_reaches: bool, here: Option<bool>, there: Option<bool>) -> Beyond {
    if here_reaches {
        [here, there]
    } else {
        [there, here]
    }
}

/// How far beyond its edge's end a line goes: to where it meets the next one around a corner.
fn past_end(beyond: Beyond, aside: i32, stroke: Stroke) -> i32 {
    // Half a width more closes the corner.
    let corner = stroke.width.cast_signed() / 2;
    match beyond {
        [Some(false), _] => corner - aside,
        [Some(true), Some(true)] => corner + aside,
        _ => 0,
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::plot::axis::Frame;
    use crate::plot::picture::{INK, Mark, Point};

    /// The pieces of a line through cells of a hundred units.
    fn pieces(reaches: &[Vec<bool>], aside: i32, width: u32) -> Vec<[Point; 2]> {
        let (across, up) = (reaches[0].len(), reaches.len());
        let frame = Frame {
            left: 0,
            top: 0,
            right: 100 * across as i32,
            bottom: 100 * up as i32,
        };
        let grid = Grid { frame, across, up };
        let mut picture = Picture::new();
        let stroke = Stroke::solid(INK, width);
        line(
            &mut picture,
            &grid,
            |column, row| reaches[row][column],
            aside,
            stroke,
        );
        let pieces = picture.marks.iter().map(|mark| match mark {
            Mark::Path(points, _) => [points[0], points[1]],
            other => panic!("{other:?}"),
        });
        pieces.collect()
    }

    proptest! {
        #[test]
        fn a_line_parts_cells_and_is_whole(
            reaches in prop::collection::vec(prop::collection::vec(any::<bool>(), 5), 4),
            aside in -21..=21_i32,
        ) {
            let beside = reaches.iter().flat_map(|row| row.windows(2)).filter(|pair| pair[0] != pair[1]);
            let above = reaches.windows(2).flat_map(|rows| rows[0].iter().zip(&rows[1]));
            let borders = beside.count() + above.filter(|(a, b)| a != b).count();
            let pieces = pieces(&reaches, aside, 10);
            prop_assert_eq!(pieces.len(), borders);
            for (place, [from, to]) in pieces.iter().enumerate() {
                for end in [from, to] {
                    let leaves = end.0 == 0 || end.0 == 500 || end.1 == 0 || end.1 == 400;
                    let near = |[a, b]: &[Point; 2]| {
                        let within = |a: i32, b: i32, at: i32| (a.min(b) - 5..=a.max(b) + 5).contains(&at);
                        within(a.0, b.0, end.0) && within(a.1, b.1, end.1)
                    };
                    let others = pieces[..place].iter().chain(&pieces[place + 1..]);
                    prop_assert!(leaves || others.into_iter().any(near), "{:?} {:?}", end, pieces);
                }
            }
        }
    }
}
