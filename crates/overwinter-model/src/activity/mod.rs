//! When animals pass: triggers by the hour, how many of them fall in the dark, how many are false, and
//! how far single days stray.

mod counts;
mod error;
mod pattern;
#[cfg(feature = "serde")]
mod stored;

pub use counts::Counts;
pub use error::ActivityError;
pub use pattern::Pattern;

use crate::sun::SunDay;
use crate::{Day, Place};
use pattern::{DayLight, Kind};

/// What is expected of one hour.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct HourRate {
    /// Triggers expected in this hour, false ones included.
    pub per_hour: f64,
    /// The false ones among them.
    pub false_per_hour: f64,
    /// The part of all of them with the sun below the flash threshold, 0 to 1.
    pub night_share: f64,
    /// The part of the hour itself with the sun below the flash threshold, 0 to 1.
    pub dark_share: f64,
}

/// How often a camera is triggered, by month, and at what hours.
#[derive(Clone, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[cfg_attr(
    feature = "serde",
    serde(try_from = "stored::Activity", into = "stored::Activity")
)]
pub struct Activity {
    triggers_per_day: [f64; 12],
    pattern: Pattern,
    counts: Counts,
}

impl Activity {
    /// Nothing passes.
    #[inline(always)]
    pub(crate) const fn none() -> Self {
        Self {
            triggers_per_day: const { [0.0; 12] },
            pattern: Pattern::Even,
            counts: Counts::USUAL,
        }
    }

    /// Mean triggers per day of each month, January first, false ones included; the animals among them
    /// spread over the day by `pattern`. Counts are [`Counts::USUAL`].
    ///
    /// # Errors
    /// [`ActivityError`] if a rate or an hour's weight is negative or not finite, if all 24 weights
    /// are zero, or if they are so large or so small that their sum, or one over it, is not finite.
    pub fn new(triggers_per_day: [f64; 12], pattern: Pattern) -> Result<Self, ActivityError> {
        let unusable = |value: &&f64| !(value.is_finite() && **value >= 0.0);
        if let Some(rate) = triggers_per_day.iter().find(unusable) {
            return Err(ActivityError::TriggersPerDay(*rate));
        }
        if let Pattern::ByHour(weights) = &pattern {
            if let Some(weight) = weights.iter().find(unusable) {
                return Err(ActivityError::HourWeight(*weight));
            }
            if weights.iter().all(|weight| *weight <= 0.0) {
                return Err(ActivityError::NoWeight);
            }
            let sum: f64 = weights.iter().sum();
            if !(sum.is_finite() && (1.0 / sum).is_finite()) {
                return Err(ActivityError::WeightSum(sum));
            }
        }
        Ok(Self {
            triggers_per_day,
            pattern,
            counts: Counts::USUAL,
        })
    }

    /// The same with other counts.
    ///
    /// # Errors
    /// [`ActivityError`] if one of them is not a number or out of range: see [`Counts`].
    pub fn with_counts(self, counts: Counts) -> Result<Self, ActivityError> {
        counts.check()?;
        Ok(Self { counts, ..self })
    }

    /// Mean triggers per day of each month, January first.
    #[must_use]
    pub fn triggers_per_day(&self) -> &[f64; 12] {
        &self.triggers_per_day
    }

    /// How the animals spread over the day.
    #[must_use]
    pub fn pattern(&self) -> &Pattern {
        &self.pattern
    }

    /// How single days stray from the mean, how well that is known, and what is false.
    #[must_use]
    pub fn counts(&self) -> &Counts {
        &self.counts
    }

    /// The triggers expected in each hour of a day, and the part of them in the dark.
    ///
    /// The hours add up to the month's rate, animals and false triggers together; the false ones have
    /// their own hours, whatever the pattern. `flash_below_deg` is the height of the sun's centre below
    /// which the camera uses its flash. Where a pattern has no weight on a day, the day is even.
    #[must_use]
    pub fn rates_of_day(&self, place: &Place, day: Day, flash_below_deg: f64) -> [HourRate; 24] {
        let sun = SunDay::new(place, day);
        let day = self.day(&sun, day, flash_below_deg);
        core::array::from_fn(|hour| day.rate(&sun, hour))
    }

    /// The same one by one, for who has no room for them all, under the day's sun.
    pub(crate) fn day(&self, sun: &SunDay, day: Day, flash_below_deg: f64) -> ActiveDay<'_> {
        let month = self.triggers_per_day.get(day.month_index());
        let per_day = month.copied().unwrap_or(0.0);
        let false_per_day = per_day * self.counts.false_share;
        let mut day = ActiveDay {
            light: DayLight::new(flash_below_deg),
            animals: Kind::animals(&self.pattern, per_day - false_per_day),
            false_ones: Kind::false_ones(false_per_day),
        };
        for hour in 0..24 {
            let light = day.light.hour(sun, hour);
            day.animals.count_in(hour, &light);
            day.false_ones.count_in(hour, &light);
        }
        day
    }
}

/// What passes on one day.
#[derive(Clone, Debug)]
pub(crate) struct ActiveDay<'a> {
    light: DayLight,
    animals: Kind<'a>,
    false_ones: Kind<'a>,
}

impl ActiveDay<'_> {
    /// What is expected of an hour under the day's sun: see [`Activity::rates_of_day`].
    pub(crate) fn rate(&self, sun: &SunDay, hour: usize) -> HourRate {
        let light = self.light.hour(sun, hour);
        let animals = self.animals.expected(hour, &light);
        let false_ones = self.false_ones.expected(hour, &light);
        let all = animals.all + false_ones.all;
        HourRate {
            per_hour: all,
            false_per_hour: false_ones.all,
            night_share: if all > 0.0 {
                (animals.flashed + false_ones.flashed) / all
            } else {
                light.below_flash
            },
            dark_share: light.below_flash,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

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
        for weight in [5e-324, 1e-310, 1e308] {
            let made = Activity::new([2.0; 12], Pattern::ByHour([weight; 24]));
            assert!(matches!(made, Err(ActivityError::WeightSum(_))), "{weight}");
        }
        // Small or large, what can be shared out is.
        let place = Place::new(50.0, 8.0, 1.0).unwrap();
        for weight in [1e-306, 1e306] {
            let activity = Activity::new([2.0; 12], Pattern::ByHour([weight; 24])).unwrap();
            let hours = activity.rates_of_day(&place, Day::from_days_since_2000(9), 0.0);
            let sum: f64 = hours.iter().map(|hour| hour.per_hour).sum();
            assert!((sum - 2.0).abs() < 1e-9, "{weight}: {sum}");
        }
        let counts = Counts {
            dispersion: 0.0,
            ..Counts::USUAL
        };
        let activity = Activity::new([2.0; 12], Pattern::Even).unwrap();
        assert_eq!(
            activity.with_counts(counts),
            Err(ActivityError::Dispersion(0.0))
        );
    }

    fn no_false() -> Counts {
        Counts {
            false_share: 0.0,
            ..Counts::USUAL
        }
    }

    #[test]
    fn a_day_without_weight_is_even() {
        // The constructor refuses this; the fallback is for patterns whose light does not come.
        let activity = Activity {
            triggers_per_day: [12.0; 12],
            pattern: Pattern::ByHour([0.0; 24]),
            counts: no_false(),
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
            let activity = activity.with_counts(no_false()).unwrap();
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
            false_share in 0.0..=1.0_f64,
            flash in -12.0..6.0_f64,
        ) {
            let counts = Counts { false_share, ..Counts::USUAL };
            let activity = Activity::new([rate; 12], pattern).unwrap().with_counts(counts).unwrap();
            let place = Place::new(latitude, 15.0, 1.0).unwrap();
            let hours = activity.rates_of_day(&place, Day::from_days_since_2000(day), flash);
            let sum: f64 = hours.iter().map(|hour| hour.per_hour).sum();
            prop_assert!((sum - rate).abs() < 1e-9 * (1.0 + rate));
            let false_sum: f64 = hours.iter().map(|hour| hour.false_per_hour).sum();
            prop_assert!((false_sum - rate * false_share).abs() < 1e-9 * (1.0 + rate));
            prop_assert!(hours.iter().all(|hour| hour.false_per_hour <= hour.per_hour + 1e-12));
            let share = -1e-12..=1.0 + 1e-12;
            prop_assert!(hours.iter().all(|hour| share.contains(&hour.night_share)));
        }
    }
}
