//! When the sun stands above a height on one date.

use overwinter_model::{SunDay, Time};
use serde::Serialize;

/// When the sun stands above a height between the two midnights of a date.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Above {
    /// From when to when since the first midnight, the earliest first; two at most on any but the
    /// oddest of days.
    spans: Vec<(Time, Time)>,
}

impl Above {
    pub(super) fn new(sun: &SunDay, altitude_deg: f64) -> Self {
        Self {
            spans: sun.spans_above(altitude_deg).collect(),
        }
    }

    /// From when to when since the first midnight.
    #[must_use]
    pub fn spans(&self) -> &[(Time, Time)] {
        &self.spans
    }

    /// When it climbs through the height on that date.
    pub fn rises(&self) -> impl Iterator<Item = Time> + '_ {
        let starts = self.spans.iter().map(|(from, _)| *from);
        starts.filter(|from| *from > Time::ZERO)
    }

    /// When it sinks through it.
    pub fn sets(&self) -> impl Iterator<Item = Time> + '_ {
        let ends = self.spans.iter().map(|(_, to)| *to);
        ends.filter(|to| *to < Time::from_days(1.0))
    }

    /// Whether it neither rises nor sets: above it all day, or below it.
    #[must_use]
    pub fn all_day(&self) -> Option<bool> {
        let still = self.rises().next().is_none() && self.sets().next().is_none();
        still.then_some(!self.spans.is_empty())
    }

    /// How long in all, 0 to 24 hours.
    #[must_use]
    pub fn length(&self) -> Time {
        let lengths = self.spans.iter().map(|(from, to)| *to - *from);
        lengths.fold(Time::ZERO, |sum, length| sum + length)
    }
}
