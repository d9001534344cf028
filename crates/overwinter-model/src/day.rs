//! A day of the calendar as a whole number, so that a season can be walked with plain arithmetic.

use time::Date;

/// Julian day number of 2000-01-01, the day that [`Day`] counts from.
const JULIAN_2000: i32 = 2_451_545;

/// A calendar day (Gregorian), held as days since 2000-01-01.
///
/// The clock is local standard time all year: a day has 24 hours and summer time does not exist.
/// Days outside the years that [`time::Date`] holds (-9999 to 9999) are moved to its nearest end.
///
/// ```
/// use overwinter_model::Day;
/// let last = Day::from_days_since_2000(59); // 2000-02-29
/// assert_eq!((last.month_index(), last.day_of_month()), (1, 29));
/// assert_eq!(last.plus(1).day_of_year(), 61);
/// ```
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[cfg_attr(feature = "serde", serde(from = "i32", into = "i32"))]
pub struct Day(i32);

impl Day {
    /// The day this many days after 2000-01-01; negative before it.
    #[must_use]
    pub const fn from_days_since_2000(days: i32) -> Self {
        let first = Date::MIN.to_julian_day() - JULIAN_2000;
        let last = Date::MAX.to_julian_day() - JULIAN_2000;
        Self(if days < first {
            first
        } else if days > last {
            last
        } else {
            days
        })
    }

    /// Days since 2000-01-01.
    #[must_use]
    pub const fn days_since_2000(self) -> i32 {
        self.0
    }

    /// The day `days` later, or earlier where negative.
    #[must_use]
    pub const fn plus(self, days: i32) -> Self {
        Self::from_days_since_2000(self.0.saturating_add(days))
    }

    /// Days from `earlier` to this day; negative if it is the later one.
    #[must_use]
    pub const fn days_since(self, earlier: Self) -> i32 {
        self.0 - earlier.0
    }

    /// The same day as a date.
    #[must_use]
    pub fn date(self) -> Date {
        // The fallback is never reached: the constructor keeps to the range of `Date`.
        Date::from_julian_day(self.0.saturating_add(JULIAN_2000)).unwrap_or(Date::MAX)
    }

    /// The month, 0 for January to 11 for December.
    #[must_use]
    pub fn month_index(self) -> usize {
        usize::from(u8::from(self.date().month())) - 1
    }

    /// The day of the month, from 1.
    #[must_use]
    pub fn day_of_month(self) -> u8 {
        self.date().day()
    }

    /// The day of the year, from 1 to 365 or 366.
    #[must_use]
    pub fn day_of_year(self) -> u16 {
        self.date().ordinal()
    }

    /// How many days its month has, 28 to 31.
    #[must_use]
    pub fn days_in_month(self) -> u8 {
        let date = self.date();
        date.month().length(date.year())
    }
}

impl From<Date> for Day {
    fn from(date: Date) -> Self {
        Self(date.to_julian_day() - JULIAN_2000)
    }
}

impl From<i32> for Day {
    fn from(days: i32) -> Self {
        Self::from_days_since_2000(days)
    }
}

impl From<Day> for i32 {
    fn from(day: Day) -> Self {
        day.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;
    use time::Month;

    #[test]
    fn counting_starts_at_new_year_2000() {
        let date = Date::from_calendar_date(2000, Month::January, 1).unwrap();
        assert_eq!(Day::from(date).days_since_2000(), 0);
    }

    proptest! {
        #[test]
        fn a_date_survives_the_round_trip(days in any::<i32>(), more in any::<i32>()) {
            let day = Day::from_days_since_2000(days);
            prop_assert_eq!(Day::from(day.date()), day);
            let later = day.plus(more);
            prop_assert_eq!(Day::from(later.date()), later);
            prop_assert!(later.month_index() < 12);
        }
    }
}
