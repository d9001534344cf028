//! Air temperature by the hour of local standard time: expected from normals, or replayed.

mod course;
mod day_shape;
mod normals;
mod replay;
mod spread;
#[cfg(feature = "serde")]
mod stored;

pub(crate) use normals::ExpectedDay;
use normals::InMonth;
pub use normals::{MonthNormals, Normals, NormalsError};
pub use replay::{HOURS_OF_YEAR, HourlyYear, HourlyYearError};
pub use spread::{MonthSpread, Spread, SpreadError, SpreadQuantity};

use crate::arithmetic::min;
use crate::{Day, Place, Temperature};

/// Where the air temperature of an hour comes from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Weather<'a> {
    /// The same at all times: a bench, a cellar, a test.
    Constant(Temperature),
    /// What a climate's normals lead one to expect.
    Normals(&'a Normals),
    /// A year of hours, used again each year.
    Hours(HourlyYear<'a>),
}

/// The air of one day.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AirOfDay {
    /// Of each hour.
    pub hours: [Temperature; 24],
    /// An ordinary day gets so many kelvin colder than its coldest hour in `hours`: see
    /// [`Weather::ordinary_minimum_below`].
    pub below_k: f64,
}

impl AirOfDay {
    /// As cold as an hour of this mean may be on an ordinary day.
    #[must_use]
    pub fn coldest(&self, air: Temperature) -> Temperature {
        air.warmer(-self.below_k)
    }

    /// Mean of its hours.
    #[must_use]
    pub fn mean(&self) -> Temperature {
        let sum: f64 = self.hours.iter().map(|air| air.as_celsius()).sum();
        Temperature::from_celsius(sum / 24.0)
    }

    /// As cold as it gets on an ordinary day.
    #[must_use]
    pub fn lowest(&self) -> Temperature {
        let celsius = self.hours.iter().map(|air| air.as_celsius());
        self.coldest(Temperature::from_celsius(celsius.fold(f64::INFINITY, min)))
    }

    /// The same day, so many kelvin warmer.
    #[must_use]
    pub fn warmer(&self, kelvin: f64) -> Self {
        Self {
            hours: self.hours.map(|air| air.warmer(kelvin)),
            below_k: self.below_k,
        }
    }
}

impl Weather<'_> {
    /// The air of a day.
    #[must_use]
    pub fn of_day(&self, place: &Place, day: Day) -> AirOfDay {
        let hours = self.air_of_day(place, day);
        AirOfDay {
            below_k: self.ordinary_minimum_below(day, &hours),
            hours,
        }
    }

    /// The air of one hour (0 to 23; later ones count as 23), the same throughout that hour.
    ///
    /// From normals this works out the whole day; [`Self::air_of_day`] is the cheaper way to several
    /// hours of one day.
    #[must_use]
    pub fn air(&self, place: &Place, day: Day, hour: usize) -> Temperature {
        match self {
            Self::Constant(air) => *air,
            Self::Normals(normals) => {
                let hours = normals.air_of_day(place, day);
                let [.., last] = hours;
                hours.get(hour).copied().unwrap_or(last)
            }
            Self::Hours(year) => year.air(day, hour),
        }
    }

    /// The air of each hour of a day.
    #[must_use]
    pub fn air_of_day(&self, place: &Place, day: Day) -> [Temperature; 24] {
        match self {
            Self::Constant(air) => [*air; 24],
            Self::Normals(normals) => normals.air_of_day(place, day),
            Self::Hours(year) => year.air_of_day(day),
        }
    }

    /// How much colder an ordinary day's coldest hour is than the coldest of [`Self::air_of_day`],
    /// in kelvin, zero or more.
    ///
    /// Normals know each hour's mean over many days. The days' own minima fall at other hours from
    /// day to day, so their mean is lower than the coldest of those means. Where the hours
    /// themselves are known the answer is zero.
    #[must_use]
    pub fn ordinary_minimum_below(&self, day: Day, air: &[Temperature; 24]) -> f64 {
        match self {
            Self::Constant(_) | Self::Hours(_) => 0.0,
            Self::Normals(normals) => normals.minimum_below(&InMonth::of(day), air.iter().copied()),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_hour_alone_is_the_hour_of_its_day() {
        let month = MonthNormals {
            mean: Temperature::from_celsius(1.0),
            daily_max: Temperature::from_celsius(6.0),
            daily_min: Temperature::from_celsius(-3.0),
        };
        let normals = Normals::new([month; 12]).unwrap();
        let place = Place::new(60.0, 25.0, 2.0).unwrap();
        let day = Day::from_days_since_2000(100);
        for weather in [
            Weather::Constant(Temperature::from_celsius(3.0)),
            Weather::Normals(&normals),
        ] {
            let hours = weather.air_of_day(&place, day);
            for (hour, air) in hours.iter().enumerate() {
                assert_eq!(weather.air(&place, day, hour), *air);
            }
            assert_eq!(weather.air(&place, day, 99), hours[23]);
        }
    }
}
