//! The spread of a climate on its way in or out, checked on the way.

use serde::{Deserialize, Serialize};

use super::{MonthSpread, SpreadError};

/// A [`super::Spread`], not yet checked.
#[derive(Serialize, Deserialize)]
pub(super) struct Spread {
    pub(super) months: [MonthSpread; 12],
    pub(super) winters_sd_k: f64,
}

impl TryFrom<Spread> for super::Spread {
    type Error = SpreadError;
    fn try_from(stored: Spread) -> Result<Self, SpreadError> {
        Self::new(stored.months, stored.winters_sd_k)
    }
}

impl From<super::Spread> for Spread {
    fn from(spread: super::Spread) -> Self {
        Self {
            months: *spread.months(),
            winters_sd_k: spread.winters_sd_k(),
        }
    }
}
