//! Where a camera stands, as far as the sun is concerned.

#[cfg(feature = "serde")]
mod stored;

use crate::Time;

/// A place on the ground and the standard time its clock keeps all year.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[cfg_attr(
    feature = "serde",
    serde(try_from = "stored::Place", into = "stored::Place")
)]
pub struct Place {
    latitude_deg: f64,
    longitude_deg: f64,
    utc_offset: Time,
}

impl Place {
    /// On the equator and the prime meridian.
    pub(crate) const ORIGIN: Self = Self {
        latitude_deg: 0.0,
        longitude_deg: 0.0,
        utc_offset: Time::ZERO,
    };

    /// A place by latitude (north positive, -90 to 90 degrees), longitude (east positive, -180 to
    /// 180 degrees) and its local standard time's offset from UTC (-12 to 14 hours, east positive).
    ///
    /// # Errors
    /// [`PlaceError`] with the value that is not a number or out of range.
    ///
    /// ```
    /// use overwinter_model::{Place, PlaceError};
    /// assert!(Place::new(50.8, 4.6, 1.0).is_ok());
    /// assert_eq!(Place::new(97.0, 4.6, 1.0), Err(PlaceError::Latitude(97.0)));
    /// ```
    pub fn new(
        latitude_deg: f64,
        longitude_deg: f64,
        utc_offset_h: f64,
    ) -> Result<Self, PlaceError> {
        if !(-90.0..=90.0).contains(&latitude_deg) {
            return Err(PlaceError::Latitude(latitude_deg));
        }
        if !(-180.0..=180.0).contains(&longitude_deg) {
            return Err(PlaceError::Longitude(longitude_deg));
        }
        if !(-12.0..=14.0).contains(&utc_offset_h) {
            return Err(PlaceError::UtcOffset(utc_offset_h));
        }
        Ok(Self {
            latitude_deg,
            longitude_deg,
            utc_offset: Time::from_hours(utc_offset_h),
        })
    }

    /// The same with the offset as it was stored: hours and back would cost its last digit.
    #[cfg(feature = "serde")]
    pub(crate) fn stored(
        latitude_deg: f64,
        longitude_deg: f64,
        utc_offset: Time,
    ) -> Result<Self, PlaceError> {
        let place = Self::new(latitude_deg, longitude_deg, utc_offset.as_hours())?;
        Ok(Self {
            utc_offset,
            ..place
        })
    }

    /// Degrees, north positive.
    #[must_use]
    pub fn latitude_deg(&self) -> f64 {
        self.latitude_deg
    }

    /// Degrees, east positive.
    #[must_use]
    pub fn longitude_deg(&self) -> f64 {
        self.longitude_deg
    }

    /// Local standard time minus UTC.
    #[must_use]
    pub fn utc_offset(&self) -> Time {
        self.utc_offset
    }
}

/// Why a [`Place`] could not be made. Each variant carries the value that broke the rule.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub enum PlaceError {
    /// Degrees; must lie between -90 and 90.
    Latitude(f64),
    /// Degrees; must lie between -180 and 180.
    Longitude(f64),
    /// Hours; must lie between -12 and 14.
    UtcOffset(f64),
}

impl core::fmt::Display for PlaceError {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        match self {
            Self::Latitude(x) => write!(f, "latitude {x} is not between -90 and 90 degrees"),
            Self::Longitude(x) => write!(f, "longitude {x} is not between -180 and 180 degrees"),
            Self::UtcOffset(x) => write!(f, "UTC offset {x} is not between -12 and 14 hours"),
        }
    }
}

impl core::error::Error for PlaceError {}
