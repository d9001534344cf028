//! The spread of a place of which only normals are known.

use overwinter_model::{MonthSpread, Spread, SpreadError};

use super::reduce::AirNormals;
use super::smooth::{TEMPERATURE_LAG1, cold_months, with_winters};

/// Spread of daily temperature in a year's warmest month, kelvin, and its growth for each kelvin that a
/// month lies below that one: straight line by least squares through the 48 months of the four northern
/// built-in climates. They lie about it by a quarter (root mean square of the logarithm).
const SD_IN_WARMEST_K: f64 = 2.6;
const SD_PER_KELVIN_BELOW: f64 = 0.16;

/// Spread of the daily range over its mean: median of the same months, which lie between 0.25 and 0.54.
const RANGE_SD_OVER_MEAN: f64 = 0.38;

/// Clearness, its spread, its day-to-day correlation and its correlation with temperature where only
/// normals are known: the middle of the typical years of two plains of North America (36 and 42 N), one in
/// Italy (45 N) and inland Alaska (63 N), of which November to March have 0.49, 0.44, 0.49 and 0.37,
/// April to October 0.53, 0.51, 0.54 and 0.42. A maritime winter has less.
struct Sky {
    mean: f64,
    sd: f64,
    correlation: f64,
}

const COLD_SKY: Sky = Sky {
    mean: 0.45,
    sd: 0.16,
    correlation: -0.2,
};

const WARM_SKY: Sky = Sky {
    mean: 0.5,
    sd: 0.15,
    correlation: 0.25,
};

/// Day-to-day correlation of clearness: middle of 0.14, 0.19, 0.31 and 0.43 in the same four.
const CLEARNESS_LAG1: f64 = 0.25;

/// What is known of a place's spread beside its normals; the rest is what the climates at hand have in
/// common.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct KnownSpread {
    /// Standard deviation of daily mean temperature by month, kelvin.
    pub daily_sd_k: Option<[f64; 12]>,
    /// Correlation of a day's mean temperature with that of the day before.
    pub lag1: Option<f64>,
    /// Mean clearness by month.
    pub clearness: Option<[f64; 12]>,
    /// Standard deviation of daily clearness by month.
    pub clearness_sd: Option<[f64; 12]>,
    /// How far winters' means lie apart (standard deviation, all causes together), kelvin.
    pub winters_sd_k: Option<f64>,
}

impl KnownSpread {
    /// The spread of a place with these normals.
    ///
    /// # Errors
    /// [`SpreadError`] if a value is out of range.
    pub fn with_normals(&self, air: &AirNormals) -> Result<Spread, SpreadError> {
        let cold = cold_months(air);
        let means = air.months.map(|month| month.mean_c);
        let warmest = means.into_iter().fold(f64::MIN, f64::max);
        let months = std::array::from_fn(|month| {
            let sky = if cold.contains(&month) {
                COLD_SKY
            } else {
                WARM_SKY
            };
            let air = air.months[month];
            let sd_k = SD_IN_WARMEST_K + SD_PER_KELVIN_BELOW * (warmest - air.mean_c);
            MonthSpread {
                temperature_sd_k: self.daily_sd_k.map_or(sd_k, |given| given[month]),
                temperature_lag1: self.lag1.unwrap_or(TEMPERATURE_LAG1),
                range_sd_k: (RANGE_SD_OVER_MEAN * (air.mean_daily_max_c - air.mean_daily_min_c))
                    .min(20.0),
                clearness_mean: self.clearness.map_or(sky.mean, |given| given[month]),
                clearness_sd: self.clearness_sd.map_or(sky.sd, |given| given[month]),
                clearness_lag1: CLEARNESS_LAG1,
                correlation: sky.correlation,
            }
        });
        with_winters(months, cold, self.winters_sd_k)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::weather::climates;

    /// The lines and medians are those of the built-in climates.
    #[test]
    fn what_is_usual_is_what_the_climates_have_in_common() {
        let northern: Vec<_> = climates().into_iter().filter(|c| !c.invented).collect();
        let mut square = 0.0;
        let mut ranges: Vec<f64> = Vec::new();
        for climate in &northern {
            let usual = KnownSpread::default().with_normals(&climate.air).unwrap();
            for ((usual, days), air) in usual
                .months()
                .iter()
                .zip(climate.days)
                .zip(climate.air.months)
            {
                square += (days.temperature_sd_k / usual.temperature_sd_k)
                    .ln()
                    .powi(2)
                    / 48.0;
                ranges.push(days.range_sd_k / (air.mean_daily_max_c - air.mean_daily_min_c));
            }
        }
        assert!(square.sqrt() < 0.26, "{}", square.sqrt());
        ranges.sort_by(f64::total_cmp);
        let median = ranges[ranges.len() / 2];
        assert!((median - RANGE_SD_OVER_MEAN).abs() < 0.01, "{median}");
        assert!(
            (0.25..0.26).contains(&ranges[0]) && ranges[47] < 0.56,
            "{ranges:?}"
        );
    }

    #[test]
    fn what_is_known_is_kept() {
        let air = climates()[0].air;
        let known = KnownSpread {
            daily_sd_k: Some([4.0; 12]),
            lag1: Some(0.0),
            clearness: Some([0.3; 12]),
            clearness_sd: Some([0.1; 12]),
            winters_sd_k: Some(2.0),
        };
        let spread = known.with_normals(&air).unwrap();
        for month in spread.months() {
            assert!((month.temperature_sd_k - 4.0).abs() < 1e-12);
            assert!((month.clearness_mean - 0.3).abs() < 1e-12);
            assert!((month.clearness_sd - 0.1).abs() < 1e-12);
        }
        // Independent days of 4 K let the means of 151 of them differ by 0.33 K.
        assert!((spread.winters_sd_k() - (4.0_f64 - 16.0 / 151.0).sqrt()).abs() < 1e-12);
    }
}
