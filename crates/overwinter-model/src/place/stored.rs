//! A place on its way in or out, checked on the way.

use serde::{Deserialize, Serialize};

use super::PlaceError;
use crate::units::Time;

/// A [`super::Place`], not yet checked.
#[derive(Serialize, Deserialize)]
pub(super) struct Place {
    #[serde(with = "crate::decimal")]
    latitude_deg: f64,
    #[serde(with = "crate::decimal")]
    longitude_deg: f64,
    utc_offset: Time,
}

impl TryFrom<Place> for super::Place {
    type Error = PlaceError;
    fn try_from(stored: Place) -> Result<Self, PlaceError> {
        Self::stored(stored.latitude_deg, stored.longitude_deg, stored.utc_offset)
    }
}

impl From<super::Place> for Place {
    fn from(place: super::Place) -> Self {
        Self {
            latitude_deg: place.latitude_deg(),
            longitude_deg: place.longitude_deg(),
            utc_offset: place.utc_offset(),
        }
    }
}
