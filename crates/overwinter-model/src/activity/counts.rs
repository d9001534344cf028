//! How far a day's count of triggers strays from its mean, and how well that mean is known.

use serde::{Deserialize, Serialize};

use super::ActivityError;

/// What the counts of single days are drawn from, beside their mean.
///
/// The unit is the *event*: whatever sets the camera off once, pictures less than two minutes apart
/// taken together. Counted in pictures the same data have a dispersion ten times lower.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Counts {
    /// The part of all triggers that is false (wind, sun, rain, a branch), 0 to 1.
    pub false_share: f64,
    /// The negative binomial's `k` of one camera's daily count, false triggers included: variance =
    /// mean + mean^2 / k. 0.1 to 1000; the larger, the nearer to Poisson.
    pub dispersion: f64,
    /// How well the mean rate is known: one standard deviation of ln(true rate / assumed rate), 0 to 3.
    pub rate_sd_ln: f64,
}

impl Counts {
    /// What is taken where nothing is known.
    ///
    /// - `false_share` 0.3: studies lie between 0.13 and 0.73 (8 forest cameras, Casaer J et al. 2025,
    ///   GMU8_LEUVEN, INBO: 0.13; Snapshot Wisconsin, science update January 2019: over 0.5; Snapshot
    ///   Serengeti, Swanson et al. 2015, Scientific Data 2:150026: 0.73). Between them there is no
    ///   reason for one figure; this is a cautious low middle.
    /// - `dispersion` 1.35: the same 8 cameras, 2552 camera-days, by moments with the mean of each
    ///   deployment taken out (good to a factor of 1.6). Animals alone on boreal lines have 0.45.
    /// - `rate_sd_ln` 0.6: how far the rates of one camera's deployments (87, of 30 days mostly, over
    ///   six years and all seasons) lie apart beyond counting noise; the same data, by moments, good to 0.1. That is
    ///   what somebody knows who has the camera's record of another season; a mere guess is worse.
    pub const USUAL: Self = Self {
        false_share: 0.3,
        dispersion: 1.35,
        rate_sd_ln: 0.6,
    };

    pub(super) fn check(&self) -> Result<(), ActivityError> {
        if !(0.0..=1.0).contains(&self.false_share) {
            return Err(ActivityError::FalseShare(self.false_share));
        }
        if !(0.1..=1000.0).contains(&self.dispersion) {
            return Err(ActivityError::Dispersion(self.dispersion));
        }
        if !(0.0..=3.0).contains(&self.rate_sd_ln) {
            return Err(ActivityError::RateSpread(self.rate_sd_ln));
        }
        Ok(())
    }
}

impl Default for Counts {
    fn default() -> Self {
        Self::USUAL
    }
}
