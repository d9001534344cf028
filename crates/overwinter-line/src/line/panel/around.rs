//! What stands around a panel and lies on it.

use std::ops::Range;

use overwinter_model::harvest::{Canopy, CanopyError, Ground, Horizon, Leaves, Surroundings};
use time::{Date, Month};
use toml::Spanned;

use super::accepted;
use super::keys::{HorizonHeights, PanelKeys};
use super::read::refuse_idle;
use crate::keys::Reader;
use crate::problem::Problem;
use crate::words::plain;

/// What trunks and branches cover of what the leaves do: common practice, no source.
const BARE_SHARE: f64 = 0.4;
/// Leaves of temperate woods, month and day in the north; half a year later in the south. Common
/// practice, no source.
const LEAF_OUT: [(u8, u8); 2] = [(5, 1), (11, 1)];
const LEAF_FALL: [(u8, u8); 2] = [(10, 1), (4, 1)];

/// Keys that only serve trees which shed their leaves.
const LEAF_KEYS: [&str; 3] = ["bare_trees_pct", "leaf_out", "leaf_fall"];

/// Where the cameras stand, as far as it concerns their panels.
#[derive(Clone, Copy)]
pub(in crate::line) struct Standing {
    /// North positive.
    pub(in crate::line) latitude_deg: f64,
    /// The ground before the panels.
    pub(in crate::line) ground: Ground,
}

impl Standing {
    pub(super) fn in_south(&self) -> bool {
        self.latitude_deg < 0.0
    }
}

/// Reads all of it for one camera, whose name stands at `camera`.
pub(super) fn surroundings(
    reader: &mut Reader,
    keys: &PanelKeys,
    standing: &Standing,
    camera: Range<usize>,
) -> Option<Surroundings> {
    let dirt = keys.dirt_pct.as_ref();
    let dirt = reader.number(
        dirt,
        "dirt_pct",
        accepted::DIRT_PCT,
        100.0 * Surroundings::DIRT,
    ) / 100.0;
    let snow = keys
        .snow_on_panel_pct
        .as_ref()
        .map_or(Some([0.0; 12]), |given| {
            reader.numbers::<12>(given, "snow_on_panel_pct", accepted::PCT)
        });
    let horizon = read_horizon(reader, keys);
    let canopy = read_canopy(reader, keys, standing, camera);
    Some(Surroundings {
        horizon: horizon?,
        canopy: canopy?,
        ground: standing.ground,
        kept_off_by_month: snow?.map(|snow| 1.0 - (1.0 - dirt) * (1.0 - snow / 100.0)),
    })
}

pub(super) fn read_horizon(reader: &mut Reader, keys: &PanelKeys) -> Option<Horizon> {
    let Some(given) = &keys.horizon_deg else {
        return Some(Horizon::flat());
    };
    let points = match given.get_ref() {
        HorizonHeights::Everywhere(height) => &[(0.0, *height)][..],
        HorizonHeights::ByAzimuth(points) => points,
    };
    match Horizon::new(points) {
        Ok(horizon) => Some(horizon),
        Err(why) => {
            reader.problem(Problem::at(
                given.span(),
                format!("`horizon_deg` is not a horizon: {why}"),
                "expected a height (0 to 90), or pairs of azimuth (0 to below 360, rising) and height",
            ));
            None
        }
    }
}

fn read_canopy(
    reader: &mut Reader,
    keys: &PanelKeys,
    standing: &Standing,
    camera: Range<usize>,
) -> Option<Canopy> {
    let mut share = |given: Option<&Spanned<f64>>, key: &str, usual: f64| {
        reader.number(given, key, accepted::PCT, 100.0 * usual) / 100.0
    };
    let cover = share(keys.trees_pct.as_ref(), "trees_pct", 0.0);
    let usual_bare = cover * BARE_SHARE;
    let bare_cover = share(keys.bare_trees_pct.as_ref(), "bare_trees_pct", usual_bare);
    if keys.trees_pct.is_none() {
        let idle = [&["trees"][..], &LEAF_KEYS].concat();
        refuse_idle(
            reader,
            keys,
            &idle,
            "there are no trees without `trees_pct`",
        );
        return Some(Canopy::NONE);
    }
    let deciduous = reader.choice(keys.trees.as_ref(), "trees", &accepted::TREES, false);
    let leaves = if deciduous {
        let half = usize::from(standing.in_south());
        let mut day = |given: Option<&Spanned<String>>, key, usual: [(u8, u8); 2]| {
            read_day(reader, given, key, usual[half])
        };
        Leaves::Deciduous {
            bare_cover,
            out: day(keys.leaf_out.as_ref(), "leaf_out", LEAF_OUT)?,
            fall: day(keys.leaf_fall.as_ref(), "leaf_fall", LEAF_FALL)?,
        }
    } else {
        refuse_idle(reader, keys, &LEAF_KEYS, "`trees` is not \"deciduous\"");
        Leaves::Evergreen
    };
    match Canopy::new(cover, leaves) {
        Ok(canopy) => Some(canopy),
        Err(why) => {
            let key = match why {
                CanopyError::DenserBare { .. } => "bare_trees_pct",
                _ => "trees_pct",
            };
            let span = keys.place_of(key).unwrap_or(camera);
            let most = plain(100.0 * cover);
            reader.problem(Problem::at(
                span,
                why.to_string(),
                format!("expected at most {most}"),
            ));
            None
        }
    }
}

/// Notes where the days of leaves are no days of the year.
pub(super) fn check_leaf_days(reader: &mut Reader, keys: &PanelKeys) {
    read_day(reader, keys.leaf_out.as_ref(), "leaf_out", LEAF_OUT[0]);
    read_day(reader, keys.leaf_fall.as_ref(), "leaf_fall", LEAF_FALL[0]);
}

/// Day of the year of `MM-DD`.
fn read_day(
    reader: &mut Reader,
    given: Option<&Spanned<String>>,
    key: &str,
    usual: (u8, u8),
) -> Option<u16> {
    let Some(given) = given else {
        return day_of_year(usual);
    };
    let parts = given.get_ref().split_once('-');
    let numbers = parts.and_then(|(month, day)| Some((month.parse().ok()?, day.parse().ok()?)));
    let day = numbers.and_then(day_of_year);
    if day.is_none() {
        reader.problem(
            Problem::at(
                given.span(),
                format!(
                    "`{key}` is \"{}\", which is not a day of the year",
                    given.get_ref()
                ),
                "expected month and day",
            )
            .help(format!(
                "for example {key} = \"{:02}-{:02}\"",
                usual.0, usual.1
            )),
        );
    }
    day
}

/// The day's place in a year without a leap day.
fn day_of_year((month, day): (u8, u8)) -> Option<u16> {
    let month = Month::try_from(month).ok()?;
    Some(Date::from_calendar_date(2027, month, day).ok()?.ordinal())
}
