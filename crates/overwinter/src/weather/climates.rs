//! Built-in climates: twelve months of air temperature, for use where there is no weather file.

use super::reduce::{AirNormals, MonthAir};

/// What ends the name of a climate that was shifted to the south.
const SOUTH: &str = "-south";

/// A built-in climate. It holds temperatures only: sun and daylight come from the site's own place.
#[derive(Clone, Debug, PartialEq)]
pub struct Climate {
    /// As it is called in a line file.
    pub name: String,
    /// What it is like, for a person.
    pub description: String,
    /// Where the figures come from.
    pub source: &'static str,
    /// Not a real place's year: the months of a northern climate, shifted by six.
    pub invented: bool,
    /// The months.
    pub air: AirNormals,
}

/// A northern climate as it stands in this file.
struct Northern {
    name: &'static str,
    description: &'static str,
    source: &'static str,
    /// Mean, mean daily maximum, mean daily minimum, degrees Celsius, January first.
    months: [[f64; 3]; 12],
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
        let months = self
            .months
            .map(|[mean_c, mean_daily_max_c, mean_daily_min_c]| MonthAir {
                mean_c,
                mean_daily_max_c,
                mean_daily_min_c,
            });
        Climate {
            name: self.name.to_owned(),
            description: self.description.to_owned(),
            source: self.source,
            invented: false,
            air: AirNormals { months },
        }
    }

    fn shifted_south(&self) -> Climate {
        let northern = self.as_it_is();
        Climate {
            name: northern.name + SOUTH,
            description: northern.description
                + "; invented for the south: January's figures in July",
            invented: true,
            air: northern.air.half_a_year_later(),
            ..northern
        }
    }
}

/// Rounded to 0.1 K. A typical year's month is one real month, so each may be 1 to 3 K off the
/// long-term mean.
const NORTHERN: [Northern; 4] = [
    Northern {
        name: "boreal-inland",
        description: "far from the sea at 63 N: winters of -25 C, short mild summers",
        source: "TMY3 station 702910 (63 N, 522 m), NREL TMY data set 2008; US government work, public domain",
        months: [
            [-24.2, -20.0, -28.9],
            [-19.8, -14.8, -25.5],
            [-11.3, -4.1, -20.1],
            [-5.7, 1.1, -14.5],
            [8.3, 14.0, 0.6],
            [12.7, 17.9, 5.6],
            [15.8, 21.5, 9.6],
            [11.4, 17.8, 4.3],
            [2.8, 8.3, -2.3],
            [-3.0, 0.4, -7.1],
            [-19.4, -16.0, -24.5],
            [-22.7, -18.7, -27.2],
        ],
    },
    Northern {
        name: "temperate-inland",
        description: "42 N on a continent: frost from December to February, warm summers",
        source: "TMY3 station 725300 (42 N, 201 m), NREL TMY data set 2008; US government work, public domain",
        months: [
            [-4.6, -0.4, -9.8],
            [-2.5, 1.6, -7.1],
            [3.8, 8.5, -0.6],
            [10.0, 14.7, 5.2],
            [15.3, 22.0, 8.9],
            [21.1, 26.8, 14.7],
            [24.1, 29.1, 18.6],
            [21.8, 26.9, 16.7],
            [18.1, 23.9, 12.6],
            [11.0, 16.3, 5.4],
            [4.7, 8.1, 0.8],
            [-3.7, 0.1, -7.9],
        ],
    },
    Northern {
        name: "temperate-warm",
        description: "36 N on a continent: winters about freezing by night only, hot summers",
        source: "TMY3 station 723170 (36 N, 273 m), NREL TMY data set 2008; US government work, public domain",
        months: [
            [0.3, 5.3, -4.3],
            [5.0, 9.8, -0.1],
            [11.4, 17.0, 5.8],
            [14.7, 21.0, 7.8],
            [19.0, 24.7, 13.4],
            [23.6, 29.0, 19.0],
            [25.4, 30.7, 20.8],
            [24.8, 29.6, 20.1],
            [20.1, 24.9, 15.7],
            [13.1, 18.7, 7.8],
            [10.8, 17.1, 4.9],
            [4.2, 10.2, -1.3],
        ],
    },
    Northern {
        name: "temperate-maritime",
        description: "48 N by the sea: mild wet winters, cool summers",
        source: "NOAA daily maxima and minima 2012-2015 at 47.6 N; mean taken as their middle; US government work",
        months: [
            [5.5, 8.2, 2.7],
            [7.0, 9.9, 4.1],
            [8.6, 12.4, 4.9],
            [10.7, 15.0, 6.4],
            [14.5, 19.3, 9.6],
            [17.3, 22.4, 12.2],
            [20.1, 26.0, 14.2],
            [20.4, 26.1, 14.8],
            [17.1, 21.9, 12.4],
            [12.9, 16.4, 9.4],
            [7.9, 11.0, 4.7],
            [5.8, 8.2, 3.3],
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
        }
    }

    #[test]
    fn the_southern_january_is_the_northern_july() {
        let north = climate("boreal-inland").unwrap();
        let south = climate("boreal-inland-south").unwrap();
        assert!(south.invented && !north.invented);
        assert_eq!(south.air.months[0], north.air.months[6]);
        assert_eq!(south.air.months[11], north.air.months[5]);
    }
}
