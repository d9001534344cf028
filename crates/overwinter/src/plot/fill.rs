//! Fills of rectangles that are told apart without colour.

use plotters::style::RGBColor;

use super::picture::{INK, Picture, Point, Stroke};

/// Between the lightest and the darkest fill.
pub(super) const MIDDLE: RGBColor = RGBColor(0x8a, 0x9a, 0xab);

/// A fill that is told from its neighbours without colour.
#[derive(Clone, Copy)]
pub(super) struct Fill {
    ground: RGBColor,
    /// Lines over the ground: how far apart, and which way.
    lines: Option<(i32, Way)>,
}

/// Which way a fill's lines go.
#[derive(Clone, Copy, PartialEq)]
pub(super) enum Way {
    Up,
    Down,
    Across,
    Upright,
}

/// A colour as the fill behind its line: mostly paper.
pub(super) fn pale(RGBColor(red, green, blue): RGBColor) -> RGBColor {
    let pale = |part: u8| 0xff - (0xff - part) / 8;
    RGBColor(pale(red), pale(green), pale(blue))
}

/// A fill without lines.
pub(super) const fn plain(ground: RGBColor) -> Fill {
    Fill {
        ground,
        lines: None,
    }
}

/// Lines over a ground.
pub(super) const fn lined(ground: RGBColor, apart: i32, way: Way) -> Fill {
    Fill {
        ground,
        lines: Some((apart, way)),
    }
}

/// A dark edge around a rectangle.
pub(super) fn outline(picture: &mut Picture, (left, top): Point, (right, bottom): Point) {
    let corners = [(left, top), (right, top), (right, bottom), (left, bottom)];
    let round = corners.into_iter().chain([(left, top)]);
    picture.path(round, Stroke::solid(INK, 3));
}

/// A rectangle with its fill and its outline; one of no size is left out.
pub(super) fn fill(picture: &mut Picture, (left, top): Point, (right, bottom): Point, fill: Fill) {
    if right <= left || bottom <= top {
        return;
    }
    ground(picture, (left, top), (right, bottom), fill);
    outline(picture, (left, top), (right, bottom));
}

/// The same without its outline. Lines of neighbours go on in each other.
pub(super) fn ground(
    picture: &mut Picture,
    (left, top): Point,
    (right, bottom): Point,
    fill: Fill,
) {
    if right <= left || bottom <= top {
        return;
    }
    picture.block((left, top), (right, bottom), fill.ground);
    let Some((apart, way)) = fill.lines else {
        return;
    };
    let (width, height) = (right - left, bottom - top);
    let (length, start) = match way {
        Way::Across => (height, top),
        Way::Upright => (width, left),
        Way::Up => (width + height, left + top),
        Way::Down => (width + height, left - bottom),
    };
    let mut from = apart - start.rem_euclid(apart);
    while from < length {
        let ends = match way {
            Way::Across => [(left, top + from), (right, top + from)],
            Way::Upright => [(left + from, top), (left + from, bottom)],
            Way::Up | Way::Down => slanted((left, top), (width, height), from, way),
        };
        picture.path(ends, Stroke::solid(INK, 4));
        from += apart;
    }
}

/// A line at 45 degrees through a rectangle, `from` along its upper edge and then down its right
/// one (or, for a line that goes down to the right, their mirror images).
fn slanted((left, top): Point, (width, height): (i32, i32), from: i32, way: Way) -> [Point; 2] {
    // The line of all points whose distances from the left and the upper edge add up to `from`.
    let high = (from.min(width), (from - width).max(0));
    let low = ((from - height).max(0), from.min(height));
    [high, low].map(|(right, down)| {
        let down = if way == Way::Down {
            height - down
        } else {
            down
        };
        (left + right, top + down)
    })
}
