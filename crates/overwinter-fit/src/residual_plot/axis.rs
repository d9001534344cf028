//! The horizontal axes: how long a load is on, in logarithms, and temperature.

use std::ops::Range;

use plotters::coord::ranged1d::{DefaultFormatting, KeyPointHint, Ranged};

/// Where the first instant stands on an axis of logarithms, seconds.
pub(super) const AT_ONCE_S: f64 = 1e-3;

/// What a temperature axis holds whatever the points are, so that the cells' pictures compare.
const LEAST_C: [f64; 2] = [-20.0, 25.0];

/// What a panel has along its horizontal axis.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Across {
    Span,
    Temperature,
}

impl Across {
    pub(super) const fn label(self) -> &'static str {
        match self {
            Self::Span => "how long the load is on",
            Self::Temperature => "temperature, °C",
        }
    }

    /// The ends of the axis around these values.
    pub(super) fn range(self, values: impl Iterator<Item = f64>) -> Range<f64> {
        let around = match self {
            Self::Span => [AT_ONCE_S.log10(), 3.6e5_f64.log10()],
            Self::Temperature => LEAST_C,
        };
        let (low, high) = ends(values.chain(around));
        let margin = 0.03 * (high - low);
        low - margin..high + margin
    }

    /// Where the axis has a line and a word.
    pub(super) fn ticks(self) -> Vec<f64> {
        match self {
            Self::Span => SPANS.iter().map(|(seconds, _)| seconds.log10()).collect(),
            Self::Temperature => (-6..=8).map(|ten| 10.0 * f64::from(ten)).collect(),
        }
    }

    pub(super) fn word(self, at: f64) -> String {
        match self {
            Self::Span => {
                let mut known = SPANS.iter();
                let near = known.find(|(seconds, _)| (seconds.log10() - at).abs() < 1e-6);
                near.map_or_else(String::new, |(_, word)| (*word).to_owned())
            }
            Self::Temperature => format!("{at:.0}"),
        }
    }
}

/// Times that an axis of logarithms shows, in seconds.
const SPANS: [(f64, &str); 8] = [
    (AT_ONCE_S, "at once"),
    (0.1, "0.1 s"),
    (1.0, "1 s"),
    (10.0, "10 s"),
    (100.0, "100 s"),
    (3600.0, "1 h"),
    (3.6e4, "10 h"),
    (3.6e5, "100 h"),
];

/// A horizontal axis with a line where it is told to have one.
pub(super) struct Axis {
    pub(super) range: Range<f64>,
    pub(super) ticks: Vec<f64>,
}

impl Ranged for Axis {
    type FormatOption = DefaultFormatting;
    type ValueType = f64;

    #[expect(clippy::cast_possible_truncation, reason = "a pixel of the picture")]
    fn map(&self, value: &f64, (first, last): (i32, i32)) -> i32 {
        let share = (value - self.range.start) / (self.range.end - self.range.start);
        first + (share * f64::from(last - first)).round() as i32
    }

    fn key_points<Hint: KeyPointHint>(&self, _: Hint) -> Vec<f64> {
        let within = self.ticks.iter().filter(|at| self.range.contains(at));
        within.copied().collect()
    }

    fn range(&self) -> Range<f64> {
        self.range.clone()
    }
}

/// The least and the most of some values.
pub(super) fn ends(values: impl Iterator<Item = f64>) -> (f64, f64) {
    values.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), value| {
        (low.min(value), high.max(value))
    })
}
