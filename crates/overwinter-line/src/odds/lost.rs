//! What a season can lose, as chances are counted of it.

use std::ops::{Index, IndexMut};

use overwinter_model::Number;
use overwinter_model::paths::EndDays;
use overwinter_model::season::{Ending, Ends};

/// Something that a season can lose. A camera that has stopped takes no pictures and sends none: where
/// it says so, that counts too.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Lost {
    /// The first night picture: the flash failed for the first time.
    FirstNightPicture,
    /// All night pictures from then on: the flash failed or the camera stopped.
    NightPictures,
    /// Uploads and reports: one failed or the camera stopped.
    Uploads,
    /// Room on the memory card.
    CardRoom,
    /// The camera: it stopped for good.
    Camera,
    /// The first thing that costs pictures: night pictures, the card or the camera itself.
    Record,
    /// What a panel's store holds: it was empty for the first time, and the pack took over or the
    /// camera stopped; without a store, the camera's end.
    Store,
}

impl Lost {
    /// Every one, in the order in which [`Losses`] keeps them.
    pub const ALL: [Self; 7] = [
        Self::FirstNightPicture,
        Self::NightPictures,
        Self::Uploads,
        Self::CardRoom,
        Self::Camera,
        Self::Record,
        Self::Store,
    ];

    /// The endings of which the first loses it.
    const fn endings(self) -> &'static [Ending] {
        match self {
            Self::FirstNightPicture => &[Ending::NightPictures],
            Self::NightPictures => &[Ending::NightPictures, Ending::Camera],
            Self::Uploads => &[Ending::Uploads, Ending::Camera],
            Self::CardRoom => &[Ending::CardRoom],
            Self::Camera => &[Ending::Camera],
            Self::Record => &[Ending::NightPictures, Ending::CardRoom, Ending::Camera],
            // A camera stops within the hours in which its store runs empty, and then notes no more.
            Self::Store => &[Ending::Store, Ending::Camera],
        }
    }

    /// When each path loses it, in days since the season began; infinite where it does not.
    #[inline(always)]
    pub(super) fn when<const L: usize>(self, ends: &Ends<EndDays<L>>) -> EndDays<L> {
        let never = EndDays::all(f64::INFINITY);
        let days = self.endings().iter().map(|ending| ends[*ending]);
        days.fold(never, Number::min)
    }
}

/// Something for each [`Lost`].
#[derive(Clone, Debug, PartialEq)]
pub struct Losses<T>([T; Lost::ALL.len()]);

impl<T> Losses<T> {
    /// What `of` says of each.
    pub fn each(of: impl FnMut(Lost) -> T) -> Self {
        Self(Lost::ALL.map(of))
    }

    /// Each with what there is of it, to be changed.
    pub fn iter_mut(&mut self) -> impl Iterator<Item = (Lost, &mut T)> {
        Lost::ALL.into_iter().zip(&mut self.0)
    }
}

impl<T> Index<Lost> for Losses<T> {
    type Output = T;

    fn index(&self, lost: Lost) -> &T {
        &self.0[lost as usize]
    }
}

impl<T> IndexMut<Lost> for Losses<T> {
    fn index_mut(&mut self, lost: Lost) -> &mut T {
        &mut self.0[lost as usize]
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_loss_has_its_own_place() {
        let losses = Losses::each(|lost| lost);
        assert!(Lost::ALL.iter().all(|lost| losses[*lost] == *lost));
    }

    #[test]
    fn the_first_ending_counts() {
        let mut days = 0.0;
        let ends = Ends::each(|_| {
            days += 1.0;
            EndDays::<1>::all(days)
        });
        let when = |lost: Lost| lost.when(&ends).0[0] as u32;
        assert_eq!(when(Lost::NightPictures), when(Lost::FirstNightPicture));
        assert!(when(Lost::Uploads) < when(Lost::Camera));
        assert_eq!(when(Lost::Record), when(Lost::NightPictures));
        assert!(when(Lost::Store) < when(Lost::Camera));
        assert!(when(Lost::CardRoom) < when(Lost::Store));
    }
}
