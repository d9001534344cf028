//! Built-in climates: twelve months of air temperature and its spread, for use where there is no weather
//! file.

use overwinter_model::{MonthSpread, Spread, SpreadError};

use super::reduce::{AirNormals, MonthAir};
use super::smooth::{TEMPERATURE_LAG1, cold_months, with_winters};

/// What ends the name of a climate that was shifted to the south.
const SOUTH: &str = "-south";

/// A built-in climate: temperatures and what clouds take. Sun and daylight come from the site's own place.
#[derive(Clone, Debug, PartialEq)]
pub struct Climate {
    /// As it is called in a line file.
    pub name: String,
    /// What it is like, for a person.
    pub description: String,
    /// Where the figures come from.
    pub source: &'static str,
    /// Latitude of the place that they come from, degrees, north positive; of a shifted climate the
    /// same south of the equator.
    pub latitude_deg: f64,
    /// Height of that place above the sea, metres.
    pub elevation_m: f64,
    /// Not a real place's year: the months of a northern climate, shifted by six.
    pub invented: bool,
    /// The months.
    pub air: AirNormals,
    /// How far their days stray.
    pub days: [MonthSpread; 12],
    /// How far winters' means lie apart (standard deviation), kelvin, where that is known.
    pub winters_apart_k: Option<f64>,
}

impl Climate {
    /// How far days and winters stray from the months.
    ///
    /// # Errors
    /// [`SpreadError`] if a month's figures cannot be.
    pub fn spread(&self) -> Result<Spread, SpreadError> {
        with_winters(self.days, cold_months(&self.air), self.winters_apart_k)
    }
}

/// A northern climate as it stands in this file.
struct Northern {
    name: &'static str,
    description: &'static str,
    source: &'static str,
    /// As in [`Climate`].
    latitude_deg: f64,
    /// As in [`Climate`].
    elevation_m: f64,
    /// Day-to-day correlation of clearness.
    clearness_lag1: f64,
    /// Correlation of temperature and clearness, November to March and April to October.
    correlation: [f64; 2],
    /// As in [`Climate`].
    winters_apart_k: Option<f64>,
    /// Mean, mean daily maximum, mean daily minimum, degrees Celsius; spread of daily means and of daily
    /// ranges, kelvin; mean clearness and its spread. January first.
    months: [[f64; 7]; 12],
}

/// Every built-in climate, each northern one followed by its southern shift.
#[must_use]
pub fn climates() -> Vec<Climate> {
    NORTHERN
        .iter()
        .flat_map(|n| [n.as_it_is(), n.shifted_south()])
        .collect()
}

/// The built-in climate of this name.
#[must_use]
pub fn climate(name: &str) -> Option<Climate> {
    climates().into_iter().find(|climate| climate.name == name)
}

impl Northern {
    fn as_it_is(&self) -> Climate {
        let air = AirNormals {
            months: self.months.map(
                |[mean_c, mean_daily_max_c, mean_daily_min_c, ..]| MonthAir {
                    mean_c,
                    mean_daily_max_c,
                    mean_daily_min_c,
                },
            ),
        };
        Climate {
            name: self.name.to_owned(),
            description: self.description.to_owned(),
            source: self.source,
            latitude_deg: self.latitude_deg,
            elevation_m: self.elevation_m,
            invented: false,
            days: self.days(&air),
            air,
            winters_apart_k: self.winters_apart_k,
        }
    }

    fn days(&self, air: &AirNormals) -> [MonthSpread; 12] {
        let cold = cold_months(air);
        let [in_cold, in_warm] = self.correlation;
        std::array::from_fn(|month| {
            let [
                ..,
                temperature_sd_k,
                range_sd_k,
                clearness_mean,
                clearness_sd,
            ] = self.months[month];
            MonthSpread {
                temperature_sd_k,
                temperature_lag1: TEMPERATURE_LAG1,
                range_sd_k,
                clearness_mean,
                clearness_sd,
                clearness_lag1: self.clearness_lag1,
                correlation: if cold.contains(&month) {
                    in_cold
                } else {
                    in_warm
                },
            }
        })
    }

    fn shifted_south(&self) -> Climate {
        let mut northern = self.as_it_is();
        northern.days.rotate_left(6);
        Climate {
            name: northern.name + SOUTH,
            description: northern.description
                + "; invented for the south: January's figures in July",
            latitude_deg: -northern.latitude_deg,
            invented: true,
            air: northern.air.half_a_year_later(),
            ..northern
        }
    }
}

/// Rounded to 0.1 K and 0.01. A typical year's month is one real month, so each may be 1 to 3 K off the
/// long-term mean. Spreads are those that the same hours give when they are read as a weather file; what
/// the maritime climate has of them says its source.
const NORTHERN: [Northern; 4] = [
    Northern {
        name: "boreal-inland",
        description: "far from the sea at 63 N: winters of -25 C, short mild summers",
        source: "TMY3 station 702910 (63 N, 522 m), NREL TMY data set 2008; US government work, public domain",
        latitude_deg: 63.0,
        elevation_m: 522.0,
        clearness_lag1: 0.14,
        correlation: [-0.17, 0.11],
        winters_apart_k: None,
        months: [
            [-24.2, -20.0, -28.9, 10.2, 4.6, 0.36, 0.11],
            [-19.8, -14.8, -25.5, 9.0, 4.9, 0.37, 0.12],
            [-11.3, -4.1, -20.1, 7.4, 5.4, 0.43, 0.14],
            [-5.7, 1.1, -14.5, 5.7, 5.6, 0.48, 0.15],
            [8.3, 14.0, 0.6, 4.5, 5.1, 0.46, 0.16],
            [12.7, 17.9, 5.6, 3.8, 4.5, 0.51, 0.15],
            [15.8, 21.5, 9.6, 3.4, 4.1, 0.35, 0.14],
            [11.4, 17.8, 4.3, 3.5, 4.1, 0.41, 0.14],
            [2.8, 8.3, -2.3, 3.9, 4.0, 0.40, 0.13],
            [-3.0, 0.4, -7.1, 5.1, 4.0, 0.33, 0.12],
            [-19.4, -16.0, -24.5, 7.6, 4.2, 0.37, 0.11],
            [-22.7, -18.7, -27.2, 9.7, 4.6, 0.34, 0.10],
        ],
    },
    Northern {
        name: "temperate-inland",
        description: "42 N on a continent: frost from December to February, warm summers",
        source: "TMY3 station 725300 (42 N, 201 m), NREL TMY data set 2008; US government work, public domain",
        latitude_deg: 42.0,
        elevation_m: 201.0,
        clearness_lag1: 0.19,
        correlation: [-0.33, 0.29],
        winters_apart_k: None,
        months: [
            [-4.6, -0.4, -9.8, 7.1, 3.4, 0.45, 0.15],
            [-2.5, 1.6, -7.1, 7.0, 3.7, 0.46, 0.17],
            [3.8, 8.5, -0.6, 6.9, 4.0, 0.46, 0.18],
            [10.0, 14.7, 5.2, 6.8, 4.3, 0.46, 0.18],
            [15.3, 22.0, 8.9, 6.0, 4.3, 0.54, 0.16],
            [21.1, 26.8, 14.7, 4.7, 3.8, 0.54, 0.14],
            [24.1, 29.1, 18.6, 3.9, 3.2, 0.55, 0.13],
            [21.8, 26.9, 16.7, 3.6, 3.3, 0.51, 0.13],
            [18.1, 23.9, 12.6, 3.8, 3.6, 0.51, 0.14],
            [11.0, 16.3, 5.4, 4.5, 3.7, 0.49, 0.15],
            [4.7, 8.1, 0.8, 5.4, 3.5, 0.42, 0.15],
            [-3.7, 0.1, -7.9, 6.4, 3.3, 0.43, 0.15],
        ],
    },
    Northern {
        name: "temperate-warm",
        description: "36 N on a continent: winters about freezing by night only, hot summers",
        source: "TMY3 station 723170 (36 N, 273 m), NREL TMY data set 2008; US government work, public domain",
        latitude_deg: 36.0,
        elevation_m: 273.0,
        clearness_lag1: 0.31,
        correlation: [-0.18, 0.26],
        winters_apart_k: None,
        months: [
            [0.3, 5.3, -4.3, 6.2, 4.4, 0.49, 0.17],
            [5.0, 9.8, -0.1, 6.4, 4.2, 0.48, 0.17],
            [11.4, 17.0, 5.8, 6.2, 4.2, 0.52, 0.17],
            [14.7, 21.0, 7.8, 5.4, 4.1, 0.54, 0.16],
            [19.0, 24.7, 13.4, 4.3, 3.8, 0.51, 0.15],
            [23.6, 29.0, 19.0, 3.4, 3.2, 0.54, 0.13],
            [25.4, 30.7, 20.8, 3.1, 2.5, 0.54, 0.13],
            [24.8, 29.6, 20.1, 3.0, 2.5, 0.54, 0.14],
            [20.1, 24.9, 15.7, 3.4, 3.3, 0.51, 0.16],
            [13.1, 18.7, 7.8, 4.0, 4.2, 0.52, 0.17],
            [10.8, 17.1, 4.9, 4.8, 4.6, 0.45, 0.17],
            [4.2, 10.2, -1.3, 5.6, 4.6, 0.50, 0.17],
        ],
    },
    Northern {
        name: "temperate-maritime",
        description: "48 N by the sea: mild wet winters, cool summers",
        source: "NOAA daily maxima and minima 2012-2015 at 47.6 N; mean taken as their middle; US government work; \
                 clearness without a source, good to 0.05",
        latitude_deg: 47.6,
        // By the sea; the source tells no height.
        elevation_m: 0.0,
        clearness_lag1: 0.25,
        correlation: [-0.2, 0.25],
        winters_apart_k: Some(0.84),
        months: [
            [5.5, 8.2, 2.7, 3.1, 2.3, 0.33, 0.16],
            [7.0, 9.9, 4.1, 2.9, 2.6, 0.38, 0.16],
            [8.6, 12.4, 4.9, 2.7, 3.0, 0.43, 0.16],
            [10.7, 15.0, 6.4, 2.6, 3.4, 0.46, 0.15],
            [14.5, 19.3, 9.6, 2.7, 3.5, 0.49, 0.15],
            [17.3, 22.4, 12.2, 2.8, 3.5, 0.49, 0.15],
            [20.1, 26.0, 14.2, 2.6, 3.5, 0.55, 0.15],
            [20.4, 26.1, 14.8, 2.4, 3.5, 0.53, 0.15],
            [17.1, 21.9, 12.4, 2.3, 3.5, 0.50, 0.15],
            [12.9, 16.4, 9.4, 2.5, 3.1, 0.43, 0.15],
            [7.9, 11.0, 4.7, 2.8, 2.6, 0.35, 0.16],
            [5.8, 8.2, 3.3, 3.1, 2.3, 0.31, 0.16],
        ],
    },
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_climate_fits_the_model() {
        for climate in climates() {
            assert!(climate.air.to_model().is_ok(), "{}", climate.name);
            assert!(climate.spread().is_ok(), "{}", climate.name);
        }
    }

    #[test]
    fn the_southern_january_is_the_northern_july() {
        let north = climate("boreal-inland").unwrap();
        let south = climate("boreal-inland-south").unwrap();
        assert!(south.invented && !north.invented);
        assert_eq!(south.air.months[0], north.air.months[6]);
        assert!(south.latitude_deg < 0.0 && north.latitude_deg > 0.0);
        assert_eq!(south.air.months[11], north.air.months[5]);
        assert_eq!(south.days[0], north.days[6]);
        let winters = [&north, &south].map(|climate| climate.spread().unwrap().winters_sd_k());
        assert!((winters[0] - winters[1]).abs() < 1e-12);
    }
}
