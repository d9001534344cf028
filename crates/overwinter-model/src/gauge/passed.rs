//! Hours that went by, with what the camera itself knows of them.

use super::GaugeError;
use crate::arithmetic::min;
use crate::draw::Draw;
use crate::range::Quantity;
use crate::season::Hour;
use crate::units::{Temperature, Time};

/// A camera that answers all the time is busy to this share at most: more cannot be told apart.
const BUSIEST: f64 = 0.999;

/// Hours that went by since the gauge was last told, and what is known of them.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Passed {
    /// How many.
    pub hours: u32,
    /// Mean temperature of the pack over them; `None` takes what was to be expected.
    pub air: Option<Temperature>,
    /// Triggers answered in them; `None` takes what was to be expected.
    pub answered: Option<Answered>,
}

/// Triggers that the camera answered, without pictures by the clock.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Answered {
    /// Without the light.
    pub by_day: u32,
    /// With it.
    pub by_night: u32,
}

impl Passed {
    /// Hours of which nothing is known but that they went by.
    #[must_use]
    pub const fn unseen(hours: u32) -> Self {
        Self {
            hours,
            air: None,
            answered: None,
        }
    }

    pub(super) fn check(&self) -> Result<(), GaugeError> {
        if let Some(air) = self.air {
            Quantity::MeasuredAir.check(air.as_celsius())?;
        }
        Ok(())
    }

    /// What is known, spread over the expected hours.
    pub(super) fn spread(&self, expected: impl Iterator<Item = Hour>, draw: &Draw) -> Spread {
        let (mut hours, mut dark, mut celsius) = (0.0, 0.0, 0.0);
        if self.air.is_some() || self.answered.is_some() {
            for hour in expected {
                hours += 1.0;
                dark += hour.dark_share;
                celsius += hour.air.as_celsius();
            }
        }
        Spread {
            warmer: self.air.map(|air| air.as_celsius() - celsius / hours),
            came: self.answered.map(|answered| Came {
                by_day: PerHour::over(answered.by_day, hours - dark, hours),
                by_night: PerHour::over(answered.by_night, dark, hours),
                busy_day: (draw.day_trigger.length() + draw.quiet).as_hours(),
                busy_night: (draw.night_trigger.length() + draw.quiet).as_hours(),
            }),
        }
    }
}

/// What makes hours as they were expected to hours as they were.
pub(super) struct Spread {
    /// Kelvin above what was expected, all the time.
    warmer: Option<f64>,
    came: Option<Came>,
}

struct Came {
    by_day: PerHour,
    by_night: PerHour,
    busy_day: f64,
    busy_night: f64,
}

/// Triggers spread over the hours that are of their kind, or over all if none is.
struct PerHour {
    of_kind: f64,
    else_evenly: f64,
}

impl PerHour {
    fn over(count: u32, of_kind: f64, hours: f64) -> Self {
        let count = f64::from(count);
        if of_kind > 0.0 {
            Self {
                of_kind: count / of_kind,
                else_evenly: 0.0,
            }
        } else {
            Self {
                of_kind: 0.0,
                else_evenly: count / hours,
            }
        }
    }

    fn at(&self, share: f64) -> f64 {
        self.of_kind * share + self.else_evenly
    }
}

impl Spread {
    // Not part of a loop, whose stack would hold all of this before the first hour.
    #[inline(never)]
    pub(super) fn change(&self, hour: &mut Hour) {
        if let Some(warmer) = self.warmer {
            hour.air = Temperature::from_celsius(hour.air.as_celsius() + warmer);
            hour.coldest = hour.air;
        }
        if let Some(came) = &self.came {
            let day = came.by_day.at(1.0 - hour.dark_share);
            let night = came.by_night.at(hour.dark_share);
            // [`Draw::answered`] the other way round: n = m / (1 + m τ), so m = n / (1 − n τ).
            let busy = came.busy_day * day + came.busy_night * night;
            let idle = 1.0 - min(busy, BUSIEST);
            hour.day_triggers = day / idle;
            hour.night_triggers = night / idle;
        }
    }
}

/// An hour.
pub(super) const HOUR: Time = Time::from_hours(1.0);
