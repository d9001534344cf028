//! The odds that are asked for.

use crate::odds::Paths;
use crate::problem::Failure;
use serde::Serialize;

/// A share of the seasons in which a camera shall live to the end: above 0, below 1.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct TargetOdds(f64);

impl TargetOdds {
    /// Reads percent: `95` or `95%`.
    ///
    /// # Errors
    /// [`Failure::Request`] if it is no number, not between 1 and 100, or finer than `paths` can tell.
    pub fn parse(text: &str, paths: Paths) -> Result<Self, Failure> {
        let refused =
            |why: String| Failure::request(why, "for example --odds 95, which is percent");
        let number = text.trim();
        let number = number.strip_suffix('%').unwrap_or(number).trim_end();
        let percent = number
            .parse::<f64>()
            .map_err(|_| refused(format!("--odds is `{text}`, which is not a number")))?;
        if !(1.0..100.0).contains(&percent) {
            let why = format!("--odds is {text}, which is not 1 or more and below 100 percent");
            if percent > 0.0 && percent < 1.0 {
                let meant = crate::words::plain(100.0 * percent);
                return Err(Failure::request(
                    why,
                    format!("did you mean --odds {meant}?"),
                ));
            }
            return Err(refused(why));
        }
        let needed = (100.0 / (100.0 - percent)).ceil();
        if needed > f64::from(paths.count) {
            return Err(Failure::request(
                format!(
                    "--odds is {text}, finer than {} paths can tell",
                    paths.count
                ),
                format!("expected --paths {needed:.0} or more, or lower odds"),
            ));
        }
        Ok(Self(percent / 100.0))
    }

    /// As a share.
    #[must_use]
    pub fn share(self) -> f64 {
        self.0
    }

    /// Whether a share of so many paths is as much: shares are counts, and may be a bit off.
    #[must_use]
    pub fn reached(self, share: f64) -> bool {
        share >= self.0 - 1e-9
    }

    /// Standard error of these odds when they are counted on so many paths: that of a binomial share.
    #[must_use]
    pub fn standard_error(self, paths: Paths) -> f64 {
        (self.0 * (1.0 - self.0) / f64::from(paths.count)).sqrt()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const PATHS: Paths = Paths { count: 40, seed: 1 };

    #[test]
    fn percent_is_read_and_all_else_refused() {
        for text in ["95", "95%", " 95 % ", "95.0", "9.5e1"] {
            let wanted = TargetOdds::parse(text, PATHS).expect(text);
            assert!((wanted.share() - 0.95).abs() < 1e-12, "{text}");
        }
        for text in [
            "", "%", "high", "0", "0.95", "100", "100%", "-5", "nan", "inf", "99",
        ] {
            let told = TargetOdds::parse(text, PATHS).expect_err(text);
            assert!(told.is_of_input(), "{text}");
            assert!(told.to_string().contains("--odds"), "{told}");
        }
    }

    #[test]
    fn just_as_many_seasons_are_enough() {
        for percent in 1..=97_u32 {
            let paths = Paths {
                count: 100,
                seed: 1,
            };
            let wanted = TargetOdds::parse(&percent.to_string(), paths).expect("odds");
            assert!(wanted.reached(1.0 - f64::from(100 - percent) / 100.0));
            assert!(!wanted.reached(1.0 - f64::from(101 - percent) / 100.0));
        }
    }
}
