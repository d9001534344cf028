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
