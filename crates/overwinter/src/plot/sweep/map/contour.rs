//! Lines between cells of fewer and of more days. They follow the cells' edges: between two values
//! nothing was computed.

use super::Cells;
use crate::plot::grid::Grid;
use crate::plot::picture::{Align, INK, PAPER, Picture, Point, Stroke, TEXT, Text, width_of};

/// A line that can be seen on dark cells and on light ones.
const CASING: Stroke = Stroke::solid(PAPER, 9);
const CORE: Stroke = Stroke::solid(INK, 3);

/// An edge between two cells.
type Edge = [Point; 2];

/// A line at each level, with its days on it where there is room.
pub(super) fn lines(picture: &mut Picture, grid: &Grid, cells: &Cells, levels: &[f64]) {
    let all: Vec<(f64, Vec<Edge>)> = levels
        .iter()
        .map(|&level| (level, edges(grid, cells, level)))
        .collect();
    for stroke in [CASING, CORE] {
        for edge in all.iter().flat_map(|(_, edges)| edges) {
            picture.path(*edge, stroke);
        }
    }
    let mut taken: Vec<Point> = Vec::new();
    for (level, edges) in &all {
        let label = format!("{level:.0}");
        if let Some(at) = place(grid, edges, &label, &taken) {
            taken.push(at);
            picture.text_on_paper(Text::new(at, label, Align::Middle));
        }
    }
}

/// The edges between cells below a level and cells that are not.
fn edges(grid: &Grid, cells: &Cells, level: f64) -> Vec<Edge> {
    let below = |column: usize, row: usize| cells.at(column, row) < level;
    let mut edges = Vec::new();
    for row in 0..cells.up() {
        for column in 0..cells.across {
            if column > 0 && below(column - 1, row) != below(column, row) {
                let x = grid.x(column);
                edges.push([(x, grid.y(row)), (x, grid.y(row + 1))]);
            }
            if row > 0 && below(column, row - 1) != below(column, row) {
                let y = grid.y(row);
                edges.push([(grid.x(column), y), (grid.x(column + 1), y)]);
            }
        }
    }
    edges
}

/// The middle of an edge where a label meets neither the frame nor another label: the nearest to
/// the middle of the line.
fn place(grid: &Grid, edges: &[Edge], label: &str, taken: &[Point]) -> Option<Point> {
    let half = width_of(label, TEXT) / 2 + 8;
    let frame = &grid.frame;
    let free = |&(x, y): &Point| {
        let inside = x - half >= frame.left
            && x + half <= frame.right
            && y - TEXT >= frame.top
            && y + TEXT <= frame.bottom;
        let clear = |&(other_x, other_y): &Point| {
            (x - other_x).abs() > 3 * half || (y - other_y).abs() > 2 * TEXT
        };
        inside && taken.iter().all(clear)
    };
    let middle = edges.len() / 2;
    let mut middles: Vec<(usize, Point)> = edges
        .iter()
        .map(|[(x1, y1), (x2, y2)]| (i32::midpoint(*x1, *x2), i32::midpoint(*y1, *y2)))
        .enumerate()
        .collect();
    middles.sort_by_key(|(place, _)| place.abs_diff(middle));
    middles.into_iter().map(|(_, at)| at).find(free)
}
