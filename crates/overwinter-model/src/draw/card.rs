//! The memory card that pictures and videos are kept on.

use serde::{Deserialize, Serialize};

/// A memory card that is empty when the season begins.
///
/// A camera whose card is full goes on drawing as before: it still wakes for every trigger and
/// lights its flash, and only then finds no room (common practice, no source; some cameras write
/// over the oldest pictures, which loses the season's beginning in place of its end).
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Card {
    /// What it holds, megabytes of a million bytes; above zero.
    #[serde(with = "crate::number")]
    pub capacity_mb: f64,
    /// What one answered trigger by day writes, megabytes.
    #[serde(with = "crate::number")]
    pub day_trigger_mb: f64,
    /// What one answered trigger by night writes, megabytes.
    #[serde(with = "crate::number")]
    pub night_trigger_mb: f64,
}

impl Card {
    /// What so many answered triggers write, megabytes.
    #[must_use]
    pub fn written_mb(&self, by_day: f64, by_night: f64) -> f64 {
        by_day * self.day_trigger_mb + by_night * self.night_trigger_mb
    }
}
