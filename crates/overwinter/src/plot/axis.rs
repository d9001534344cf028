//! Frames with a scale on each side.

use std::ops::Range;

use plotters::coord::ranged1d::Ranged;
use plotters::coord::types::RangedCoordf64;

use super::picture::{Align, GRID, Picture, Point, SOFT, Stroke, TEXT, Text};

/// A scale along one side of a frame.
pub(super) struct Scale {
    values: RangedCoordf64,
    range: Range<f64>,
    units: (i32, i32),
}

impl Scale {
    /// `range` of values over `from..to` units.
    pub(super) fn new(range: Range<f64>, from: i32, to: i32) -> Self {
        Self {
            values: range.clone().into(),
            range,
            units: (from, to),
        }
    }

    /// Where a value stands; one beyond the scale stands at its end.
    pub(super) fn at(&self, value: f64) -> i32 {
        let value = value.clamp(self.range.start, self.range.end);
        self.values.map(&value, self.units)
    }

    /// Whether a value is on the scale.
    pub(super) fn reaches(&self, value: f64) -> bool {
        self.range.contains(&value)
    }

    /// Round values to label, about one in every `room` units.
    pub(super) fn ticks(&self, room: i32) -> Vec<f64> {
        let (from, to) = self.units;
        let most = (from.abs_diff(to) / room.unsigned_abs()).max(2);
        self.values.key_points(most as usize)
    }
}

/// A plot's rectangle.
#[derive(Clone, Copy)]
pub(super) struct Frame {
    pub(super) left: i32,
    pub(super) top: i32,
    pub(super) right: i32,
    pub(super) bottom: i32,
}

/// A thin line to find values by.
pub(super) const THIN: Stroke = Stroke::solid(GRID, 2);

/// A frame's own lines.
const BORDER: Stroke = Stroke::solid(SOFT, 2);

impl Frame {
    pub(super) fn width(&self) -> i32 {
        self.right - self.left
    }

    pub(super) fn middle(&self) -> i32 {
        i32::midpoint(self.top, self.bottom)
    }

    /// A scale from the bottom to the top.
    pub(super) fn upward(&self, range: Range<f64>) -> Scale {
        Scale::new(range, self.bottom, self.top)
    }

    /// A scale from left to right.
    pub(super) fn rightward(&self, range: Range<f64>) -> Scale {
        Scale::new(range, self.left, self.right)
    }

    /// The line across at a height.
    pub(super) fn across(&self, y: i32) -> [Point; 2] {
        [(self.left, y), (self.right, y)]
    }

    /// The line down at a place.
    pub(super) fn down(&self, x: i32) -> [Point; 2] {
        [(x, self.top), (x, self.bottom)]
    }

    /// Bottom and sides.
    pub(super) fn border(&self, picture: &mut Picture) {
        let Self {
            left,
            top,
            right,
            bottom,
        } = *self;
        picture.path(
            [(left, top), (left, bottom), (right, bottom), (right, top)],
            BORDER,
        );
    }

    /// Values on the left with their lines.
    pub(super) fn left_values(&self, picture: &mut Picture, scale: &Scale) {
        for (value, label) in labelled(&scale.ticks(TEXT * 3 / 2)) {
            let y = scale.at(value);
            picture.path(self.across(y), THIN);
            picture.text(Text::new((self.left - 14, y), label, Align::Right));
        }
    }

    /// The same, and what they are.
    pub(super) fn left_axis(&self, picture: &mut Picture, scale: &Scale, title: &str) {
        self.left_values(picture, scale);
        let at = (TEXT, self.middle());
        picture.text(Text::new(at, title, Align::Middle).upright());
    }
}

/// Values with as many decimals as their step needs; the minus sign is a real one.
pub(super) fn labelled(ticks: &[f64]) -> Vec<(f64, String)> {
    let steps = ticks.windows(2).map(|pair| (pair[1] - pair[0]).abs());
    // A single one is a step from zero.
    let step = steps.reduce(f64::min);
    let step = step.or(ticks.first().map(|tick| tick.abs())).unwrap_or(0.0);
    // A step of 0.25 needs two decimals, one of 0.2 one.
    let decimals = (0..4)
        .find(|&decimals| {
            let tens = step * 10_f64.powi(decimals);
            (tens - tens.round()).abs() < 1e-6 * tens.max(1.0)
        })
        .unwrap_or(4);
    let places = usize::try_from(decimals).unwrap_or(0);
    ticks
        .iter()
        .map(|&value| {
            let value = if value.abs() < step * 1e-6 {
                0.0
            } else {
                value
            };
            (value, format!("{value:.places$}").replace('-', "\u{2212}"))
        })
        .collect()
}

/// As many decimals as it needs, two at most.
pub(super) fn plain(value: f64) -> String {
    // Rounded first: `f64` writes all the digits that it has.
    format!("{}", (value * 100.0).round() / 100.0)
}

/// One to three decimals, as many as say something.
pub(super) fn plain_volts(volts: f64) -> String {
    let text = format!("{volts:.3}");
    let short = text.trim_end_matches('0');
    if short.ends_with('.') {
        format!("{short}0")
    } else {
        short.to_owned()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_show_what_they_need() {
        let shown = |ticks: &[f64]| {
            labelled(ticks)
                .into_iter()
                .map(|(_, text)| text)
                .collect::<Vec<_>>()
        };
        assert_eq!(shown(&[-10.0, -0.0, 10.0]), ["\u{2212}10", "0", "10"]);
        assert_eq!(shown(&[3.0]), ["3"]);
        assert_eq!(shown(&[1.0, 1.25, 1.5]), ["1.00", "1.25", "1.50"]);
        assert_eq!([9.0, 1.125, 8.4].map(plain_volts), ["9.0", "1.125", "8.4"]);
        assert_eq!([7.5, 25.000_000_4, 0.126].map(plain), ["7.5", "25", "0.13"]);
    }
}
