//! A climate as twelve months of means, and the expected temperature of any hour from it.

use super::course::YearCourse;
use super::day_shape::DayShape;
use crate::arithmetic::{min, positive};
use crate::sun::{SunDay, hour_start};
use crate::{Day, Place, Temperature};

/// The coldest and the warmest monthly figure believed, degrees Celsius: beyond what any station has.
const BELIEVED_C: core::ops::RangeInclusive<f64> = -90.0..=60.0;

/// One month of a climate.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct MonthNormals {
    /// Mean over all hours.
    pub mean: Temperature,
    /// Mean of the days' highest hours.
    pub daily_max: Temperature,
    /// Mean of the days' lowest hours.
    pub daily_min: Temperature,
}

impl MonthNormals {
    fn daily_range_k(&self) -> f64 {
        self.daily_max.as_celsius() - self.daily_min.as_celsius()
    }
}

/// Twelve months of a climate, January first, and what is expected of each hour in it.
///
/// The expected temperature of an hour is the yearly course at the middle of that hour, which keeps
/// each month's mean, plus the shape of the day. It is constant within the hour, and depends on
/// nothing but the normals, the place, the day and the hour. It is the *mean* over many years: single
/// days swing further, so neither its highest hour nor its lowest is the mean daily maximum or minimum.
///
/// ```
/// use overwinter_model::{Day, MonthNormals, Normals, Place, Temperature};
/// let month = |mean_c: f64| MonthNormals {
///     mean: Temperature::from_celsius(mean_c),
///     daily_max: Temperature::from_celsius(mean_c + 5.0),
///     daily_min: Temperature::from_celsius(mean_c - 5.0),
/// };
/// let year = [-5.0, -3.0, 4.0, 10.0, 15.0, 21.0, 24.0, 22.0, 18.0, 11.0, 5.0, -4.0];
/// let normals = Normals::new(year.map(month))?;
/// let place = Place::new(42.0, -88.0, -6.0)?;
/// let hours = normals.air_of_day(&place, Day::from_days_since_2000(19)); // 20 January
/// assert!(hours[7] < hours[14]);
/// # Ok::<(), Box<dyn core::error::Error>>(())
/// ```
#[derive(Clone, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[cfg_attr(
    feature = "serde",
    serde(try_from = "[MonthNormals; 12]", into = "[MonthNormals; 12]")
)]
pub struct Normals {
    months: [MonthNormals; 12],
    mean_c: YearCourse,
    range_k: YearCourse,
    minimum_c: YearCourse,
}

impl Normals {
    /// A climate from its months, January first.
    ///
    /// # Errors
    /// [`NormalsError`] for the first month with a value that is not a number, outside -90 to 60
    /// degrees Celsius, or with a mean that does not lie between minimum and maximum.
    pub fn new(months: [MonthNormals; 12]) -> Result<Self, NormalsError> {
        let mut normals = Self {
            months,
            ..Self::BLANK
        };
        normals.settle()?;
        Ok(normals)
    }

    /// No climate yet: months to be filled where they stay, for [`Self::settle`] to follow. Normals are
    /// large for a small device's stack.
    pub(crate) const BLANK: Self = Self {
        months: [MonthNormals {
            mean: Temperature::from_kelvin(0.0),
            daily_max: Temperature::from_kelvin(0.0),
            daily_min: Temperature::from_kelvin(0.0),
        }; 12],
        mean_c: YearCourse::LEVEL,
        range_k: YearCourse::LEVEL,
        minimum_c: YearCourse::LEVEL,
    };

    #[cfg(feature = "blob")]
    pub(crate) const fn months_mut(&mut self) -> &mut [MonthNormals; 12] {
        &mut self.months
    }

    /// Makes the courses through the months.
    pub(crate) fn settle(&mut self) -> Result<(), NormalsError> {
        for (month, normals) in (1_u8..).zip(&self.months) {
            let MonthNormals {
                mean,
                daily_max,
                daily_min,
            } = normals;
            for value in [daily_min, mean, daily_max] {
                let celsius = value.as_celsius();
                if !BELIEVED_C.contains(&celsius) {
                    return Err(NormalsError::OutOfRange { month, celsius });
                }
            }
            if daily_min > mean || mean > daily_max {
                return Err(NormalsError::OutOfOrder { month });
            }
        }
        self.mean_c = self.course(|month| month.mean.as_celsius());
        self.range_k = self.course(MonthNormals::daily_range_k);
        self.minimum_c = self.course(|month| month.daily_min.as_celsius());
        Ok(())
    }

    fn course(&self, of: fn(&MonthNormals) -> f64) -> YearCourse {
        let mut means = [0.0; 12];
        for (mean, month) in means.iter_mut().zip(&self.months) {
            *mean = of(month);
        }
        YearCourse::through(&means)
    }

    /// The months it was made from, January first.
    #[must_use]
    pub fn months(&self) -> &[MonthNormals; 12] {
        &self.months
    }

    /// One by its index, 0 for January to 11; later ones count as December.
    fn month(&self, index: usize) -> &MonthNormals {
        let [.., last] = &self.months;
        self.months.get(index).unwrap_or(last)
    }

    /// The expected temperature of each hour of a day of local standard time.
    #[must_use]
    pub fn air_of_day(&self, place: &Place, day: Day) -> [Temperature; 24] {
        let day = self.day(&SunDay::new(place, day), day);
        core::array::from_fn(|hour| day.air(hour))
    }

    /// What is expected of a day with this sun.
    pub(crate) fn day(&self, sun: &SunDay, day: Day) -> ExpectedDay<'_> {
        let date = InMonth::of(day);
        let of_month = self.month(date.month);
        ExpectedDay {
            course: &self.mean_c,
            mean_c: of_month.mean.as_celsius(),
            range_k: positive(date.value(&self.range_k, of_month.daily_range_k(), 12.0)),
            shape: DayShape::new(sun),
            date,
        }
    }

    /// How far the mean daily minimum lies below the coldest hour of a day's `air`, in kelvin, zero
    /// or more.
    pub(crate) fn minimum_below(
        &self,
        date: &InMonth,
        air: impl Iterator<Item = Temperature>,
    ) -> f64 {
        let mean_c = self.month(date.month).daily_min.as_celsius();
        let minimum = date.value(&self.minimum_c, mean_c, 12.0);
        let coldest = air.map(Temperature::as_celsius);
        positive(coldest.fold(f64::INFINITY, min) - minimum)
    }
}

/// A day as a part of its month.
#[derive(Clone, Debug)]
pub(crate) struct InMonth {
    /// 0 for January.
    month: usize,
    days_in_month: f64,
    /// Whole days of it, before this one.
    days_past: f64,
}

impl InMonth {
    pub(crate) fn of(day: Day) -> Self {
        Self {
            month: day.month_index(),
            days_in_month: f64::from(day.days_in_month()),
            days_past: f64::from(day.day_of_month() - 1),
        }
    }

    /// What a course has so many hours after midnight, with this mean of the month.
    #[cfg_attr(target_os = "none", inline(never))]
    fn value(&self, course: &YearCourse, mean: f64, hours: f64) -> f64 {
        let past = (self.days_past + hours / 24.0) / self.days_in_month;
        course.at(mean, self.month, past)
    }
}

/// What normals let expect of one day.
#[derive(Clone, Debug)]
pub(crate) struct ExpectedDay<'a> {
    /// Of the daily mean over the year.
    course: &'a YearCourse,
    /// Of the month.
    mean_c: f64,
    pub(crate) date: InMonth,
    /// One range for the whole day, else the shape would no longer sum to zero.
    range_k: f64,
    shape: DayShape,
}

impl ExpectedDay<'_> {
    /// The expected temperature of an hour.
    pub(crate) fn air(&self, hour: usize) -> Temperature {
        let middle = hour_start(hour) + 0.5;
        let mean_c = self.date.value(self.course, self.mean_c, middle);
        Temperature::from_celsius(mean_c + self.shape.deviation(hour) * self.range_k)
    }
}

impl TryFrom<[MonthNormals; 12]> for Normals {
    type Error = NormalsError;
    fn try_from(months: [MonthNormals; 12]) -> Result<Self, NormalsError> {
        Self::new(months)
    }
}

impl From<Normals> for [MonthNormals; 12] {
    fn from(normals: Normals) -> Self {
        normals.months
    }
}

/// Why [`Normals`] could not be made. `month` counts from 1 for January.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub enum NormalsError {
    /// A value is not a number, or outside -90 to 60 degrees Celsius.
    OutOfRange {
        /// The month, from 1.
        month: u8,
        /// The value, degrees Celsius.
        celsius: f64,
    },
    /// The mean daily minimum, the mean and the mean daily maximum do not rise in that order.
    OutOfOrder {
        /// The month, from 1.
        month: u8,
    },
}

impl core::fmt::Display for NormalsError {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        match self {
            Self::OutOfRange { month, celsius } => {
                write!(f, "month {month}: {celsius} C is not between -90 and 60 C")
            }
            Self::OutOfOrder { month } => write!(
                f,
                "month {month}: the mean must lie between the mean daily minimum and maximum"
            ),
        }
    }
}

impl core::error::Error for NormalsError {}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn month(mean_c: f64, below: f64, above: f64) -> MonthNormals {
        MonthNormals {
            mean: Temperature::from_celsius(mean_c),
            daily_max: Temperature::from_celsius(mean_c + above),
            daily_min: Temperature::from_celsius(mean_c - below),
        }
    }

    #[test]
    fn impossible_months_are_refused() {
        let mut months = [month(0.0, 4.0, 4.0); 12];
        months[2] = month(0.0, -1.0, 4.0);
        assert_eq!(
            Normals::new(months),
            Err(NormalsError::OutOfOrder { month: 3 })
        );
        months[2] = month(70.0, 1.0, 1.0);
        assert!(matches!(
            Normals::new(months),
            Err(NormalsError::OutOfRange { month: 3, .. })
        ));
        months[2] = month(f64::NAN, 1.0, 1.0);
        assert!(matches!(
            Normals::new(months),
            Err(NormalsError::OutOfRange { month: 3, .. })
        ));
    }

    proptest! {
        #[test]
        fn the_hours_of_a_month_keep_its_mean(
            means in prop::array::uniform12(-40.0..30.0_f64),
            range in 0.0..15.0_f64,
            latitude in -80.0..80.0_f64,
            year in 0..40_i32,
        ) {
            let normals = Normals::new(means.map(|mean| month(mean, range, range))).unwrap();
            let place = Place::new(latitude, 10.0, 1.0).unwrap();
            let start = Day::from_days_since_2000(year * 365);
            let mut sums = [(0.0, 0.0); 12];
            // Two full turns of the year hold each month whole at least once; count whole months.
            let mut day = start;
            while day.day_of_month() != 1 {
                day = day.plus(1);
            }
            let first = (day.date().year(), day.month_index());
            while (day.date().year() - 1, day.month_index()) != first {
                let (sum, n) = &mut sums[day.month_index()];
                for air in normals.air_of_day(&place, day) {
                    *sum += air.as_celsius();
                    *n += 1.0;
                }
                day = day.plus(1);
            }
            for ((sum, n), mean) in sums.iter().zip(means) {
                prop_assert!((sum / n - mean).abs() < 0.001, "{} {mean}", sum / n);
            }
        }
    }
}
