//! The figures of a camera's draw: which there are, what is usual, and a camera's own.
//!
//! The usual values are built up from component classes, converter losses included, and counted at
//! the pack: data sheets and published measurements where there are any, engineering judgement where
//! not. `datasheets-notes/loads.md` lists them with their sources; none describes one product.

#[macro_use]
mod row;

mod table;

#[cfg(test)]
mod tests;

use std::ops::{Index, IndexMut, RangeInclusive};

pub use row::{Unit, Usual};
pub(super) use table::DrawKeys;
pub use table::Figure;

use super::kinds::Kind;
use super::known::Known;
use super::{Assumed, Camera, Origin, Settings};

/// What the line file may give of any figure, in its unit. It is wide: what is merely unusual is
/// `check`'s business.
pub(super) const ACCEPTED: RangeInclusive<f64> = 1e-4..=10_000.0;

impl Figure {
    /// Its key in `[draw]`.
    #[must_use]
    pub fn key(self) -> &'static str {
        self.row().key
    }

    /// The unit of its values.
    #[must_use]
    pub fn unit(self) -> Unit {
        self.row().unit
    }

    /// Whether only cameras with a modem have it.
    #[must_use]
    pub fn is_of_modem(self) -> bool {
        self.row().kinds.is_of_modem()
    }

    /// What it is in cameras of a kind; `None` if they do not have it.
    #[must_use]
    pub fn usual(self, kind: Kind) -> Option<&'static Usual> {
        self.row().kinds.of(kind)
    }

    /// Whether it has any effect with these settings.
    #[must_use]
    pub fn is_used_with(self, settings: &Settings) -> bool {
        self.row().used.with(settings)
    }

    /// Every figure in the order of answers: those of every camera, then those of a modem.
    pub fn in_answers() -> impl Iterator<Item = Self> {
        let of_modem = |wanted| {
            let all = Self::ALL.into_iter();
            all.filter(move |figure| figure.is_of_modem() == wanted)
        };
        of_modem(false).chain(of_modem(true))
    }

    /// The figures of a kind of camera and what is usual, in the order of answers.
    pub fn of(kind: Kind) -> impl Iterator<Item = (Self, &'static Usual)> {
        Self::in_answers().filter_map(move |figure| Some((figure, figure.usual(kind)?)))
    }
}

/// One `T` for each figure.
#[derive(Clone, Debug, PartialEq)]
pub struct Figures<T>([T; Figure::ALL.len()]);

impl<T> Figures<T> {
    /// What `each` has for every figure.
    pub fn new(each: impl FnMut(Figure) -> T) -> Self {
        Self(Figure::ALL.map(each))
    }
}

impl<T> Index<Figure> for Figures<T> {
    type Output = T;

    fn index(&self, figure: Figure) -> &T {
        &self.0[figure as usize]
    }
}

impl<T> IndexMut<Figure> for Figures<T> {
    fn index_mut(&mut self, figure: Figure) -> &mut T {
        &mut self.0[figure as usize]
    }
}

impl Figures<Assumed> {
    /// What is usual in a kind of camera. It takes nothing for what it does not have.
    pub(super) fn usual(kind: Kind) -> Self {
        Self::new(|figure| Assumed {
            known: figure
                .usual(kind)
                .map_or(Known::read_off(0.0, 0.0), Usual::known),
            origin: Origin::Usual,
        })
    }

    /// The values that are taken.
    pub(super) fn values(&self) -> Figures<f64> {
        Figures::new(|figure| self[figure].known.value)
    }
}

impl Usual {
    /// How well it is known of a camera of which nothing is said.
    #[must_use]
    pub fn known(&self) -> Known {
        let (low, high) = self.range;
        Known {
            value: self.value,
            low,
            high,
        }
    }
}

impl Assumed {
    /// What the file gives.
    pub(super) fn given(known: Known) -> Self {
        Self {
            known,
            origin: Origin::Given,
        }
    }
}

impl Camera {
    /// The figures that it has, what is usual of each, and what is taken, in the order of answers.
    pub fn figures(&self) -> impl Iterator<Item = (Figure, &'static Usual, Assumed)> {
        let of_kind = Figure::of(self.kind);
        of_kind.map(|(figure, usual)| (figure, usual, self.assumed[figure]))
    }
}
