//! A year of hours, replayed as it is.

use crate::{Day, Temperature};

/// Hours in a year without a leap day.
pub const HOURS_OF_YEAR: usize = 8_760;

/// A year of hourly air temperatures in local standard time, borrowed, used again each year.
///
/// The year has no leap day: 29 February takes the hours of 28 February.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HourlyYear<'a> {
    air_c: &'a [f32],
}

impl<'a> HourlyYear<'a> {
    /// A year of hours in degrees Celsius, the first from 0:00 to 1:00 on 1 January.
    ///
    /// # Errors
    /// [`HourlyYearError`] if there are not [`HOURS_OF_YEAR`] of them, or one is not a number or
    /// outside -90 to 60 degrees Celsius.
    pub fn new(air_c: &'a [f32]) -> Result<Self, HourlyYearError> {
        if air_c.len() != HOURS_OF_YEAR {
            return Err(HourlyYearError::Length(air_c.len()));
        }
        match air_c.iter().position(|air| !(-90.0..=60.0).contains(air)) {
            Some(hour) => Err(HourlyYearError::OutOfRange { hour }),
            None => Ok(Self { air_c }),
        }
    }

    /// The air of one hour (0 to 23; later ones count as 23).
    #[must_use]
    pub fn air(&self, day: Day, hour: usize) -> Temperature {
        let index = Self::first_hour(day) + hour.min(23);
        // The length was checked, so the zero is never seen.
        let air_c = self.air_c.get(index).copied().unwrap_or(0.0);
        Temperature::from_celsius(f64::from(air_c))
    }

    /// The place of a day's first hour in such a year, from 0.
    #[must_use]
    pub fn first_hour(day: Day) -> usize {
        day_of_common_year(day) * 24
    }

    /// The air of each hour of a day.
    #[must_use]
    pub fn air_of_day(&self, day: Day) -> [Temperature; 24] {
        core::array::from_fn(|hour| self.air(day, hour))
    }
}

/// The day's place, from 0, in a year of 365 days; 29 February shares that of the 28th.
fn day_of_common_year(day: Day) -> usize {
    let index = usize::from(day.day_of_year()) - 1;
    let leap_day_index = 59;
    if time::util::is_leap_year(day.date().year()) && index >= leap_day_index {
        index - 1
    } else {
        index
    }
}

/// Why an [`HourlyYear`] could not be made.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum HourlyYearError {
    /// A year has [`HOURS_OF_YEAR`] hours; this many were given.
    Length(usize),
    /// An hour is not a number or outside -90 to 60 degrees Celsius.
    OutOfRange {
        /// Its place, from 0 for the first hour of January.
        hour: usize,
    },
}

impl core::fmt::Display for HourlyYearError {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        match self {
            Self::Length(n) => write!(f, "a year has {HOURS_OF_YEAR} hours, got {n}"),
            Self::OutOfRange { hour } => {
                write!(f, "hour {hour} of the year is not between -90 and 60 C")
            }
        }
    }
}

impl core::error::Error for HourlyYearError {}

#[cfg(test)]
mod tests {
    use super::*;
    use time::{Date, Month};

    #[test]
    fn the_leap_day_takes_the_day_before() {
        let hours: [f32; HOURS_OF_YEAR] = core::array::from_fn(|hour| (hour / 24) as f32 / 10.0);
        let year = HourlyYear::new(&hours).unwrap();
        let air = |y, m, d| {
            let day = Day::from(Date::from_calendar_date(y, m, d).unwrap());
            libm::round(year.air(day, 12).as_celsius() * 10.0) as u16
        };
        assert_eq!(air(2028, Month::February, 28), 58);
        assert_eq!(air(2028, Month::February, 29), 58);
        assert_eq!(air(2028, Month::March, 1), 59);
        assert_eq!(air(2027, Month::March, 1), 59);
        assert_eq!(air(2028, Month::December, 31), 364);
        assert_eq!(air(2027, Month::December, 31), 364);
    }

    #[test]
    fn unusable_years_are_refused() {
        assert_eq!(
            HourlyYear::new(&[0.0; 24]),
            Err(HourlyYearError::Length(24))
        );
        let mut hours = [0.0; HOURS_OF_YEAR];
        hours[17] = f32::NAN;
        assert_eq!(
            HourlyYear::new(&hours),
            Err(HourlyYearError::OutOfRange { hour: 17 })
        );
    }
}
