//! What paths are drawn from: how days, cameras and cells differ from what is said of them.

use crate::Counts;
use crate::random::{AnomalyLaw, AnomalyLawError, GammaQuantile, GammaShapeError};
use crate::weather::{MonthSpread, Spread};

/// How far the time on air is off what the signal makes of it, one standard deviation of its
/// logarithm (common practice, no source).
const AIRTIME_SD_LN: f64 = 0.3;

/// How a site's days swing about what is expected.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AirChances {
    /// Each month's, January first.
    pub months: [MonthChances; 12],
    /// Standard deviation between seasons of their mean, kelvin.
    pub winters_sd_k: f64,
}

/// How the days of one month swing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MonthChances {
    /// Persistence of temperature and clearness, and how they go together.
    pub law: AnomalyLaw,
    /// Standard deviation of a day's mean temperature, kelvin.
    pub temperature_sd_k: f64,
    /// Standard deviation of a day's range, kelvin.
    pub range_sd_k: f64,
    /// Standard deviation of a day's clearness.
    pub clearness_sd: f64,
}

impl AirChances {
    /// By the statistics of a climate.
    ///
    /// # Errors
    /// [`AnomalyLawError`] if a month's persistence is not below 1: a [`Spread`] has none.
    pub fn of(spread: &Spread) -> Result<Self, AnomalyLawError> {
        let mut months = [MonthChances::of(spread.month(0))?; 12];
        for (chances, month) in months.iter_mut().zip(spread.months()) {
            *chances = MonthChances::of(month)?;
        }
        Ok(Self {
            months,
            winters_sd_k: spread.winters_sd_k(),
        })
    }
}

impl MonthChances {
    fn of(month: &MonthSpread) -> Result<Self, AnomalyLawError> {
        let persistence = [month.temperature_lag1, month.clearness_lag1];
        Ok(Self {
            law: AnomalyLaw::new(persistence, month.correlation)?,
            temperature_sd_k: month.temperature_sd_k,
            range_sd_k: month.range_sd_k,
            clearness_sd: month.clearness_sd,
        })
    }
}

/// What may turn out otherwise at one camera. Standard deviations; those of a natural logarithm
/// belong to factors.
#[derive(Clone, Debug, PartialEq)]
pub struct CameraChances {
    /// Tells the cameras of a line apart: 1 or more.
    pub stream: u32,
    /// A day's share of the expected triggers: mean 1.
    pub day_share: GammaQuantile,
    /// How well the rate of triggers is known, of its logarithm.
    pub rate_sd_ln: f64,
    /// How the signal differs from what is said of it, of the logarithm of the time on air.
    pub airtime_sd_ln: f64,
    /// Tells the models of cameras apart: what nobody has measured of one is the same in all of them.
    pub model: u32,
    /// Tells the purchases of cells apart: packs of one purchase are of one make.
    pub purchase: u32,
}

impl CameraChances {
    /// Of a camera of a model with such counts, on cells of a purchase.
    ///
    /// # Errors
    /// [`GammaShapeError`] if the counts' dispersion is out of range.
    pub fn new(
        stream: u32,
        model: u32,
        purchase: u32,
        counts: &Counts,
    ) -> Result<Self, GammaShapeError> {
        Ok(Self {
            stream,
            day_share: GammaQuantile::new(counts.dispersion)?,
            rate_sd_ln: counts.rate_sd_ln,
            airtime_sd_ln: AIRTIME_SD_LN,
            model,
            purchase,
        })
    }
}
