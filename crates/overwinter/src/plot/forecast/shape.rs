//! Shapes by which ends are told apart.

use super::super::picture::{INK, PAPER, Picture, Point, Stroke};

/// The shape at an end, alike in a panel and above it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Shape {
    /// Night pictures.
    Triangle,
    /// Uploads.
    Square,
    /// The card.
    Diamond,
    /// The camera itself.
    Cross,
}

impl Shape {
    pub(super) fn draw(self, picture: &mut Picture, (x, y): Point) {
        let edge = Stroke::solid(INK, 4);
        match self {
            Self::Triangle => outlined(picture, &[(x - 15, y + 12), (x + 15, y + 12), (x, y - 16)]),
            Self::Square => outlined(
                picture,
                &[
                    (x - 12, y - 12),
                    (x + 12, y - 12),
                    (x + 12, y + 12),
                    (x - 12, y + 12),
                ],
            ),
            Self::Diamond => outlined(
                picture,
                &[(x - 15, y), (x, y - 15), (x + 15, y), (x, y + 15)],
            ),
            Self::Cross => {
                for (dx, dy) in [(13, 13), (13, -13)] {
                    let stroke = [(x - dx, y - dy), (x + dx, y + dy)];
                    picture.path(stroke, Stroke::solid(PAPER, 14));
                }
                for (dx, dy) in [(13, 13), (13, -13)] {
                    picture.path(
                        [(x - dx, y - dy), (x + dx, y + dy)],
                        Stroke { width: 7, ..edge },
                    );
                }
            }
        }
    }
}

/// A white shape with a dark edge.
fn outlined(picture: &mut Picture, corners: &[Point]) {
    picture.area(corners.iter().copied(), PAPER);
    let round = corners.iter().chain(corners.first()).copied();
    picture.path(round, Stroke::solid(INK, 4));
}
