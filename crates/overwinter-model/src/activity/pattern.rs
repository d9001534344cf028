//! At what hours triggers fall: by the height of the sun, or by the clock.

use crate::arithmetic::{min, positive};
use crate::sun::{SunDay, geocentric_sine};

/// Upper limits of the light classes, degrees of sun height: dark, civil twilight, low sun. The day
/// class above them has none.
const CLASS_LIMITS_DEG: [f64; 3] = [-6.0, 0.0, 10.0];

/// How the animals of a day spread over its hours.
///
/// The built-in patterns follow the sun, not the clock: an animal's readiness to move is taken as
/// constant within four classes of sun height (dark below -6 degrees, civil twilight -6 to 0, low
/// sun 0 to 10, day above 10), and only the time spent in each class changes with place and season.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub enum Pattern {
    /// The same at all hours.
    Even,
    /// Active by day: `Sciurus vulgaris` in the data below.
    Day,
    /// Active by night: `Sus scrofa`.
    Night,
    /// Active in twilight and, less so, by night and day: `Capreolus capreolus`.
    Twilight,
    /// Weights of the 24 hours of local standard time, the same all year; any scale.
    ByHour(#[cfg_attr(feature = "serde", serde(with = "crate::decimal::several"))] [f64; 24]),
}

/// What one class of light does to a pattern: triggers per hour spent in it, over the mean of the year.
///
/// Derivation: share of events in the class / share of the year's hours in the class. Events: 8 forest
/// cameras at 50.8 N, 4.6 E, 87 deployments 2018-2024 (Casaer J et al. 2025, GMU8_LEUVEN, INBO, CC0),
/// with the sun's height at each event. Hours of the year in the classes there: dark 0.437, civil
/// twilight 0.060, low sun 0.102, day 0.401. Deployments do not cover the year evenly, which this
/// leaves out.
///
/// | | n | dark | twilight | low sun | day |
/// | --- | --- | --- | --- | --- | --- |
/// | `Sciurus vulgaris` | 201 | 0.005 | 0.015 | 0.149 | 0.831 |
/// | `Sus scrofa` | 776 | 0.841 | 0.067 | 0.048 | 0.044 |
/// | `Capreolus capreolus` | 1416 | 0.371 | 0.147 | 0.181 | 0.301 |
/// | nothing to be seen | 645 | 0.360 | 0.070 | 0.104 | 0.467 |
type ClassIntensities = [f64; 4];

const DAY_ACTIVE: ClassIntensities = [0.0114, 0.249, 1.47, 2.07];
const NIGHT_ACTIVE: ClassIntensities = [1.92, 1.11, 0.472, 0.11];
const TWILIGHT_ACTIVE: ClassIntensities = [0.849, 2.44, 1.78, 0.75];

/// False triggers: somewhat fewer in the dark, as wind and sun are. Hardly told from even hours: with
/// the deployments drawn anew, the dark lies between 0.68 and 1.01 in 95 of 100.
const FALSE_TRIGGERS: ClassIntensities = [0.824, 1.16, 1.02, 1.16];

/// What the sun does over a day.
#[derive(Clone, Debug)]
pub(super) struct DayLight {
    /// Sines of the heights between the classes, and last of that of the flash.
    limits: [f64; 4],
}

impl DayLight {
    /// A day on which the flash is used with the sun's centre below `flash_below_deg`.
    pub(super) fn new(flash_below_deg: f64) -> Self {
        let [dark, twilight, low] = CLASS_LIMITS_DEG;
        Self {
            limits: [dark, twilight, low, flash_below_deg].map(geocentric_sine),
        }
    }

    /// One hour of it, under the day's sun. Who needs them twice asks twice: a day of them would be the
    /// largest thing on a small device's stack.
    #[cfg_attr(target_os = "none", inline(never))]
    pub(super) fn hour(&self, sun: &SunDay, hour: usize) -> HourLight {
        let sun = sun.hour(hour);
        let [dark, twilight, low, below_flash] = self.limits.map(|limit| sun.share_below(limit));
        HourLight {
            class_ends: [dark, twilight, low, 1.0],
            below_flash,
        }
    }
}

/// What the sun does in one hour.
#[derive(Clone, Copy)]
pub(super) struct HourLight {
    /// Sorted by the sun's height, the hour runs from 0 to 1: where each class ends.
    class_ends: [f64; 4],
    /// The part of the hour with the sun below the flash threshold.
    pub(super) below_flash: f64,
}

impl HourLight {
    /// The hour by the time that the sun spends in each class of light.
    fn by_class(&self, intensities: &ClassIntensities) -> Weight {
        let mut weight = Weight::default();
        let mut start = 0.0;
        for (&end, intensity) in self.class_ends.iter().zip(intensities) {
            let lit_by_flash = positive(min(end, self.below_flash) - start);
            weight.all += intensity * (end - start);
            weight.flashed += intensity * lit_by_flash;
            start = end;
        }
        weight
    }

    /// An hour of weight `all`, at any moment of it alike.
    fn even(&self, all: f64) -> Weight {
        Weight {
            all,
            flashed: all * self.below_flash,
        }
    }
}

/// An hour's weight in its day.
#[derive(Clone, Copy, Default)]
pub(super) struct Weight {
    pub(super) all: f64,
    /// The part of it that needs the flash.
    pub(super) flashed: f64,
}

impl core::ops::Mul<f64> for Weight {
    type Output = Self;
    fn mul(self, factor: f64) -> Self {
        Self {
            all: self.all * factor,
            flashed: self.flashed * factor,
        }
    }
}

/// What decides the weight of an hour.
#[derive(Clone, Copy, Debug)]
enum WeightBy<'a> {
    Nothing,
    Clock(&'a [f64; 24]),
    Light(&'a ClassIntensities),
}

/// Triggers of one kind, by the hour of a day.
#[derive(Clone, Debug)]
pub(super) struct Kind<'a> {
    weight_by: WeightBy<'a>,
    per_day: f64,
    /// Of the weights of the hours.
    sum: f64,
}

impl<'a> Kind<'a> {
    fn new(weight_by: WeightBy<'a>, per_day: f64) -> Self {
        Self {
            weight_by,
            per_day,
            sum: 0.0,
        }
    }

    /// So many animals a day.
    pub(super) fn animals(pattern: &'a Pattern, per_day: f64) -> Self {
        let weight_by = match pattern {
            Pattern::Even => WeightBy::Nothing,
            Pattern::ByHour(weights) => WeightBy::Clock(weights),
            Pattern::Day => WeightBy::Light(&DAY_ACTIVE),
            Pattern::Night => WeightBy::Light(&NIGHT_ACTIVE),
            Pattern::Twilight => WeightBy::Light(&TWILIGHT_ACTIVE),
        };
        Self::new(weight_by, per_day)
    }

    /// So many false triggers a day.
    pub(super) fn false_ones(per_day: f64) -> Self {
        Self::new(WeightBy::Light(&FALSE_TRIGGERS), per_day)
    }

    /// Counts an hour in, as each of the day's has to be before the first is asked for.
    pub(super) fn count_in(&mut self, hour: usize, light: &HourLight) {
        self.sum += self.weight(hour, light).all;
    }

    /// How many are expected in an hour. Where a pattern has no weight on a day, the day is even.
    #[cfg_attr(target_os = "none", inline(never))]
    pub(super) fn expected(&self, hour: usize, light: &HourLight) -> Weight {
        let of_day = if self.sum > 0.0 {
            self.weight(hour, light) * (1.0 / self.sum)
        } else {
            light.even(1.0 / 24.0)
        };
        of_day * self.per_day
    }

    /// The weight of an hour, on any scale.
    #[cfg_attr(target_os = "none", inline(never))]
    fn weight(&self, hour: usize, light: &HourLight) -> Weight {
        match self.weight_by {
            WeightBy::Nothing => light.even(1.0),
            WeightBy::Clock(weights) => light.even(weights.get(hour).copied().unwrap_or(0.0)),
            WeightBy::Light(intensities) => light.by_class(intensities),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Day, Place};

    /// Share of the year's hours in each class where the events were recorded.
    fn time_shares() -> [f64; 4] {
        let place = Place::new(50.8, 4.6, 1.0).unwrap();
        let mut below = [0.0; 3];
        for day in 0..1461 {
            let sun = SunDay::new(&place, Day::from_days_since_2000(day));
            for hour in 0..24 {
                for (sum, limit) in below.iter_mut().zip(CLASS_LIMITS_DEG) {
                    *sum += sun.share_below(hour, limit) / (1461.0 * 24.0);
                }
            }
        }
        [
            below[0],
            below[1] - below[0],
            below[2] - below[1],
            1.0 - below[2],
        ]
    }

    #[test]
    fn intensities_are_event_shares_over_time_shares() {
        let time = time_shares();
        for (events, intensities) in [
            ([0.005, 0.015, 0.149, 0.831], DAY_ACTIVE),
            ([0.841, 0.067, 0.048, 0.044], NIGHT_ACTIVE),
            ([0.371, 0.147, 0.181, 0.301], TWILIGHT_ACTIVE),
            ([0.360, 0.070, 0.104, 0.467], FALSE_TRIGGERS),
        ] {
            for ((event, time), intensity) in events.iter().zip(time).zip(intensities) {
                // Three figures are kept.
                let exact: f64 = event / time;
                assert!(
                    (exact - intensity).abs() < 0.006,
                    "{time} {exact} {intensity}"
                );
            }
        }
    }
}
