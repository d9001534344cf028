//! What can come to an end, and containers with a place for each.

use core::ops::{Index, IndexMut};

/// Something that can come to an end in a season.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[non_exhaustive]
pub enum Ending {
    /// Night pictures: the flash failed for the first time. Later hours may be warm enough again.
    NightPictures,
    /// Uploads: one, or a report, failed for the first time.
    Uploads,
    /// Room on the memory card; the camera goes on without keeping what it takes.
    CardRoom,
    /// What a panel's store holds: it was empty for the first time, and the pack took over.
    Store,
    /// The camera itself: it stopped for good.
    Camera,
}

impl Ending {
    /// Every one, in the order in which [`Ends`] keeps them.
    pub const ALL: [Self; 5] = [
        Self::NightPictures,
        Self::Uploads,
        Self::CardRoom,
        Self::Store,
        Self::Camera,
    ];
}

/// Something for each [`Ending`].
#[derive(Clone, Copy, Debug, Default, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct Ends<T>([T; Ending::ALL.len()]);

impl<T: Copy> Ends<T> {
    /// The same for each.
    #[must_use]
    pub const fn all(value: T) -> Self {
        Self([value; Ending::ALL.len()])
    }
}

impl<T> Ends<T> {
    /// What `of` says of each.
    #[inline(always)]
    pub fn each(of: impl FnMut(Ending) -> T) -> Self {
        Self(Ending::ALL.map(of))
    }

    /// Each ending with what there is of it.
    pub fn iter(&self) -> impl Iterator<Item = (Ending, &T)> {
        Ending::ALL.into_iter().zip(&self.0)
    }

    /// The same, to be changed.
    pub fn iter_mut(&mut self) -> impl Iterator<Item = (Ending, &mut T)> {
        Ending::ALL.into_iter().zip(&mut self.0)
    }
}

// By patterns: an index into an array could panic.
impl<T> Index<Ending> for Ends<T> {
    type Output = T;

    #[inline(always)]
    fn index(&self, of: Ending) -> &T {
        let [night_pictures, uploads, card_room, store, camera] = &self.0;
        match of {
            Ending::NightPictures => night_pictures,
            Ending::Uploads => uploads,
            Ending::CardRoom => card_room,
            Ending::Store => store,
            Ending::Camera => camera,
        }
    }
}

impl<T> IndexMut<Ending> for Ends<T> {
    #[inline(always)]
    fn index_mut(&mut self, of: Ending) -> &mut T {
        let [night_pictures, uploads, card_room, store, camera] = &mut self.0;
        match of {
            Ending::NightPictures => night_pictures,
            Ending::Uploads => uploads,
            Ending::CardRoom => card_room,
            Ending::Store => store,
            Ending::Camera => camera,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_ending_has_its_own_place() {
        let mut ends = Ends::each(|ending| ending);
        for ending in Ending::ALL {
            assert_eq!(ends[ending], ending);
        }
        ends[Ending::Store] = Ending::Camera;
        let there: std::vec::Vec<_> = ends.iter().filter(|(at, is)| at != *is).collect();
        assert_eq!(there, [(Ending::Store, &Ending::Camera)]);
    }
}
