//! From the statistics of one typical year to what paths are drawn from.
//!
//! A month of a typical year is one real month: its spread is good to 20 or 30 %, its lag-1
//! correlations to 0.15, and both are biased low, because the month's own mean and trend take the slow
//! part of the weather with them. So variances are smoothed over neighbouring months, correlations are
//! pooled over longer parts of the year, and the persistence of temperature, which one year cannot
//! tell, is the same for all climates. Mean clearness stays as it is: a typical year's months were
//! chosen for it.

use overwinter_model::{MonthSpread, Spread, SpreadError};

use super::days::{DayStatistics, YearDays};
use super::reduce::AirNormals;

/// Correlation of a day's mean temperature with that of the day before, in every climate and month.
///
/// About each month's trend, the typical years of four climates show 0.58 to 0.70 from November to March
/// and 0.63 to 0.75 from April to October. Four years of one place lie as far apart (Seattle 2012-2015,
/// NOAA: 0.49 to 0.77 and 0.56 to 0.58), so there is nothing to tell climates apart by. About a yearly
/// cycle, with nothing taken out of the months, Seattle has 0.79 and 0.71: the winter's is taken.
pub(super) const TEMPERATURE_LAG1: f64 = 0.79;

/// True spread of daily temperature over the spread about each month's own trend: exact for a first-order
/// autoregressive series with [`TEMPERATURE_LAG1`] in months of 30 days. Where both are known (Seattle,
/// as above) they are 1.19 apart in winter and 1.17 in summer.
const SD_OVER_DETRENDED: f64 = 1.267;

/// How far apart winters are, over the spread of the days in them: Seattle's means of November to March
/// differ by 0.84 K (standard deviation of four years) where days stray by 2.99 K. Four years of one
/// place: good to 40 %.
const WINTERS_OVER_DAYS: f64 = 0.28;

/// Weights of the five months around each month: they halve the error of its variance, and the year's
/// total stays.
const NEAR_MONTHS: [f64; 5] = [1.0 / 16.0, 4.0 / 16.0, 6.0 / 16.0, 4.0 / 16.0, 1.0 / 16.0];

/// November to March.
const NORTHERN_COLD: [usize; 5] = [10, 11, 0, 1, 2];

/// The five months of winter of a climate, as indices: November to March, or May to September where
/// those are colder.
pub(super) fn cold_months(air: &AirNormals) -> [usize; 5] {
    let southern = NORTHERN_COLD.map(|month| (month + 6) % 12);
    let mean = |months: [usize; 5]| {
        months
            .map(|month| air.months[month].mean_c)
            .iter()
            .sum::<f64>()
    };
    if mean(southern) < mean(NORTHERN_COLD) {
        southern
    } else {
        NORTHERN_COLD
    }
}

/// The spread of a year of hours.
pub(super) fn spread(air: &AirNormals, days: &YearDays) -> Result<Spread, SpreadError> {
    let cold = cold_months(air);
    let warm: Vec<usize> = (0..12).filter(|month| !cold.contains(month)).collect();
    let in_cold = days.statistics(&cold).correlation;
    let in_warm = days.statistics(&warm).correlation;
    // Neighbouring days' clearness is hardly correlated: half a year cannot tell it from none.
    let every_month: Vec<usize> = (0..12).collect();
    let clearness_lag1 = days
        .statistics(&every_month)
        .clearness_lag1
        .clamp(0.0, 0.99);
    let raw: [DayStatistics; 12] = std::array::from_fn(|month| days.statistics(&[month]));
    let months = std::array::from_fn(|month| {
        let sd = |of: fn(&DayStatistics) -> f64| near(month, |near| of(&raw[near]).powi(2)).sqrt();
        attainable(MonthSpread {
            temperature_sd_k: SD_OVER_DETRENDED * sd(|days| days.temperature_sd_k),
            temperature_lag1: TEMPERATURE_LAG1,
            range_sd_k: sd(|days| days.range_sd_k),
            clearness_mean: raw[month].clearness_mean,
            clearness_sd: sd(|days| days.clearness_sd),
            clearness_lag1,
            correlation: if cold.contains(&month) {
                in_cold
            } else {
                in_warm
            },
        })
    });
    with_winters(months, cold, None)
}

/// Mean over the months around one, by [`NEAR_MONTHS`]; the year is a ring.
fn near(month: usize, value: impl Fn(usize) -> f64) -> f64 {
    let months = NEAR_MONTHS.iter().zip(month + 10..);
    months.map(|(weight, near)| weight * value(near % 12)).sum()
}

/// The month with its correlation no stronger than such persistence allows: what a year's days happen
/// to show is no reason to refuse a file.
fn attainable(month: MonthSpread) -> MonthSpread {
    let full = MonthSpread {
        correlation: 1.0,
        ..month
    };
    let strongest = (0.999 / full.shock_correlation()).min(1.0);
    MonthSpread {
        correlation: month.correlation.clamp(-strongest, strongest),
        ..month
    }
}

/// The spread of these months, with winters whose means lie `apart_k` apart (standard deviation, all
/// causes together), or by [`WINTERS_OVER_DAYS`] if that is not known.
///
/// # Errors
/// [`SpreadError`] if a value is out of range.
pub(super) fn with_winters(
    months: [MonthSpread; 12],
    cold: [usize; 5],
    apart_k: Option<f64>,
) -> Result<Spread, SpreadError> {
    let winter = cold.map(|month| months[month]);
    let mean = |value: fn(&MonthSpread) -> f64| winter.iter().map(value).sum::<f64>() / 5.0;
    let variance = mean(|month| month.temperature_sd_k.powi(2));
    let lag1 = mean(|month| month.temperature_lag1);
    let apart_k = apart_k.unwrap_or(WINTERS_OVER_DAYS * variance.sqrt());
    // Days alone already let the means of 151 days differ: variance (1 + a) / (1 - a) / n of a long
    // piece of a first-order autoregressive series.
    let by_days = variance * (1.0 + lag1) / (1.0 - lag1) / 151.0;
    Spread::new(months, (apart_k * apart_k - by_days).max(0.0).sqrt())
}

#[cfg(test)]
mod tests {
    use super::*;

    /// What is left of months of a series `x` is `P x`, where `P` takes the straight line out, so its
    /// expected sum of squares is the trace of `P C P = P C`, with `C = lag1^|i - j|`.
    #[test]
    fn the_trend_of_a_month_takes_a_known_part_of_the_spread() {
        let n = 30;
        let middle = (f64::from(n) - 1.0) / 2.0;
        let squares: f64 = (0..n).map(|i| (f64::from(i) - middle).powi(2)).sum();
        let trace: f64 = (0..n)
            .flat_map(|i| (0..n).map(move |j| (i, j)))
            .map(|(i, j)| {
                let (a, b) = (f64::from(i) - middle, f64::from(j) - middle);
                let left = f64::from(u8::from(i == j)) - 1.0 / f64::from(n) - a * b / squares;
                left * TEMPERATURE_LAG1.powi(i32::abs(i - j))
            })
            .sum();
        let factor = ((f64::from(n) - 2.0) / trace).sqrt();
        assert!((factor - SD_OVER_DETRENDED).abs() < 0.001, "{factor}");
    }

    #[test]
    fn smoothing_keeps_the_total_of_the_year() {
        let values: [f64; 12] = std::array::from_fn(|month| f64::from(month as u8).exp());
        let total: f64 = (0..12).map(|month| near(month, |near| values[near])).sum();
        assert!((total / values.iter().sum::<f64>() - 1.0).abs() < 1e-12);
        assert!((near(3, |near| f64::from(u8::from(near == 3))) - 0.375).abs() < 1e-12);
    }
}
