//! From when to when a line is out.

use overwinter_model::{Day, Time};
use serde::ser::SerializeStruct;
use serde::{Serialize, Serializer};
use time::Date;

use crate::words;

/// The days that a line is out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Season {
    /// First day, from midnight.
    pub start: Date,
    /// Last day, to midnight.
    pub end: Date,
}

impl Season {
    /// First day for the model.
    #[must_use]
    pub fn first_day(&self) -> Day {
        Day::from(self.start)
    }

    /// How many days, both ends counted.
    #[must_use]
    pub fn days(&self) -> i32 {
        self.end.to_julian_day() - self.start.to_julian_day() + 1
    }

    /// The date on which something happens that happens `after` the start; the midnight that ends
    /// the season belongs to its last day.
    #[must_use]
    pub fn date(&self, after: Time) -> Date {
        let day = self.first_day().plus(after.as_days() as i32).date();
        day.min(self.end)
    }

    /// The day before something happens so long after the start: the last on which all was well for all of
    /// it.
    #[must_use]
    pub fn last_good_day(&self, after: Time) -> Date {
        let day = self.date(after);
        day.previous_day().unwrap_or(day)
    }

    /// Whether it is longer than a year, so that a day's name is not enough.
    #[must_use]
    pub fn is_long(&self) -> bool {
        self.days() > 365
    }

    /// A day of it, `14 Dec`; with its year where the season is longer than a year, so that the day alone
    /// could be one of two.
    #[must_use]
    pub fn name_of(&self, day: Date) -> String {
        if self.is_long() {
            words::date(day)
        } else {
            words::day_of_year(day)
        }
    }

    /// How long it is, `3 days`, both ends counted.
    #[must_use]
    pub fn length(&self) -> String {
        // A season is never shorter than a day.
        words::count(self.days().unsigned_abs() as usize, "day")
    }
}

impl Serialize for Season {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut season = serializer.serialize_struct("Season", 3)?;
        season.serialize_field("start", &self.start.to_string())?;
        season.serialize_field("end", &self.end.to_string())?;
        season.serialize_field("days", &self.days())?;
        season.end()
    }
}
