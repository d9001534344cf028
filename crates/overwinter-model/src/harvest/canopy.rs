//! Trees overhead, with and without leaves.

use crate::Day;
use crate::arithmetic::{min, positive};

/// How many days leaves take to come out, and to fall: three weeks (common practice, no source).
const LEAF_DAYS: f64 = 21.0;

/// More cover than this lets nothing through that a panel could use.
const DENSEST_COVER: f64 = 0.99;

/// Nodes of the integral over the heights of the sky.
const NODES: u16 = 16;

/// What the trees do over the year.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub enum Leaves {
    /// The same all year.
    Evergreen,
    /// Bare in winter.
    Deciduous {
        /// Share of the sky overhead that trunks and branches cover alone.
        #[cfg_attr(feature = "serde", serde(with = "crate::decimal"))]
        bare_cover: f64,
        /// Day of the year on which leaves begin to come out.
        out: u16,
        /// Day of the year on which they begin to fall.
        fall: u16,
    },
}

/// A canopy without edges, as it is from below.
///
/// Its gaps in a direction `h` above the horizon are those straight overhead to the power of the
/// way through it, as with leaves turned every way at random:
///
/// ```text
/// gaps (h) = (1 − cover)^(1 / sin h)
/// ```
///
/// Source: Beer's law in a canopy, Monsi and Saeki 1953, with the extinction of the spherical leaf
/// angle distribution (Ross 1981); from memory. Light that leaves let through or throw on is left
/// out: for red and infrared light that is up to a tenth more than none (judgement, no source).
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[cfg_attr(
    feature = "serde",
    serde(try_from = "super::stored::Canopy", into = "super::stored::Canopy")
)]
pub struct Canopy {
    pub(super) cover: f64,
    pub(super) leaves: Leaves,
}

impl Canopy {
    /// No trees.
    pub const NONE: Self = Self {
        cover: 0.0,
        leaves: Leaves::Evergreen,
    };

    /// Trees that cover this share of the sky overhead (0 to 1), with their leaves.
    ///
    /// # Errors
    /// [`CanopyError`] if a share is not between 0 and 1, trees are denser without leaves, or a
    /// day is not between 1 and 366.
    pub fn new(cover: f64, leaves: Leaves) -> Result<Self, CanopyError> {
        let a_share = |share: f64| {
            if (0.0..=1.0).contains(&share) {
                Ok(())
            } else {
                Err(CanopyError::Cover(share))
            }
        };
        a_share(cover)?;
        if let Leaves::Deciduous {
            bare_cover,
            out,
            fall,
        } = leaves
        {
            a_share(bare_cover)?;
            if bare_cover > cover {
                return Err(CanopyError::DenserBare { bare_cover, cover });
            }
            for day in [out, fall] {
                if !(1..=366).contains(&day) {
                    return Err(CanopyError::Day(day));
                }
            }
        }
        Ok(Self { cover, leaves })
    }

    /// The canopy as it is on a day.
    pub(super) fn on(&self, day: Day) -> Gaps {
        let full = depth(self.cover);
        let depth = match self.leaves {
            Leaves::Evergreen => full,
            Leaves::Deciduous {
                bare_cover,
                out,
                fall,
            } => {
                let bare = depth(bare_cover);
                bare + (full - bare) * leaf_share(day.day_of_year(), out, fall)
            }
        };
        Gaps { depth }
    }
}

/// How much of the leaves is out on a day of the year, 0 to 1.
fn leaf_share(day: u16, out: u16, fall: u16) -> f64 {
    // A year that goes around: in the south leaves come out late in it and fall early.
    let since = |start: u16| {
        let days = i32::from(day) - i32::from(start);
        if days < 0 { days + 365 } else { days }
    };
    let (grown, fallen) = (since(out), since(fall));
    if grown <= fallen {
        min(f64::from(grown) / LEAF_DAYS, 1.0)
    } else {
        positive(1.0 - f64::from(fallen) / LEAF_DAYS)
    }
}

/// The canopy's depth straight up: how often a ray meets something on its way.
fn depth(cover: f64) -> f64 {
    -libm::log(1.0 - min(cover, DENSEST_COVER))
}

/// What a canopy lets through on one day.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Gaps {
    depth: f64,
}

impl Gaps {
    /// The share of a beam from a height with this sine.
    pub(super) fn beam(self, up: f64) -> f64 {
        if self.depth <= 0.0 {
            1.0
        } else if up <= 0.0 {
            0.0
        } else {
            libm::exp(-self.depth / up)
        }
    }

    /// The share of an even sky's light on the horizontal: `2 ∫ gaps(μ) μ dμ` over the sine `μ` of
    /// the height.
    pub(super) fn sky(self) -> f64 {
        let n = f64::from(NODES);
        let strips = (0..NODES).map(|node| {
            let up = (f64::from(node) + 0.5) / n;
            self.beam(up) * up
        });
        // The strips' weights alone come to a half.
        2.0 * strips.sum::<f64>() / n
    }
}

/// Why a [`Canopy`] could not be made. Each variant carries the value that broke the rule.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub enum CanopyError {
    /// A share of the sky; must lie between 0 and 1.
    Cover(f64),
    /// Leaves only add to what trunks and branches cover.
    DenserBare {
        /// Without leaves.
        bare_cover: f64,
        /// With them.
        cover: f64,
    },
    /// A day of the year; must lie between 1 and 366.
    Day(u16),
}

impl core::fmt::Display for CanopyError {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        match self {
            Self::Cover(x) => write!(f, "tree cover {x} is not between 0 and 1"),
            Self::DenserBare { bare_cover, cover } => write!(
                f,
                "tree cover {bare_cover} without leaves is more than {cover} with them"
            ),
            Self::Day(day) => write!(f, "day {day} of the year is not between 1 and 366"),
        }
    }
}

impl core::error::Error for CanopyError {}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// 2027-01-01 and so many days.
    fn day_of_2027(index: i32) -> Day {
        Day::from_days_since_2000(9862 + index)
    }

    fn deciduous(out: u16, fall: u16) -> Canopy {
        let leaves = Leaves::Deciduous {
            bare_cover: 0.3,
            out,
            fall,
        };
        Canopy::new(0.8, leaves).unwrap()
    }

    #[test]
    fn leaves_come_and_go() {
        let overhead = |canopy: Canopy, index| canopy.on(day_of_2027(index)).beam(1.0);
        let north = deciduous(120, 280);
        assert!((overhead(north, 0) - 0.7).abs() < 1e-9);
        assert!((overhead(north, 118) - 0.7).abs() < 1e-9);
        assert!((overhead(north, 200) - 0.2).abs() < 1e-9);
        assert!((overhead(north, 310) - 0.7).abs() < 1e-9);
        let south = deciduous(270, 110);
        assert!((overhead(south, 0) - 0.2).abs() < 1e-9);
        assert!((overhead(south, 200) - 0.7).abs() < 1e-9);
        assert!((overhead(south, 360) - 0.2).abs() < 1e-9);
    }

    #[test]
    fn what_cannot_be_is_refused() {
        let evergreen = |cover| Canopy::new(cover, Leaves::Evergreen);
        assert_eq!(evergreen(1.2), Err(CanopyError::Cover(1.2)));
        let leaves = Leaves::Deciduous {
            bare_cover: 0.9,
            out: 120,
            fall: 280,
        };
        assert!(matches!(
            Canopy::new(0.5, leaves),
            Err(CanopyError::DenserBare { .. })
        ));
    }

    proptest! {
        #[test]
        fn an_even_sky_shines_through_as_the_exponential_integral(cover in 0.0..0.99_f64) {
            // 2 E₃(k) by its recursion from E₁, here by a fine sum.
            let gaps = Canopy::new(cover, Leaves::Evergreen).unwrap().on(day_of_2027(0));
            let n = 20_000;
            let fine: f64 = (0..n)
                .map(|i| (f64::from(i) + 0.5) / f64::from(n))
                .map(|up| 2.0 * gaps.beam(up) * up / f64::from(n))
                .sum();
            prop_assert!((gaps.sky() - fine).abs() < 2e-3, "{} {fine}", gaps.sky());
        }

        #[test]
        fn more_cover_lets_less_through(
            cover in 0.0..1.0_f64, more in 0.0..1.0_f64, up in 0.0..1.0_f64,
        ) {
            let gaps = |cover: f64| {
                Canopy::new(cover.min(1.0), Leaves::Evergreen).unwrap().on(day_of_2027(0))
            };
            let (less, more) = (gaps(cover), gaps(cover + more));
            prop_assert!(more.beam(up) <= less.beam(up));
            prop_assert!(more.sky() <= less.sky());
        }
    }
}
