//! How far a day's count of triggers strays from its mean, and how well that mean is known.

use super::ActivityError;

/// What the counts of single days are drawn from, beside their mean.
///
/// The unit is the *event*: whatever sets the camera off once, pictures less than two minutes apart
/// taken together. Counted in pictures the same data have a dispersion ten times lower.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct Counts {
    /// The part of all triggers that is false (wind, sun, rain, a branch), 0 to 1.
    #[cfg_attr(feature = "serde", serde(with = "crate::decimal"))]
    pub false_share: f64,
    /// The negative binomial's `k` of one camera's daily count, false triggers included: variance =
    /// mean + mean^2 / k. 0.1 to 1000; the larger, the nearer to Poisson.
    #[cfg_attr(feature = "serde", serde(with = "crate::decimal"))]
    pub dispersion: f64,
    /// How well the mean rate is known: one standard deviation of ln(true rate / assumed rate), 0 to 3.
    #[cfg_attr(feature = "serde", serde(with = "crate::decimal"))]
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

    /// How far the rate of a fortnight strays from that of the weeks around it: one standard deviation
    /// of its logarithm, between the halves of a deployment beyond counting noise. The same 87
    /// deployments, by moments, good to 0.06.
    pub const FORTNIGHT_SD_LN: f64 = 0.3;

    /// What a record of `events` in `days` whole days, some weeks long, lets expect of the weeks that
    /// follow it: the mean rate, events per day, and these counts with what stays unknown of that rate
    /// as their [`rate_sd_ln`](Self::rate_sd_ln). `None` unless `days` is above 0 and `events` not
    /// below, both finite.
    ///
    /// ```text
    /// rate = (c + 1/2) / n
    /// sd^2 = ln(1 + 1/(c + 1/2) + 1/(n k) + e^(s^2) - 1) + s^2
    /// ```
    ///
    /// with `c` events in `n` days, `k` the dispersion and `s` [`Self::FORTNIGHT_SD_LN`]. Derivation: a
    /// count of mean `m` over `n` negative binomial days has the variance `m + m^2 / (n k)`; that its
    /// weeks are not those around them adds `m^2 (e^(s^2) - 1)`. Relative to `m^2` that is the first
    /// logarithm's sum, and a lognormal rate of that spread has the logarithm as its variance. The
    /// weeks to come stray by `s` once more. The half event stands for all other cameras, of which
    /// nothing is taken as known but that any rate may be: Jeffreys' prior of a Poisson rate (shape
    /// 1/2), which keeps a record without events from promising that none will come.
    #[must_use]
    pub fn learned(&self, events: f64, days: f64) -> Option<(f64, Self)> {
        if !(events >= 0.0 && events.is_finite() && days > 0.0 && days.is_finite()) {
            return None;
        }
        let stray = Self::FORTNIGHT_SD_LN * Self::FORTNIGHT_SD_LN;
        let events = events + 0.5;
        let counting = 1.0 / events + 1.0 / (days * self.dispersion);
        let variance = libm::log1p(counting + libm::expm1(stray)) + stray;
        let learned = Self {
            rate_sd_ln: libm::sqrt(variance),
            ..*self
        };
        Some((events / days, learned))
    }

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

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand: `ln(1 + 2 + 1/27 + 0.09417) + 0.09` without events in 20 days, and in the limit of many
    /// events in many days twice the stray of a fortnight.
    #[test]
    fn what_is_learned_goes_from_next_to_nothing_to_all_but_the_stray() {
        let sd = |events, days| {
            let (rate, counts) = Counts::USUAL.learned(events, days).unwrap();
            assert!((rate - (events + 0.5) / days).abs() < 1e-12);
            assert!(counts.check().is_ok());
            counts.rate_sd_ln
        };
        assert!((sd(0.0, 20.0) - 1.1097).abs() < 1e-4);
        let both = core::f64::consts::SQRT_2 * Counts::FORTNIGHT_SD_LN;
        assert!((sd(1e9, 1e6) - both).abs() < 1e-5);
        assert!(sd(3.0, 15.0) > sd(30.0, 15.0) && sd(30.0, 15.0) > sd(30.0, 60.0));
    }

    #[test]
    fn no_days_teach_nothing() {
        for (events, days) in [
            (3.0, 0.0),
            (-1.0, 3.0),
            (f64::NAN, 3.0),
            (3.0, f64::INFINITY),
        ] {
            assert_eq!(Counts::USUAL.learned(events, days), None);
        }
    }
}
