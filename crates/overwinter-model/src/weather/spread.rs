//! How far days and winters stray from a climate's normals: the statistics that weather is drawn from.

/// What a month's days do around the normals, where temperature and clearness of successive days are
/// taken as two first-order autoregressive series with correlated shocks.
///
/// Clearness is a day's light on the horizontal over the light there would be without an atmosphere.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct MonthSpread {
    /// Standard deviation of the days' mean temperatures, kelvin, 0 to 30.
    pub temperature_sd_k: f64,
    /// Correlation of a day's mean temperature with that of the day before, 0 to 0.99.
    pub temperature_lag1: f64,
    /// Standard deviation of the days' ranges (highest less lowest hour), kelvin, 0 to 20.
    pub range_sd_k: f64,
    /// Mean clearness, 0 to 1.
    pub clearness_mean: f64,
    /// Standard deviation of the days' clearness, 0 to 0.5.
    pub clearness_sd: f64,
    /// Correlation of a day's clearness with that of the day before, 0 to 0.99.
    pub clearness_lag1: f64,
    /// Correlation of a day's mean temperature with its clearness, -1 to 1. Below zero in winter
    /// inland, where clear days are the cold ones.
    pub correlation: f64,
}

impl MonthSpread {
    /// What the day's new shocks of temperature and of clearness must be correlated by so that the
    /// days' values come out correlated by [`Self::correlation`]:
    /// `correlation (1 - a b) / sqrt((1 - a^2) (1 - b^2))` with the lag-1 correlations `a` and `b`
    /// (cross-covariance of two AR(1) series at equilibrium). Between -1 and 1 in a [`Spread`].
    #[must_use]
    pub fn shock_correlation(&self) -> f64 {
        let (a, b) = (self.temperature_lag1, self.clearness_lag1);
        self.correlation * (1.0 - a * b) / libm::sqrt((1.0 - a * a) * (1.0 - b * b))
    }

    fn check(&self, month: u8) -> Result<(), SpreadError> {
        let quantities = [
            (SpreadQuantity::TemperatureSd, self.temperature_sd_k),
            (SpreadQuantity::TemperatureLag1, self.temperature_lag1),
            (SpreadQuantity::RangeSd, self.range_sd_k),
            (SpreadQuantity::ClearnessMean, self.clearness_mean),
            (SpreadQuantity::ClearnessSd, self.clearness_sd),
            (SpreadQuantity::ClearnessLag1, self.clearness_lag1),
            (SpreadQuantity::Correlation, self.correlation),
        ];
        for (quantity, value) in quantities {
            quantity.check(Some(month), value)?;
        }
        let shocks = self.shock_correlation();
        if !(-1.0..=1.0).contains(&shocks) {
            return Err(SpreadError::Unattainable {
                month,
                correlation: self.correlation,
            });
        }
        Ok(())
    }
}

/// Twelve months of spread, January first, and the spread between years.
///
/// ```
/// use overwinter_model::{MonthSpread, Spread};
/// let month = MonthSpread {
///     temperature_sd_k: 5.0,
///     temperature_lag1: 0.75,
///     range_sd_k: 3.5,
///     clearness_mean: 0.45,
///     clearness_sd: 0.15,
///     clearness_lag1: 0.2,
///     correlation: -0.3,
/// };
/// let spread = Spread::new([month; 12], 1.0)?;
/// assert!((spread.winters_sd_k() - 1.0).abs() < 1e-12);
/// # Ok::<(), overwinter_model::SpreadError>(())
/// ```
#[derive(Clone, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[cfg_attr(
    feature = "serde",
    serde(try_from = "super::stored::Spread", into = "super::stored::Spread")
)]
pub struct Spread {
    months: [MonthSpread; 12],
    winters_sd_k: f64,
}

impl Spread {
    /// The months, January first, and the standard deviation of an offset that a whole season has,
    /// beyond what its days' own anomalies average to: kelvin, 0 to 10.
    ///
    /// # Errors
    /// [`SpreadError`] for the first value that is not a number or out of its range, or a correlation
    /// that series with such persistence cannot have.
    pub fn new(months: [MonthSpread; 12], winters_sd_k: f64) -> Result<Self, SpreadError> {
        for (month, spread) in (1_u8..).zip(&months) {
            spread.check(month)?;
        }
        SpreadQuantity::WintersSd.check(None, winters_sd_k)?;
        Ok(Self {
            months,
            winters_sd_k,
        })
    }

    /// The months, January first.
    #[must_use]
    pub fn months(&self) -> &[MonthSpread; 12] {
        &self.months
    }

    /// The month by its index, 0 for January to 11; later ones count as December.
    #[must_use]
    pub fn month(&self, index: usize) -> &MonthSpread {
        let [.., last] = &self.months;
        self.months.get(index).unwrap_or(last)
    }

    /// Standard deviation between years of an offset that a whole season has, kelvin: drawn once for a
    /// season and added to its days' own anomalies, which by themselves already let winters differ.
    #[must_use]
    pub fn winters_sd_k(&self) -> f64 {
        self.winters_sd_k
    }

    /// The same mean clearness with nothing left to chance: every day is as the normals or the hours
    /// have it.
    #[must_use]
    pub fn without_chance(&self) -> Self {
        Self {
            months: self.months.map(|month| MonthSpread {
                clearness_mean: month.clearness_mean,
                ..MonthSpread::default()
            }),
            winters_sd_k: 0.0,
        }
    }
}

/// A figure of a [`Spread`].
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum SpreadQuantity {
    /// [`MonthSpread::temperature_sd_k`].
    TemperatureSd,
    /// [`MonthSpread::temperature_lag1`].
    TemperatureLag1,
    /// [`MonthSpread::range_sd_k`].
    RangeSd,
    /// [`MonthSpread::clearness_mean`].
    ClearnessMean,
    /// [`MonthSpread::clearness_sd`].
    ClearnessSd,
    /// [`MonthSpread::clearness_lag1`].
    ClearnessLag1,
    /// [`MonthSpread::correlation`].
    Correlation,
    /// [`Spread::winters_sd_k`].
    WintersSd,
}

impl SpreadQuantity {
    /// What it is called and its range: temperatures beyond what any station has; persistence short of
    /// a series that never forgets; clearness as it is defined (a spread of 0.5 is that of days all
    /// clear or all dark).
    fn name_and_range(self) -> (&'static str, core::ops::RangeInclusive<f64>) {
        match self {
            Self::TemperatureSd => ("spread of daily temperature", 0.0..=30.0),
            Self::TemperatureLag1 => ("day-to-day correlation of temperature", 0.0..=0.99),
            Self::RangeSd => ("spread of the daily range", 0.0..=20.0),
            Self::ClearnessMean => ("mean clearness", 0.0..=1.0),
            Self::ClearnessSd => ("spread of clearness", 0.0..=0.5),
            Self::ClearnessLag1 => ("day-to-day correlation of clearness", 0.0..=0.99),
            Self::Correlation => ("correlation of temperature and clearness", -1.0..=1.0),
            Self::WintersSd => ("spread between winters", 0.0..=10.0),
        }
    }

    fn check(self, month: Option<u8>, value: f64) -> Result<(), SpreadError> {
        let (_, range) = self.name_and_range();
        if range.contains(&value) {
            return Ok(());
        }
        Err(SpreadError::OutOfRange {
            month,
            quantity: self,
            value,
        })
    }
}

/// Why a [`Spread`] could not be made. `month` counts from 1 for January.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub enum SpreadError {
    /// A value is not a number, or out of its range.
    OutOfRange {
        /// The month, from 1; none for a figure of the whole year.
        month: Option<u8>,
        /// Which figure.
        quantity: SpreadQuantity,
        /// The value, in the figure's unit.
        value: f64,
    },
    /// Temperature and clearness with such persistence cannot be correlated so much.
    Unattainable {
        /// The month, from 1.
        month: u8,
        /// The correlation asked for.
        correlation: f64,
    },
}

impl core::fmt::Display for SpreadError {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        match self {
            Self::OutOfRange {
                month,
                quantity,
                value,
            } => {
                let (name, range) = quantity.name_and_range();
                if let Some(month) = month {
                    write!(f, "month {month}: ")?;
                }
                let (low, high) = (range.start(), range.end());
                write!(f, "{name} of {value} is not between {low} and {high}")
            }
            Self::Unattainable { month, correlation } => write!(
                f,
                "month {month}: temperature and clearness of such persistence cannot be correlated \
                 by {correlation}"
            ),
        }
    }
}

impl core::error::Error for SpreadError {}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;
    use std::string::ToString as _;

    const MONTH: MonthSpread = MonthSpread {
        temperature_sd_k: 5.0,
        temperature_lag1: 0.75,
        range_sd_k: 3.5,
        clearness_mean: 0.45,
        clearness_sd: 0.15,
        clearness_lag1: 0.2,
        correlation: -0.3,
    };

    #[test]
    fn impossible_months_are_refused() {
        let mut months = [MONTH; 12];
        months[2].clearness_mean = f64::NAN;
        assert!(matches!(
            Spread::new(months, 1.0),
            Err(SpreadError::OutOfRange {
                month: Some(3),
                quantity: SpreadQuantity::ClearnessMean,
                ..
            })
        ));
        let error = Spread::new([MONTH; 12], -1.0).unwrap_err();
        let said = "spread between winters of -1 is not between 0 and 10";
        assert_eq!(error.to_string(), said);
        months[2] = MonthSpread {
            correlation: 0.9,
            ..MONTH
        };
        assert!(matches!(
            Spread::new(months, 1.0),
            Err(SpreadError::Unattainable { month: 3, .. })
        ));
    }

    proptest! {
        /// Feeding the shocks through both series for long comes back to the correlation asked for.
        #[test]
        fn shocks_give_the_correlation(a in 0.0..0.9_f64, b in 0.0..0.9_f64, wanted in -0.5..0.5_f64) {
            let month = MonthSpread { temperature_lag1: a, clearness_lag1: b, correlation: wanted, ..MONTH };
            let shock = month.shock_correlation();
            let fresh = shock * libm::sqrt((1.0 - a * a) * (1.0 - b * b));
            let covariance = (0..500).fold(0.0, |so_far, _| a * b * so_far + fresh);
            prop_assert!((covariance - wanted).abs() < 1e-9);
        }

        /// What is written reads back, and reading checks as the constructor does.
        #[test]
        fn storing_keeps_the_spread(winters in -2.0..12.0_f64) {
            let stored = super::super::stored::Spread { months: [MONTH; 12], winters_sd_k: winters };
            let read = Spread::try_from(stored);
            prop_assert_eq!(read.is_ok(), (0.0..=10.0).contains(&winters));
            if let Ok(spread) = read {
                let stored = super::super::stored::Spread::from(spread.clone());
                prop_assert_eq!(Spread::try_from(stored), Ok(spread));
            }
        }
    }
}
