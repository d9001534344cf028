//! The range of conditions that a cell's points cover.

use overwinter_model::cell::Tested;
use overwinter_model::{Current, Temperature};

use super::{Group, Point, Role};
use crate::points::{RatedCell, heaviest_current};

/// A figure that may be off by more, percent, does not count as known there: readings of readings in frost.
const LOOSEST_PCT: f64 = 15.0;

/// The range of the discharges among `points` that are not from memory, and well known.
#[must_use]
pub fn tested(entry: &RatedCell, points: &[Point]) -> Tested {
    let mut range = Tested {
        coldest: Temperature::REFERENCE,
        warmest: Temperature::REFERENCE,
        heaviest: Current::ZERO,
        heaviest_in_frost: Current::ZERO,
    };
    let discharges = points.iter().filter(|point| {
        matches!(point.role, Role::Fitted | Role::HeldOut)
            && point
                .row
                .tol_pct
                .is_none_or(|percent| percent <= LOOSEST_PCT)
            && Group::of(&point.row) != Group::Resistances
    });
    for point in discharges {
        let (Ok(current), Some(temp_c)) = (heaviest_current(entry, &point.row), point.row.temp_c)
        else {
            continue;
        };
        let here = Temperature::from_celsius(temp_c);
        if here < range.coldest {
            range.coldest = here;
        }
        if here > range.warmest {
            range.warmest = here;
        }
        range.heaviest = range.heaviest.max(current);
        if temp_c < 0.0 {
            range.heaviest_in_frost = range.heaviest_in_frost.max(current);
        }
    }
    range
}

/// The range of two sets of points together; currents are those of the first.
#[must_use]
pub fn wider(own: Tested, common: Tested) -> Tested {
    let colder = common.coldest < own.coldest;
    let warmer = common.warmest > own.warmest;
    Tested {
        coldest: if colder { common.coldest } else { own.coldest },
        warmest: if warmer { common.warmest } else { own.warmest },
        ..own
    }
}
