//! What the single days of a year of hours do: their statistics, month by month or pooled.

use overwinter_model::harvest::SkyDay;
use overwinter_model::{Place, Time};
use serde::Serialize;

use super::year::MONTH_DAYS;
use super::{NEW_YEAR, WeatherHour};

/// Statistics of the days of one or more months.
///
/// Temperatures are taken about each month's own straight trend and clearness about each month's own
/// mean; pairs of days are taken within months only, since a typical year's months are no neighbours.
/// From the 28 to 31 days of one month the spreads carry a sampling error of 20 to 30 %.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
pub struct DayStatistics {
    /// Standard deviation of daily mean temperature, kelvin.
    pub temperature_sd_k: f64,
    /// Correlation of daily mean temperature with the day before.
    pub temperature_lag1: f64,
    /// Mean of the days' ranges, kelvin.
    pub range_mean_k: f64,
    /// Standard deviation of the days' ranges, kelvin; months are not taken apart.
    pub range_sd_k: f64,
    /// Mean clearness: a day's light on the horizontal over what there is outside the atmosphere.
    pub clearness_mean: f64,
    /// Standard deviation of clearness.
    pub clearness_sd: f64,
    /// Correlation of clearness with the day before.
    pub clearness_lag1: f64,
    /// Correlation of daily mean temperature with clearness.
    pub correlation: f64,
}

/// One month's days.
#[derive(Clone, Debug, Default)]
struct MonthDays {
    mean_c: Vec<f64>,
    range_k: Vec<f64>,
    clearness: Vec<f64>,
}

/// The days of a year, by month.
pub(super) struct YearDays([MonthDays; 12]);

impl YearDays {
    /// The days of 8760 hours whose light is so much later than their middle.
    pub(super) fn new(place: &Place, hours: &[WeatherHour], light_offset: Time) -> Self {
        let mut days = (0..).zip(hours.chunks(24));
        Self(MONTH_DAYS.map(|length| {
            let mut month = MonthDays::default();
            for (index, hours) in days.by_ref().take(usize::from(length)) {
                // Height above the sea has no part in what there is outside the atmosphere.
                let sky = SkyDay::new(place, NEW_YEAR.plus(index), 0.0, light_offset);
                month.push(&sky, hours);
            }
            month
        }))
    }

    /// Statistics of the months with these indices, 0 for January, taken together.
    pub(super) fn statistics(&self, months: &[usize]) -> DayStatistics {
        let months = || months.iter().filter_map(|index| self.0.get(*index));
        let air: Vec<Vec<f64>> = months().map(|m| without_trend(&m.mean_c)).collect();
        let sky: Vec<Vec<f64>> = months().map(|m| without_mean(&m.clearness)).collect();
        let ranges: Vec<f64> = months().flat_map(|m| m.range_k.iter().copied()).collect();
        let clearness: Vec<f64> = months().flat_map(|m| m.clearness.iter().copied()).collect();
        let about_mean = without_mean(&ranges);
        // A trend takes two degrees of freedom of each month, a mean one.
        let freedom = |taken: usize| (ranges.len() - taken) as f64;
        DayStatistics {
            temperature_sd_k: (squares(&air) / freedom(2 * air.len())).sqrt(),
            temperature_lag1: lag1(&air),
            range_mean_k: mean(&ranges),
            range_sd_k: (squares(&[about_mean]) / freedom(1)).sqrt(),
            clearness_mean: mean(&clearness),
            clearness_sd: (squares(&sky) / freedom(sky.len())).sqrt(),
            clearness_lag1: lag1(&sky),
            correlation: correlation(&air, &sky),
        }
    }
}

impl MonthDays {
    fn push(&mut self, sky: &SkyDay, hours: &[WeatherHour]) {
        let air = || hours.iter().map(|hour| hour.air_c);
        self.mean_c.push(air().sum::<f64>() / 24.0);
        self.range_k
            .push(air().fold(f64::MIN, f64::max) - air().fold(f64::MAX, f64::min));
        let light: f64 = hours.iter().map(|hour| hour.ghi_w_per_m2).sum();
        // A day of twilight only has no clearness; 1 Wh keeps the quotient finite.
        let outside = (24.0 * sky.mean_outside().as_w_per_m2()).max(1.0);
        self.clearness.push((light / outside).min(1.0));
    }
}

fn mean(values: &[f64]) -> f64 {
    values.iter().sum::<f64>() / values.len() as f64
}

fn without_mean(values: &[f64]) -> Vec<f64> {
    let mean = mean(values);
    values.iter().map(|value| value - mean).collect()
}

/// What a straight line by least squares leaves of a month's days.
fn without_trend(values: &[f64]) -> Vec<f64> {
    let mut left = without_mean(values);
    let middle = (values.len() as f64 - 1.0) / 2.0;
    let steps = || (0..values.len()).map(|day| day as f64 - middle);
    let product: f64 = steps().zip(&left).map(|(step, value)| step * value).sum();
    let slope = product / steps().map(|step| step * step).sum::<f64>();
    for (value, step) in left.iter_mut().zip(steps()) {
        *value -= slope * step;
    }
    left
}

/// Sum of squares over all months.
fn squares(months: &[Vec<f64>]) -> f64 {
    months.iter().flatten().map(|value| value * value).sum()
}

/// Correlation of neighbouring days of the same month, of anomalies.
fn lag1(months: &[Vec<f64>]) -> f64 {
    let (mut products, mut squares) = (0.0, 0.0);
    for pair in months.iter().flat_map(|month| month.windows(2)) {
        if let [before, after] = pair {
            products += before * after;
            squares += (before * before + after * after) / 2.0;
        }
    }
    ratio(products, squares)
}

/// Correlation of two series of anomalies, each of mean zero in every month.
fn correlation(one: &[Vec<f64>], other: &[Vec<f64>]) -> f64 {
    let pairs = one.iter().flatten().zip(other.iter().flatten());
    let products: f64 = pairs.map(|(a, b)| a * b).sum();
    ratio(products, (squares(one) * squares(other)).sqrt())
}

/// Zero where nothing varies, as clearness in polar night.
fn ratio(products: f64, squares: f64) -> f64 {
    if squares > 0.0 {
        products / squares
    } else {
        0.0
    }
}
