//! The memory card that pictures and videos are kept on.

use crate::number::Number;

/// A memory card that is empty when the season begins.
///
/// A camera whose card is full goes on drawing as before: it still wakes for every trigger and
/// lights its flash, and only then finds no room (common practice, no source; some cameras write
/// over the oldest pictures, which loses the season's beginning in place of its end).
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct Card {
    /// What it holds, megabytes of a million bytes; above zero.
    #[cfg_attr(feature = "serde", serde(with = "crate::decimal"))]
    pub capacity_mb: f64,
    /// What one answered trigger by day writes, megabytes.
    #[cfg_attr(feature = "serde", serde(with = "crate::decimal"))]
    pub day_trigger_mb: f64,
    /// What one answered trigger by night writes, megabytes.
    #[cfg_attr(feature = "serde", serde(with = "crate::decimal"))]
    pub night_trigger_mb: f64,
}

impl Card {
    /// What so many answered triggers write, megabytes.
    #[cfg_attr(not(target_os = "none"), inline(always))]
    #[must_use]
    pub fn written_mb<N: Number>(&self, by_day: N, by_night: N) -> N {
        let each = [self.day_trigger_mb, self.night_trigger_mb];
        written_mb(each.map(N::from), by_day, by_night)
    }

    /// Whether so many megabytes leave no room.
    #[cfg_attr(not(target_os = "none"), inline(always))]
    #[must_use]
    pub fn is_full<N: Number>(&self, written_mb: N) -> N::Mask {
        written_mb.at_least(N::from(self.capacity_mb))
    }
}

/// As [`Card::written_mb`], where a trigger by day and one by night write so much `each`.
#[cfg_attr(not(target_os = "none"), inline(always))]
pub(crate) fn written_mb<N: Number>([day, night]: [N; 2], by_day: N, by_night: N) -> N {
    by_day * day + by_night * night
}
