//! What is wrong with an activity.

use core::fmt;

/// Why an [`Activity`](super::Activity) could not be made. Each variant carries the value that broke
/// the rule.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub enum ActivityError {
    /// Triggers per day: must be zero or more, and finite.
    TriggersPerDay(f64),
    /// The weight of an hour: must be zero or more, and finite.
    HourWeight(f64),
    /// All 24 hours have no weight.
    NoWeight,
    /// What the 24 hours' weights add up to: it or one over it is not finite.
    WeightSum(f64),
    /// [`Counts::false_share`](super::Counts::false_share).
    FalseShare(f64),
    /// [`Counts::dispersion`](super::Counts::dispersion).
    Dispersion(f64),
    /// [`Counts::rate_sd_ln`](super::Counts::rate_sd_ln).
    RateSpread(f64),
}

impl fmt::Display for ActivityError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::TriggersPerDay(x) => write!(f, "{x} triggers per day is not zero or more"),
            Self::HourWeight(x) => write!(f, "an hour's weight of {x} is not zero or more"),
            Self::NoWeight => write!(f, "the hours of the day have no weight at all"),
            Self::WeightSum(x) => {
                write!(f, "hours' weights that add up to {x} cannot be shared out")
            }
            Self::FalseShare(x) => write!(f, "a false share of {x} is not between 0 and 1"),
            Self::Dispersion(x) => write!(f, "a dispersion of {x} is not between 0.1 and 1000"),
            Self::RateSpread(x) => write!(f, "a spread of the rate of {x} is not between 0 and 3"),
        }
    }
}

impl core::error::Error for ActivityError {}
