//! A risk that somebody takes, and the latest day within it.

use crate::odds::{Ends, Paths};
use crate::problem::Failure;
use crate::words::plain;

/// A share of all seasons in which pictures may be lost: above 0, below 1.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Risk(f64);

impl Risk {
    /// Reads `5%`, `5 %` or `0.05`.
    ///
    /// # Errors
    /// [`Failure::Request`] if it is no number, not between 0 and 1, or finer than `paths` can tell.
    pub fn parse(text: &str, paths: Paths) -> Result<Self, Failure> {
        const EXAMPLE: &str = "for example --risk 5% or --risk 0.05";
        let refused = |why: String| Failure::request(why, EXAMPLE);
        let (number, scale) = match text.trim().strip_suffix('%') {
            // A division is rounded as a share of paths is: 10 % of 1000 are 100 exactly.
            Some(percent) => (percent.trim_end(), 100.0),
            None => (text.trim(), 1.0),
        };
        let share = number
            .parse::<f64>()
            .map_err(|_| refused(format!("--risk is `{text}`, which is not a number")))?
            / scale;
        if !(share > 0.0 && share < 1.0) {
            let percent_meant = scale < 2.0 && (1.0..100.0).contains(&share);
            let help = if percent_meant {
                let share = plain(share / 100.0);
                format!("did you mean {number} %? Write --risk {number}% or --risk {share}")
            } else {
                EXAMPLE.to_owned()
            };
            let why = format!("--risk is {text}, which is not above 0 and below 1 (100 %)");
            return Err(Failure::request(why, help));
        }
        let needed = (1.0 / share).ceil();
        if needed > f64::from(paths.count) {
            return Err(Failure::request(
                format!(
                    "--risk is {text}, finer than {} paths can tell",
                    paths.count
                ),
                format!("expected --paths {needed:.0} or more, or a larger risk"),
            ));
        }
        Ok(Self(share))
    }

    /// As a share.
    #[must_use]
    pub fn share(self) -> f64 {
        self.0
    }

    /// Standard error of this risk when it is counted on so many paths: that of a binomial share.
    #[must_use]
    pub fn standard_error(self, paths: Paths) -> f64 {
        (self.0 * (1.0 - self.0) / f64::from(paths.count)).sqrt()
    }
}

/// When to be back.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Latest {
    /// The season's end comes within the risk.
    NoVisit {
        /// Share of the paths that have ended by the season's end.
        risk: f64,
    },
    /// So many days after the start, with the risk at the end of that day; 0 where not even the
    /// day after the start is within the risk.
    Day {
        /// Days after the start.
        days: u32,
        /// Share of the paths that have ended by the end of that day.
        risk: f64,
        /// The same by the end of the day after, which is more than is taken.
        a_day_later: f64,
    },
}

impl Latest {
    /// The last day at whose end no more than `risk` of the paths have ended, of a season of so
    /// many days.
    pub(super) fn new(ends: &Ends, season_days: u32, risk: Risk) -> Self {
        let by_end_of = |days| by_end_of(ends, days);
        let beyond = (0..season_days).find(|&days| by_end_of(days) > risk.share());
        let Some(beyond) = beyond else {
            let risk = ends.ended_share(f64::from(season_days));
            return Self::NoVisit { risk };
        };
        let days = beyond.saturating_sub(1);
        Self::Day {
            days,
            risk: by_end_of(days),
            a_day_later: by_end_of(days + 1),
        }
    }

    /// Days after the start, if a visit is needed.
    pub(super) fn days(self) -> Option<u32> {
        match self {
            Self::NoVisit { .. } => None,
            Self::Day { days, .. } => Some(days),
        }
    }
}

/// Share of the paths that have ended by the end of the day that comes so many days after the start:
/// by then one day more has gone by. It is how `forecast --by` counts.
pub(super) fn by_end_of(ends: &Ends, days_after_start: u32) -> f64 {
    ends.ended_share(f64::from(days_after_start) + 1.0)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::odds::EndCounts;

    const DAYS: u32 = 100;

    const PATHS: Paths = Paths { count: 40, seed: 1 };

    fn ends(days: &[f64]) -> Ends {
        let mut ends = EndCounts::none(DAYS, PATHS.count);
        days.iter().for_each(|&days| ends.note(days));
        ends.finished()
    }

    #[test]
    fn shares_and_percents_are_the_same() {
        for text in ["5%", "5 %", " 0.05", "5.0%", "5e-2"] {
            let risk = Risk::parse(text, PATHS).expect(text);
            assert!((risk.share() - 0.05).abs() < 1e-12, "{text}");
        }
        for text in [
            "", "%", "five", "0", "0%", "-5%", "1", "5", "100%", "nan", "inf", "1%",
        ] {
            let told = Risk::parse(text, PATHS).expect_err(text);
            assert!(told.is_of_input(), "{text}");
            assert!(told.to_string().contains("--risk"), "{told}");
        }
        for (text, meant) in [
            ("5", "5 %? Write --risk 5% or --risk 0.05"),
            ("1", "--risk 0.01"),
            ("12.5", "--risk 0.125"),
        ] {
            let told = Risk::parse(text, PATHS).expect_err(text).to_string();
            assert!(
                told.contains("did you mean") && told.contains(meant),
                "{told}"
            );
        }
        for text in ["100", "-5", "200%", "0"] {
            let told = Risk::parse(text, PATHS).expect_err(text).to_string();
            assert!(!told.contains("did you mean"), "{told}");
        }
    }

    #[test]
    fn a_day_at_whose_end_just_the_risk_has_ended_is_within_it() {
        for percent in 1..=99_u32 {
            let paths = Paths {
                count: 1000,
                seed: 1,
            };
            let mut counts = EndCounts::none(DAYS, paths.count);
            (0..10 * percent).for_each(|_| counts.note(9.5));
            counts.note(10.5);
            let ends = counts.finished();
            let risk = Risk::parse(&format!("{percent}%"), paths).expect("a risk");
            assert_eq!(
                Latest::new(&ends, DAYS, risk).days(),
                Some(9),
                "{percent} %"
            );
        }
    }

    proptest! {
        #[test]
        fn the_latest_day_is_the_last_within_the_risk(
            days in prop::collection::vec(0.0..130.0_f64, 40), share in 0.03..0.97_f64,
        ) {
            let ends = ends(&days);
            let risk = Risk(share);
            let after = |days: u32| ends.ended_share(f64::from(days));
            match Latest::new(&ends, DAYS, risk) {
                Latest::NoVisit { risk } => {
                    prop_assert!(risk <= share && (after(DAYS) - risk).abs() < 1e-12);
                }
                Latest::Day { days, risk, a_day_later } => {
                    prop_assert!(days == 0 || risk <= share);
                    prop_assert!((after(days + 1) - risk).abs() < 1e-12);
                    prop_assert!(days == 0 || after(days + 2) > share);
                    prop_assert!((after(days + 2) - a_day_later).abs() < 1e-12);
                }
            }
        }

        #[test]
        fn risk_grows_with_the_interval_and_days_with_the_risk(
            days in prop::collection::vec(0.0..130.0_f64, 40),
            share in 0.03..0.5_f64, more in 1.0..1.9_f64,
        ) {
            let ends = ends(&days);
            let shares: Vec<f64> = (0..=DAYS).map(|days| ends.ended_share(f64::from(days))).collect();
            prop_assert!(shares.is_sorted());
            let latest = |share: f64| Latest::new(&ends, DAYS, Risk(share)).days().unwrap_or(DAYS);
            prop_assert!(latest(share) <= latest(share * more));
        }
    }
}
