//! Which sizes are the chosen one and the line file's own.

use super::{PanelMap, chosen_size};
use crate::plot::grid::Grid;
use crate::plot::picture::{INK, PAPER, Picture, Point};

/// From the middle of a mark to its side.
pub(super) const RADIUS: i32 = 15;

/// From the top of a cell to a mark.
const MARK_DOWN: i32 = 88;

/// The marks of sizes.
#[derive(Clone, Copy)]
pub(super) enum Mark {
    /// A filled diamond.
    Chosen,
    /// An open square.
    Own,
}

impl Mark {
    pub(super) fn draw(self, picture: &mut Picture, (x, y): Point) {
        let diamond = |r: i32| [(x - r, y), (x, y - r), (x + r, y), (x, y + r)];
        let square = |r: i32| {
            [
                (x - r, y - r),
                (x + r, y - r),
                (x + r, y + r),
                (x - r, y + r),
            ]
        };
        match self {
            Self::Chosen => {
                picture.area(diamond(RADIUS + 12), PAPER);
                picture.area(diamond(RADIUS + 6), INK);
            }
            Self::Own => {
                picture.area(square(RADIUS + 4), PAPER);
                picture.area(square(RADIUS), INK);
                picture.area(square(RADIUS - 6), PAPER);
            }
        }
    }
}

/// A size among others: at one of them, or between the one before and this one.
enum Place {
    At(usize),
    Before(usize),
}

impl Place {
    fn of(value: f64, among: &[f64]) -> Self {
        let same = |other: &f64| (other - value).abs() <= 1e-6 * value.abs();
        among.iter().position(same).map_or_else(
            || Self::Before(among.iter().filter(|other| **other < value).count()),
            Self::At,
        )
    }
}

/// The marks in their cells below the figures; a size that is none of the map's lies on the line
/// between its neighbours, or on the frame.
pub(super) fn marks(picture: &mut Picture, grid: &Grid, map: &PanelMap) {
    let at = |(watts, wh): (f64, f64)| {
        let x = match Place::of(watts, &map.panels_w) {
            Place::At(column) => grid.middle(column, 0).0,
            Place::Before(column) => grid.x(column),
        };
        let y = match Place::of(wh, &map.stores_wh) {
            Place::At(row) => grid.y(row + 1) + MARK_DOWN,
            Place::Before(row) => grid.y(row),
        };
        (x, y)
    };
    let chosen = chosen_size(map).map(at);
    let own = map.own.map(at);
    // Side by side where they are one.
    let apart = if chosen == own { 2 * RADIUS } else { 0 };
    if let Some((x, y)) = chosen {
        Mark::Chosen.draw(picture, (x - apart, y));
    }
    if let Some((x, y)) = own {
        Mark::Own.draw(picture, (x + apart, y));
    }
}
