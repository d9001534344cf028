//! Energy in and out by the week.

use serde::Serialize;
use time::Date;

use crate::line::Line;
use crate::odds::{Lost, Odds, SunMean, SunWeek};

/// How many of the worst are told.
const WORST: usize = 3;

/// A week of the season, over the sampled seasons.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Week {
    /// Its first day.
    #[serde(serialize_with = "crate::words::iso_date")]
    pub start: Date,
    /// How many days it has.
    pub days: usize,
    /// Sums of the week, mean over the seasons in which the camera lives in it.
    pub mean: SunMean,
    /// Share of its days on which the store was empty for a time, over those seasons; 0 to 1.
    pub empty: f64,
    /// Share of the seasons in which the camera was alive when it began, 0 to 1.
    pub alive: f64,
}

impl Week {
    /// What the panel brought beyond what the camera drew, watt-hours.
    #[must_use]
    pub fn balance_wh(&self) -> f64 {
        self.mean.stored_wh - self.mean.drawn_wh
    }
}

/// All weeks of the season.
pub(super) fn weeks(line: &Line, odds: &Odds) -> Vec<Week> {
    let first = line.season.first_day();
    let week = |week: SunWeek| Week {
        // A day of the season, so it fits.
        start: first.plus(week.first_day as i32).date(),
        days: week.days,
        mean: week.mean,
        empty: week.dry,
        alive: 1.0 - odds.lost[Lost::Camera].ended_share(week.first_day as f64),
    };
    odds.sun.weeks().map(week).collect()
}

/// Places of the worst: where the store was empty most, or where the least came for what was drawn.
/// In their order, of the weeks that most cameras live to see: nothing comes and goes where they are dead.
pub(super) fn worst(weeks: &[Week]) -> Vec<usize> {
    let seen = |place: &usize| weeks.get(*place).is_some_and(|week| week.alive >= 0.5);
    let any_empty = weeks.iter().any(|week| week.empty > 0.0);
    let badness = |place: usize| {
        weeks.get(place).map_or([0.0; 2], |week| {
            let short = -week.balance_wh() / week.days as f64;
            if any_empty {
                [week.empty, short]
            } else {
                [short, 0.0]
            }
        })
    };
    let mut places: Vec<usize> = (0..weeks.len()).filter(seen).collect();
    places.sort_by(|a, b| {
        let (a, b) = (badness(*a), badness(*b));
        b[0].total_cmp(&a[0]).then(b[1].total_cmp(&a[1]))
    });
    places.truncate(WORST);
    places.sort_unstable();
    places
}

#[cfg(test)]
mod tests {
    use super::*;

    fn week(stored_wh: f64, empty: f64) -> Week {
        Week {
            start: time::macros::date!(2026 - 11 - 02),
            days: 7,
            mean: SunMean {
                stored_wh,
                drawn_wh: 5.0,
                ..SunMean::default()
            },
            empty,
            alive: 1.0,
        }
    }

    #[test]
    fn the_worst_weeks_are_the_empty_ones_and_then_the_short_ones() {
        let stored = [9.0, 1.0, 3.0, 2.0, 8.0];
        let short: Vec<Week> = stored.iter().map(|wh| week(*wh, 0.0)).collect();
        assert_eq!(worst(&short), [1, 2, 3]);
        let mut some_empty = short;
        some_empty[4].empty = 0.2;
        assert_eq!(worst(&some_empty), [1, 3, 4]);
        assert_eq!(worst(&some_empty[..2]), [0, 1]);
        some_empty[3].alive = 0.4;
        assert_eq!(worst(&some_empty), [1, 2, 4]);
    }
}
