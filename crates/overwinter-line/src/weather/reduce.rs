//! A year of hours reduced to twelve months.

use overwinter_model::{MonthNormals, Normals, NormalsError, Temperature};
use serde::Serialize;

use super::WeatherHour;
use super::year::MONTH_DAYS;

/// One month of air temperature, degrees Celsius.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
pub struct MonthAir {
    /// Mean over all hours.
    pub mean_c: f64,
    /// Mean of the days' highest hours.
    pub mean_daily_max_c: f64,
    /// Mean of the days' lowest hours.
    pub mean_daily_min_c: f64,
}

/// Twelve months of air temperature, January first.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct AirNormals {
    /// The months, January first.
    pub months: [MonthAir; 12],
}

impl AirNormals {
    /// The months of 8760 hours.
    pub(super) fn of_year(hours: &[WeatherHour]) -> Self {
        let mut days = hours.chunks(24);
        let months = MONTH_DAYS.map(|length| {
            let mut month = MonthAir::default();
            for day in days.by_ref().take(usize::from(length)) {
                let air = || day.iter().map(|hour| hour.air_c);
                month.mean_c += air().sum::<f64>() / 24.0;
                month.mean_daily_max_c += air().fold(f64::MIN, f64::max);
                month.mean_daily_min_c += air().fold(f64::MAX, f64::min);
            }
            let length = f64::from(length);
            MonthAir {
                mean_c: month.mean_c / length,
                mean_daily_max_c: month.mean_daily_max_c / length,
                mean_daily_min_c: month.mean_daily_min_c / length,
            }
        });
        Self { months }
    }

    /// The same for the other half of the earth: January's figures in July.
    #[must_use]
    pub fn half_a_year_later(mut self) -> Self {
        self.months.rotate_left(6);
        self
    }

    /// As the model takes them.
    ///
    /// # Errors
    /// [`NormalsError`] if a month's figures cannot be: see [`Normals::new`].
    pub fn to_model(&self) -> Result<Normals, NormalsError> {
        Normals::new(self.months.map(|month| MonthNormals {
            mean: Temperature::from_celsius(month.mean_c),
            daily_max: Temperature::from_celsius(month.mean_daily_max_c),
            daily_min: Temperature::from_celsius(month.mean_daily_min_c),
        }))
    }
}
