//! How values are written and read with serde: numbers in few bytes, and types whose values are
//! checked by way of a plain one beside them.

pub(crate) mod decimal;

use heapless::Vec;
use serde::{Deserialize, Serialize};

use crate::activity::{self, ActivityError, Counts, Pattern};
use crate::cell::Cell;
use crate::harvest::horizon::MOST_POINTS;
use crate::harvest::{self, CanopyError, HorizonError, Leaves};
use crate::pack::{self, PackError};
use crate::place::{self, PlaceError};
use crate::units::Time;
use crate::weather::{self, MonthSpread, SpreadError};

/// An [`activity::Activity`], not yet checked.
#[derive(Serialize, Deserialize)]
pub(crate) struct Activity {
    #[serde(with = "decimal::several")]
    triggers_per_day: [f64; 12],
    pattern: Pattern,
    counts: Counts,
}

impl TryFrom<Activity> for activity::Activity {
    type Error = ActivityError;
    fn try_from(stored: Activity) -> Result<Self, ActivityError> {
        Self::new(stored.triggers_per_day, stored.pattern)?.with_counts(stored.counts)
    }
}

impl From<activity::Activity> for Activity {
    fn from(activity: activity::Activity) -> Self {
        Self {
            triggers_per_day: *activity.triggers_per_day(),
            pattern: *activity.pattern(),
            counts: *activity.counts(),
        }
    }
}

/// A [`harvest::Canopy`], not yet checked.
#[derive(Serialize, Deserialize)]
pub(crate) struct Canopy {
    #[serde(with = "decimal")]
    cover: f64,
    leaves: Leaves,
}

impl TryFrom<Canopy> for harvest::Canopy {
    type Error = CanopyError;
    fn try_from(stored: Canopy) -> Result<Self, CanopyError> {
        Self::new(stored.cover, stored.leaves)
    }
}

impl From<harvest::Canopy> for Canopy {
    fn from(harvest::Canopy { cover, leaves }: harvest::Canopy) -> Self {
        Self { cover, leaves }
    }
}

/// The points of a [`harvest::Horizon`], not yet checked.
#[derive(Serialize, Deserialize)]
pub(crate) struct Horizon(Vec<Point, MOST_POINTS>);

/// One of them.
#[derive(Serialize, Deserialize)]
struct Point {
    #[serde(with = "decimal")]
    azimuth_deg: f64,
    #[serde(with = "decimal")]
    height_deg: f64,
}

impl TryFrom<Horizon> for harvest::Horizon {
    type Error = HorizonError;
    fn try_from(Horizon(stored): Horizon) -> Result<Self, HorizonError> {
        let mut points = Vec::<_, MOST_POINTS>::new();
        for at in &stored {
            // There is room for as many as there were: `collect` would bring a panic with it.
            let _ = points.push((at.azimuth_deg, at.height_deg));
        }
        Self::new(&points)
    }
}

impl From<harvest::Horizon> for Horizon {
    fn from(horizon: harvest::Horizon) -> Self {
        let stored = |(azimuth_deg, height_deg)| Point {
            azimuth_deg,
            height_deg,
        };
        Self(horizon.points.into_iter().map(stored).collect())
    }
}

/// A [`pack::Pack`], not yet checked. The weakest cell follows from the others.
#[derive(Serialize, Deserialize)]
pub(crate) struct Pack {
    cell: Cell,
    series: u8,
    parallel: u8,
}

impl TryFrom<Pack> for pack::Pack {
    type Error = PackError;
    fn try_from(stored: Pack) -> Result<Self, PackError> {
        Self::new(&stored.cell, stored.series, stored.parallel)
    }
}

impl From<pack::Pack> for Pack {
    fn from(pack: pack::Pack) -> Self {
        Self {
            cell: *pack.cell(),
            series: pack.series(),
            parallel: pack.parallel(),
        }
    }
}

/// A [`place::Place`], not yet checked.
#[derive(Serialize, Deserialize)]
pub(crate) struct Place {
    #[serde(with = "decimal")]
    latitude_deg: f64,
    #[serde(with = "decimal")]
    longitude_deg: f64,
    utc_offset: Time,
}

impl TryFrom<Place> for place::Place {
    type Error = PlaceError;
    fn try_from(stored: Place) -> Result<Self, PlaceError> {
        Self::stored(stored.latitude_deg, stored.longitude_deg, stored.utc_offset)
    }
}

impl From<place::Place> for Place {
    fn from(place: place::Place) -> Self {
        Self {
            latitude_deg: place.latitude_deg(),
            longitude_deg: place.longitude_deg(),
            utc_offset: place.utc_offset(),
        }
    }
}

/// A [`weather::Spread`], not yet checked.
#[derive(Serialize, Deserialize)]
pub(crate) struct Spread {
    pub(crate) months: [MonthSpread; 12],
    pub(crate) winters_sd_k: f64,
}

impl TryFrom<Spread> for weather::Spread {
    type Error = SpreadError;
    fn try_from(stored: Spread) -> Result<Self, SpreadError> {
        Self::new(stored.months, stored.winters_sd_k)
    }
}

impl From<weather::Spread> for Spread {
    fn from(spread: weather::Spread) -> Self {
        Self {
            months: *spread.months(),
            winters_sd_k: spread.winters_sd_k(),
        }
    }
}
