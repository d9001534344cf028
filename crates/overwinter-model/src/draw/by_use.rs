//! What a camera's charge goes for.

use crate::units::{Energy, mean};

/// What the charge went for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub enum Use {
    /// Asleep and watching.
    Standby,
    /// Pictures by day.
    DayPictures,
    /// Pictures by night, without the light.
    NightPictures,
    /// Infrared light, for pictures and for video.
    Flash,
    /// Video, without the light.
    Video,
    /// Uploads: finding the network, registering, hanging up.
    UploadSession,
    /// Uploads: the pictures themselves.
    UploadData,
    /// Reports without a picture.
    CheckIn,
}

impl Use {
    /// Every use, in the order in which [`ByUse`] keeps them.
    pub const ALL: [Self; 8] = [
        Self::Standby,
        Self::DayPictures,
        Self::NightPictures,
        Self::Flash,
        Self::Video,
        Self::UploadSession,
        Self::UploadData,
        Self::CheckIn,
    ];
}

/// Energy by [`Use`].
#[derive(Clone, Copy, Debug, Default, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct ByUse([Energy; Use::ALL.len()]);

impl ByUse {
    /// Energy that went for `what`.
    #[must_use]
    pub fn get(&self, what: Use) -> Energy {
        self.iter()
            .find(|(is, _)| *is == what)
            .map_or(Energy::ZERO, |(_, energy)| energy)
    }

    /// Adds `energy` to `what`.
    pub fn add(&mut self, what: Use, energy: Energy) {
        for (is, sum) in Use::ALL.iter().zip(&mut self.0) {
            if *is == what {
                *sum += energy;
            }
        }
    }

    /// Adds all of `other`, `times` over.
    pub fn add_all(&mut self, other: &Self, times: f64) {
        for (sum, energy) in self.0.iter_mut().zip(&other.0) {
            *sum += *energy * times;
        }
    }

    /// Makes of each use the mean with that of `other`.
    pub(crate) fn make_mean_with(&mut self, other: &Self) {
        for (sum, energy) in self.0.iter_mut().zip(&other.0) {
            *sum = mean(*sum, *energy);
        }
    }

    /// All uses together.
    #[must_use]
    pub fn total(&self) -> Energy {
        self.0
            .iter()
            .fold(Energy::ZERO, |sum, energy| sum + *energy)
    }

    /// Each use with its energy.
    pub fn iter(&self) -> impl Iterator<Item = (Use, Energy)> + '_ {
        Use::ALL.iter().copied().zip(self.0.iter().copied())
    }
}
