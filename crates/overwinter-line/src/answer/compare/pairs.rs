//! Which cells keep a camera's record longer, pair by pair through the same seasons.

use serde::Serialize;

use super::ComparedCamera;
use crate::answer::document::Rounded;
use crate::odds::PathEnds;

/// From so large a chance on it is known which of two lasts longer, and below one less that.
const KNOWN_FROM: f64 = 0.8;

/// Two kinds of cells in one camera.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PairDocument {
    /// The cells that the chance is on the side of.
    pub longer: String,
    /// The others.
    pub shorter: String,
    /// Share of the seasons in which the first keep all pictures longer.
    pub odds_longer: Rounded<4>,
    /// In which both keep them to the season's end.
    pub odds_both_to_end: Rounded<4>,
    /// Chance that the first last longer: those seasons, and half of the ones in which neither does.
    pub odds_over: Rounded<4>,
    /// Whether that is known well enough to choose by: 0.8 and more.
    pub known: bool,
}

/// Every pair of cells that fit a camera.
pub(super) fn pairs(one: &ComparedCamera<'_>, season_days: f64) -> Vec<PairDocument> {
    let fitting: Vec<(&str, &[PathEnds])> = one
        .tries
        .iter()
        .filter_map(|tried| {
            let fared = tried.fared.as_ref().ok()?;
            Some((tried.pack.cell.name.as_str(), fared.odds.paths.as_slice()))
        })
        .collect();
    let mut pairs = Vec::new();
    for (place, first) in fitting.iter().enumerate() {
        for second in fitting.iter().skip(place + 1) {
            pairs.push(pair(*first, *second, season_days));
        }
    }
    pairs
}

fn pair(
    (first, first_paths): (&str, &[PathEnds]),
    (second, second_paths): (&str, &[PathEnds]),
    season_days: f64,
) -> PairDocument {
    let (mut over, mut under, mut both) = (0.0, 0.0, 0.0);
    for (a, b) in first_paths.iter().zip(second_paths) {
        let (a, b) = (a.record.min(season_days), b.record.min(season_days));
        over += f64::from(u8::from(a > b));
        under += f64::from(u8::from(a < b));
        both += f64::from(u8::from(a >= season_days && b >= season_days));
    }
    let seasons = first_paths.len() as f64;
    let [over, under, both] = [over, under, both].map(|count| count / seasons);
    let chance = |longer: f64| longer + (1.0 - over - under) / 2.0;
    let (longer, shorter, odds_longer) = if over >= under {
        (first, second, over)
    } else {
        (second, first, under)
    };
    PairDocument {
        longer: longer.to_owned(),
        shorter: shorter.to_owned(),
        odds_longer: Rounded(odds_longer),
        odds_both_to_end: Rounded(both),
        odds_over: Rounded(chance(odds_longer)),
        known: chance(odds_longer) >= KNOWN_FROM,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn paths<const N: usize>(days: [f64; N]) -> [PathEnds; N] {
        days.map(|record| PathEnds {
            camera: f64::INFINITY,
            record,
        })
    }

    #[test]
    fn seasons_that_neither_wins_are_shared() {
        let to_the_end = f64::INFINITY;
        let first = paths([50.0, to_the_end, to_the_end, 20.0]);
        let second = paths([60.0, to_the_end, 90.0, 90.0]);
        let pair = pair(("a", &first), ("b", &second), 100.0);
        assert_eq!((pair.longer.as_str(), pair.shorter.as_str()), ("b", "a"));
        let odds = [pair.odds_longer, pair.odds_both_to_end, pair.odds_over];
        assert_eq!(odds, [0.5, 0.25, 0.625].map(Rounded));
        assert!(!pair.known);
    }

    #[test]
    fn of_two_that_always_differ_it_is_known_which() {
        let pair = pair(("a", &paths([9.0; 5])), ("b", &paths([8.0; 5])), 100.0);
        assert_eq!(
            (pair.longer.as_str(), pair.odds_over.0, pair.known),
            ("a", 1.0, true)
        );
    }
}
