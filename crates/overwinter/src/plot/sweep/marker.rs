//! Marks at points, told apart by their shape.

use std::f64::consts::TAU;

use plotters::style::RGBColor;

use crate::plot::picture::{PAPER, Picture, Point};

/// From the middle of a mark to its corners, units.
pub(super) const RADIUS: f64 = 13.0;

/// A regular polygon: its corners, and how far it is turned, as a share of a whole turn. A mark of
/// one is round, square, a triangle, a diamond, a triangle on its tip, or a ring.
const SHAPES: [(u32, f64, bool); 6] = [
    (16, 0.0, false),
    (4, 0.125, false),
    (3, 0.75, false),
    (4, 0.0, false),
    (3, 0.25, false),
    (16, 0.0, true),
];

/// The mark of a number; after six they begin again.
pub(super) fn mark(picture: &mut Picture, number: usize, at: Point, colour: RGBColor) {
    let (corners, turned, hollow) = SHAPES[number % SHAPES.len()];
    picture.area(polygon(at, corners, turned, RADIUS), colour);
    if hollow {
        picture.area(polygon(at, corners, turned, RADIUS * 0.55), PAPER);
    }
}

fn polygon((x, y): Point, corners: u32, turned: f64, radius: f64) -> Vec<Point> {
    let corner = |number: u32| {
        let angle = TAU * (f64::from(number) / f64::from(corners) + turned);
        // A few units: it fits.
        let (dx, dy) = (radius * angle.cos(), radius * angle.sin());
        (x + dx.round() as i32, y + dy.round() as i32)
    };
    (0..corners).map(corner).collect()
}
