//! Cells of a map.

use super::axis::Frame;
use super::picture::Point;

/// Where the cells of a map are.
pub(super) struct Grid {
    pub(super) frame: Frame,
    pub(super) across: usize,
    pub(super) up: usize,
}

impl Grid {
    /// Left edge of a column; the number of columns gives the right edge of the last.
    pub(super) fn x(&self, column: usize) -> i32 {
        let width = i64::from(self.frame.width());
        // A share of the width, so it fits.
        self.frame.left + (width * column as i64 / self.across as i64) as i32
    }

    /// Bottom edge of a row, counted from the bottom.
    pub(super) fn y(&self, row: usize) -> i32 {
        let height = i64::from(self.frame.bottom - self.frame.top);
        self.frame.bottom - (height * row as i64 / self.up as i64) as i32
    }

    /// The middle of a cell.
    pub(super) fn middle(&self, column: usize, row: usize) -> Point {
        (
            i32::midpoint(self.x(column), self.x(column + 1)),
            i32::midpoint(self.y(row), self.y(row + 1)),
        )
    }
}
