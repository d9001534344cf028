//! When animals pass: triggers by the hour, and how many of them fall in the dark.

use serde::{Deserialize, Serialize};

use crate::sun::{SunDay, geocentric_sine};
use crate::{Day, Place};

/// Upper limits of the light classes, degrees of sun height: dark, civil twilight, low sun. The day
/// class above them has none.
const CLASS_LIMITS_DEG: [f64; 3] = [-6.0, 0.0, 10.0];

/// How the triggers of a day spread over its hours.
///
/// The built-in patterns follow the sun, not the clock: an animal's readiness to move is taken as
/// constant within four classes of sun height (dark below -6 degrees, civil twilight -6 to 0, low
/// sun 0 to 10, day above 10), and only the time spent in each class changes with place and season.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
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
    ByHour([f64; 24]),
}

/// What one class of light does to a built-in pattern: triggers per hour spent in it, over the mean
/// of the year.
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
type ClassIntensities = [f64; 4];

const DAY_ACTIVE: ClassIntensities = [0.0114, 0.249, 1.47, 2.07];
const NIGHT_ACTIVE: ClassIntensities = [1.92, 1.11, 0.472, 0.11];
const TWILIGHT_ACTIVE: ClassIntensities = [0.849, 2.44, 1.78, 0.75];

/// What is expected of one hour.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct HourRate {
    /// Triggers expected in this hour.
    pub per_hour: f64,
    /// The part of them with the sun below the flash threshold, 0 to 1.
    pub night_share: f64,
    /// The part of the hour itself with the sun below the flash threshold, 0 to 1.
    pub dark_share: f64,
}

/// How often a camera is triggered, by month, and at what hours.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Activity {
    triggers_per_day: [f64; 12],
    pattern: Pattern,
}

impl Activity {
    /// Mean triggers per day of each month, January first, spread over the day by `pattern`.
    ///
    /// # Errors
    /// [`ActivityError`] if a rate or an hour's weight is negative or not finite, or if all 24
    /// weights are zero.
    pub fn new(triggers_per_day: [f64; 12], pattern: Pattern) -> Result<Self, ActivityError> {
        let unusable = |value: &f64| !(value.is_finite() && *value >= 0.0);
        if let Some(rate) = triggers_per_day.into_iter().find(unusable) {
            return Err(ActivityError::TriggersPerDay(rate));
        }
        if let Pattern::ByHour(weights) = pattern {
            if let Some(weight) = weights.into_iter().find(unusable) {
                return Err(ActivityError::HourWeight(weight));
            }
            if weights.iter().all(|weight| *weight <= 0.0) {
                return Err(ActivityError::NoWeight);
            }
        }
        Ok(Self {
            triggers_per_day,
            pattern,
        })
    }

    /// Mean triggers per day of each month, January first.
    #[must_use]
    pub fn triggers_per_day(&self) -> &[f64; 12] {
        &self.triggers_per_day
    }

    /// How they spread over the day.
    #[must_use]
    pub fn pattern(&self) -> &Pattern {
        &self.pattern
    }

    /// The triggers expected in each hour of a day, and the part of them in the dark.
    ///
    /// The hours add up to the month's rate. `flash_below_deg` is the height of the sun's centre
    /// below which the camera uses its flash. Where a pattern has no weight on a day, the day is even.
    #[must_use]
    pub fn rates_of_day(&self, place: &Place, day: Day, flash_below_deg: f64) -> [HourRate; 24] {
        let per_day = self
            .triggers_per_day
            .get(day.month_index())
            .copied()
            .unwrap_or(0.0);
        let sun = SunDay::new(place, day);
        let weighted = self.weights(&sun, flash_below_deg);
        let total: f64 = weighted.iter().map(|hour| hour.per_hour).sum();
        if total > 0.0 {
            return weighted.map(|hour| HourRate {
                per_hour: hour.per_hour / total * per_day,
                ..hour
            });
        }
        even(&sun, flash_below_deg).map(|hour| HourRate {
            per_hour: per_day / 24.0,
            ..hour
        })
    }

    /// The hours with `per_hour` on the pattern's own scale.
    fn weights(&self, sun: &SunDay, flash_below_deg: f64) -> [HourRate; 24] {
        match self.pattern {
            Pattern::Even => even(sun, flash_below_deg),
            Pattern::ByHour(weights) => {
                let mut hours = even(sun, flash_below_deg);
                for (hour, weight) in hours.iter_mut().zip(weights) {
                    hour.per_hour = weight;
                }
                hours
            }
            Pattern::Day => by_light(sun, flash_below_deg, DAY_ACTIVE),
            Pattern::Night => by_light(sun, flash_below_deg, NIGHT_ACTIVE),
            Pattern::Twilight => by_light(sun, flash_below_deg, TWILIGHT_ACTIVE),
        }
    }
}

/// One trigger in each hour, at any moment of it alike.
fn even(sun: &SunDay, flash_below_deg: f64) -> [HourRate; 24] {
    let flash = geocentric_sine(flash_below_deg);
    core::array::from_fn(|hour| {
        let dark_share = sun.hour(hour).share_below(flash);
        HourRate {
            per_hour: 1.0,
            night_share: dark_share,
            dark_share,
        }
    })
}

/// Each hour by the time that the sun spends in each class of light.
fn by_light(sun: &SunDay, flash_below_deg: f64, intensities: ClassIntensities) -> [HourRate; 24] {
    let flash = geocentric_sine(flash_below_deg);
    let [dark, twilight, low] = CLASS_LIMITS_DEG.map(geocentric_sine);
    core::array::from_fn(|hour| {
        let sun = sun.hour(hour);
        let below_flash = sun.share_below(flash);
        let class_ends = [
            sun.share_below(dark),
            sun.share_below(twilight),
            sun.share_below(low),
            1.0,
        ];
        // Sorted by sun height, the hour runs from 0 to 1; the flash takes it up to `below_flash`.
        let (mut all, mut flashed, mut start) = (0.0, 0.0, 0.0);
        for (end, intensity) in class_ends.into_iter().zip(intensities) {
            all += intensity * (end - start);
            flashed += intensity * libm::fmax(libm::fmin(end, below_flash) - start, 0.0);
            start = end;
        }
        HourRate {
            per_hour: all,
            night_share: if all > 0.0 { flashed / all } else { 0.0 },
            dark_share: below_flash,
        }
    })
}

/// Why an [`Activity`] could not be made. Each variant carries the value that broke the rule.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub enum ActivityError {
    /// Triggers per day: must be zero or more, and finite.
    TriggersPerDay(f64),
    /// The weight of an hour: must be zero or more, and finite.
    HourWeight(f64),
    /// All 24 hours have no weight.
    NoWeight,
}

impl core::fmt::Display for ActivityError {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        match self {
            Self::TriggersPerDay(x) => write!(f, "{x} triggers per day is not zero or more"),
            Self::HourWeight(x) => write!(f, "an hour's weight of {x} is not zero or more"),
            Self::NoWeight => write!(f, "the hours of the day have no weight at all"),
        }
    }
}

impl core::error::Error for ActivityError {}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

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

    #[test]
    fn unusable_rates_are_refused() {
        let mut rates = [2.0; 12];
        rates[3] = -1.0;
        assert_eq!(
            Activity::new(rates, Pattern::Even),
            Err(ActivityError::TriggersPerDay(-1.0))
        );
        assert_eq!(
            Activity::new([2.0; 12], Pattern::ByHour([0.0; 24])),
            Err(ActivityError::NoWeight)
        );
    }

    #[test]
    fn a_day_without_weight_is_even() {
        // The constructor refuses this, but stored values do not pass through it.
        let activity = Activity {
            triggers_per_day: [12.0; 12],
            pattern: Pattern::ByHour([0.0; 24]),
        };
        let place = Place::new(80.0, 20.0, 1.0).unwrap();
        let hours = activity.rates_of_day(&place, Day::from_days_since_2000(355), 0.0);
        assert!(hours.iter().all(|hour| (hour.per_hour - 0.5).abs() < 1e-12));
        assert!(
            hours
                .iter()
                .all(|hour| (hour.night_share - 1.0).abs() < 1e-12)
        );
    }

    #[test]
    fn night_shares_where_the_events_were_seen_are_those_of_the_events() {
        // Share of events with the sun below 0 over the year: 0.020, 0.909, 0.518 (same source).
        let place = Place::new(50.8, 4.6, 1.0).unwrap();
        for (pattern, expected) in [
            (Pattern::Day, 0.020),
            (Pattern::Night, 0.909),
            (Pattern::Twilight, 0.518),
        ] {
            let activity = Activity::new([1.0; 12], pattern).unwrap();
            let hours = (0..1461)
                .flat_map(|day| activity.rates_of_day(&place, Day::from_days_since_2000(day), 0.0));
            let share = hours
                .map(|hour| hour.per_hour * hour.night_share)
                .sum::<f64>()
                / 1461.0;
            // Each day is scaled to the same rate here, so long days weigh less than they did.
            assert!(
                (share - expected).abs() < 0.03,
                "{pattern:?} {share} {expected}"
            );
        }
    }

    fn any_pattern() -> impl Strategy<Value = Pattern> {
        prop_oneof![
            Just(Pattern::Even),
            Just(Pattern::Day),
            Just(Pattern::Night),
            Just(Pattern::Twilight),
            (0..24_usize).prop_map(|hour| {
                Pattern::ByHour(core::array::from_fn(|h| f64::from(u8::from(h == hour))))
            }),
        ]
    }

    proptest! {
        #[test]
        fn a_days_hours_add_up_to_the_months_rate(
            pattern in any_pattern(),
            latitude in -90.0..90.0_f64,
            day in 0..3000_i32,
            rate in 0.0..200.0_f64,
            flash in -12.0..6.0_f64,
        ) {
            let activity = Activity::new([rate; 12], pattern).unwrap();
            let place = Place::new(latitude, 15.0, 1.0).unwrap();
            let hours = activity.rates_of_day(&place, Day::from_days_since_2000(day), flash);
            let sum: f64 = hours.iter().map(|hour| hour.per_hour).sum();
            prop_assert!((sum - rate).abs() < 1e-9 * (1.0 + rate));
            let share = -1e-12..=1.0 + 1e-12;
            prop_assert!(hours.iter().all(|hour| share.contains(&hour.night_share)));
        }
    }
}
