//! What of the light on open ground falls on a tilted plane.

use super::{Light, Sun, perez};
use crate::arithmetic::{max, positive};
use crate::{Direction, Irradiance};

/// A sun lower than this (1 degree) counts as this high where the beam on the plane is held
/// against that on the horizontal. Common practice of implementations, no source.
const FLATTEST_UP: f64 = 0.017_45;

/// How the light of the sky is spread over it.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub enum SkyModel {
    /// The same from everywhere: Liu and Jordan 1963. Against [`Self::Perez`] 7 to 9 % low in
    /// winter on a plane tilted by the latitude, and far too bright on one turned away.
    Isotropic,
    /// A share by the clearness comes from around the sun, the rest from everywhere: Hay and
    /// Davies, "Calculation of the solar radiation incident on an inclined surface", First
    /// Canadian Solar Radiation Data Workshop, 1980. Against [`Self::Perez`] 1 to 3 % low.
    #[default]
    HayDavies,
    /// The sun's surroundings, a bright or dark horizon and the rest, fitted by kind of sky: Perez
    /// et al., "Modeling daylight availability and irradiance components from direct and global
    /// irradiance", Solar Energy 44(5), 1990.
    Perez,
}

/// A flat panel's place in space.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[cfg_attr(feature = "serde", serde(try_from = "Angles", into = "Angles"))]
pub struct Plane {
    angles: Angles,
    normal: Direction,
    sin_tilt: f64,
}

/// A [`Plane`]'s tilt from the horizontal and its azimuth, degrees: how it is stored.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
struct Angles {
    #[cfg_attr(feature = "serde", serde(with = "crate::decimal"))]
    tilt_deg: f64,
    #[cfg_attr(feature = "serde", serde(with = "crate::decimal"))]
    azimuth_deg: f64,
}

impl TryFrom<Angles> for Plane {
    type Error = PlaneError;
    fn try_from(angles: Angles) -> Result<Self, PlaneError> {
        Self::new(angles.tilt_deg, angles.azimuth_deg)
    }
}

impl From<Plane> for Angles {
    fn from(plane: Plane) -> Self {
        plane.angles
    }
}

impl Plane {
    /// Flat on the ground, its lower edge to the north.
    #[cfg(feature = "blob")]
    pub(crate) const LEVEL: Self = Self {
        angles: Angles {
            tilt_deg: 0.0,
            azimuth_deg: 0.0,
        },
        normal: Direction::new(0.0, 0.0, 1.0),
        sin_tilt: 0.0,
    };

    /// A plane tilted from the horizontal (0 to 90 degrees), facing `azimuth_deg` from north
    /// through east (0 to 360 degrees).
    ///
    /// # Errors
    /// [`PlaneError`] with the angle that is out of range.
    pub fn new(tilt_deg: f64, azimuth_deg: f64) -> Result<Self, PlaneError> {
        if !(0.0..=90.0).contains(&tilt_deg) {
            return Err(PlaneError::Tilt(tilt_deg));
        }
        if !(0.0..=360.0).contains(&azimuth_deg) {
            return Err(PlaneError::Azimuth(azimuth_deg));
        }
        Ok(Self {
            angles: Angles {
                tilt_deg,
                azimuth_deg,
            },
            normal: Direction::from_angles(90.0 - tilt_deg, azimuth_deg),
            sin_tilt: libm::sin(tilt_deg.to_radians()),
        })
    }

    /// Degrees from the horizontal.
    #[must_use]
    pub const fn tilt_deg(&self) -> f64 {
        self.angles.tilt_deg
    }

    /// Degrees from north through east.
    #[must_use]
    pub const fn azimuth_deg(&self) -> f64 {
        self.angles.azimuth_deg
    }

    /// The share of the sky's dome that it sees, weighted by the angle.
    fn sees_sky(&self) -> f64 {
        0.5 * (1.0 + self.normal.up())
    }

    /// The light on the plane with ground of this albedo (0 to 1) before it.
    #[must_use]
    pub fn light(&self, sun: &Sun, light: &Light, albedo: f64, sky: SkyModel) -> PlaneLight {
        let facing = positive(sun.apparent.cos_to(self.normal));
        let sky_seen = self.sees_sky();
        let (around_sun, rest) = match sky {
            SkyModel::Isotropic => (0.0, sky_seen),
            SkyModel::HayDavies => {
                let share = light.beam / sun.outside;
                let ratio = facing / max(sun.apparent.up(), FLATTEST_UP);
                (share * ratio, (1.0 - share) * sky_seen)
            }
            SkyModel::Perez => match perez::brightness(sun, light) {
                Some(bright) => (
                    bright.around_sun * facing / max(sun.apparent.up(), perez::FLATTEST_UP),
                    (1.0 - bright.around_sun) * sky_seen + bright.horizon * self.sin_tilt,
                ),
                None => (0.0, 0.0),
            },
        };
        PlaneLight {
            from_sun: light.beam * facing + light.diffuse * around_sun,
            // Perez' dark horizon may outweigh the rest of the sky.
            from_sky: (light.diffuse * rest).max(-(light.diffuse * around_sun)),
            from_ground: light.global * (albedo * (1.0 - sky_seen)),
        }
    }
}

/// Light on a plane, by the way on which it comes.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct PlaneLight {
    /// The beam, and the light of the sky close around the sun.
    pub from_sun: Irradiance,
    /// The light of the rest of the sky.
    pub from_sky: Irradiance,
    /// What the ground throws back.
    pub from_ground: Irradiance,
}

impl PlaneLight {
    /// All of it, never below zero.
    #[must_use]
    pub fn total(&self) -> Irradiance {
        // Perez' dark horizon may leave less than nothing of the sky where the sun is hidden.
        (self.from_sun + self.from_sky + self.from_ground).max(Irradiance::ZERO)
    }
}

/// Why a [`Plane`] could not be made. Each variant carries the angle that broke the rule.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub enum PlaneError {
    /// Degrees from the horizontal; must lie between 0 and 90.
    Tilt(f64),
    /// Degrees from north through east; must lie between 0 and 360.
    Azimuth(f64),
}

impl core::fmt::Display for PlaneError {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        match self {
            Self::Tilt(x) => write!(f, "tilt {x} is not between 0 and 90 degrees"),
            Self::Azimuth(x) => write!(f, "azimuth {x} is not between 0 and 360 degrees"),
        }
    }
}

impl core::error::Error for PlaneError {}
