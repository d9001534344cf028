//! Trees and a horizon on their way in or out, checked on the way.

use heapless::Vec;
use serde::{Deserialize, Serialize};

use super::horizon::MOST_POINTS;
use super::{CanopyError, HorizonError, Leaves};

/// A [`super::Canopy`], not yet checked.
#[derive(Serialize, Deserialize)]
pub(super) struct Canopy {
    #[serde(with = "crate::decimal")]
    cover: f64,
    leaves: Leaves,
}

impl TryFrom<Canopy> for super::Canopy {
    type Error = CanopyError;
    fn try_from(stored: Canopy) -> Result<Self, CanopyError> {
        Self::new(stored.cover, stored.leaves)
    }
}

impl From<super::Canopy> for Canopy {
    fn from(super::Canopy { cover, leaves }: super::Canopy) -> Self {
        Self { cover, leaves }
    }
}

/// The points of a [`super::Horizon`], not yet checked.
#[derive(Serialize, Deserialize)]
pub(super) struct Horizon(Vec<Point, MOST_POINTS>);

/// One of them.
#[derive(Serialize, Deserialize)]
struct Point {
    #[serde(with = "crate::decimal")]
    azimuth_deg: f64,
    #[serde(with = "crate::decimal")]
    height_deg: f64,
}

impl TryFrom<Horizon> for super::Horizon {
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

impl From<super::Horizon> for Horizon {
    fn from(horizon: super::Horizon) -> Self {
        let stored = |(azimuth_deg, height_deg)| Point {
            azimuth_deg,
            height_deg,
        };
        Self(horizon.points.into_iter().map(stored).collect())
    }
}
