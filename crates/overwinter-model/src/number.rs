//! What the rules of the model reckon with: one number, or one for each of several seasons.
//!
//! A rule is written once over a [`Number`]. The mean season and a device take `f64`; sampled seasons
//! take [`Lanes`](crate::lanes::Lanes), sixteen side by side. Where a rule depends on a comparison it
//! does not branch but chooses, since lanes may differ:
//!
//! ```
//! use overwinter_model::Number;
//! use overwinter_model::lanes::Lanes;
//!
//! /// Share of a load that a falling supply still carries.
//! fn share<N: Number>(volts: N) -> N {
//!     let low = volts.below(N::from(6.0));
//!     N::choose(low, N::from(0.0), ((volts - N::from(6.0)) / N::from(2.0)).min(N::from(1.0)))
//! }
//!
//! assert_eq!(share(7.0), 0.5);
//! assert_eq!(share(Lanes([5.0, 7.0, 9.0])), Lanes([0.0, 0.5, 1.0]));
//! ```

use core::fmt::Debug;
use core::ops::{Add, AddAssign, BitAnd, BitOr, Div, Mul, Neg, Not, Sub, SubAssign};

use crate::arithmetic;

/// A number that rules reckon with.
///
/// An implementation must round each operation as IEEE 754 does and never contract two into one, so
/// that a season has the same bits on every machine and in any company.
pub trait Number:
    Copy
    + Debug
    + PartialEq
    + From<f64>
    + Add<Output = Self>
    + Sub<Output = Self>
    + Mul<Output = Self>
    + Div<Output = Self>
    + Neg<Output = Self>
    + AddAssign
    + SubAssign
{
    /// The answer to a comparison.
    type Mask: Mask;

    /// Whether it is below `other`; false where either is NaN.
    #[must_use]
    fn below(self, other: Self) -> Self::Mask;

    /// Whether it is `other` or above; false where either is NaN.
    #[must_use]
    fn at_least(self, other: Self) -> Self::Mask;

    /// `yes` where the mask is true, else `no`.
    #[must_use]
    fn choose(mask: Self::Mask, yes: Self, no: Self) -> Self;

    /// The smaller of two.
    #[must_use]
    fn min(self, other: Self) -> Self;

    /// The larger of two.
    #[must_use]
    fn max(self, other: Self) -> Self;

    /// `e^x`.
    #[must_use]
    fn exp(self) -> Self;

    /// `e^x − 1`.
    #[must_use]
    fn exp_m1(self) -> Self;

    /// The square root of a number of 0 or more.
    #[must_use]
    fn sqrt(self) -> Self;

    /// The number over a constant: lanes multiply by its inverse.
    #[must_use]
    fn per(self, constant: f64) -> Self;
}

/// What comparisons give: true or false, for each lane.
pub trait Mask:
    Copy + Debug + PartialEq + BitAnd<Output = Self> + BitOr<Output = Self> + Not<Output = Self>
{
    /// The same everywhere.
    #[must_use]
    fn everywhere(value: bool) -> Self;

    /// Whether it is true anywhere.
    #[must_use]
    fn any(self) -> bool;
}

impl Mask for bool {
    fn everywhere(value: bool) -> Self {
        value
    }

    fn any(self) -> bool {
        self
    }
}

/// How much of a `whole` there is, 0 to 1: all of nothing at most.
#[cfg_attr(not(target_os = "none"), inline(always))]
pub(crate) fn part_of<N: Number>(there_is: N, whole: N) -> N {
    let whole = whole.max(N::from(f64::MIN_POSITIVE));
    (there_is / whole).min(N::from(1.0))
}

// Comparisons, roots and exponentials go by `arithmetic` and `libm`, whose bits are the same on every
// machine.
impl Number for f64 {
    type Mask = bool;

    fn below(self, other: Self) -> bool {
        self < other
    }

    fn at_least(self, other: Self) -> bool {
        self >= other
    }

    fn choose(mask: bool, yes: Self, no: Self) -> Self {
        if mask { yes } else { no }
    }

    /// NaN loses against a number.
    fn min(self, other: Self) -> Self {
        arithmetic::min(self, other)
    }

    /// NaN loses against a number.
    fn max(self, other: Self) -> Self {
        arithmetic::max(self, other)
    }

    fn exp(self) -> Self {
        libm::exp(self)
    }

    fn exp_m1(self) -> Self {
        libm::expm1(self)
    }

    fn sqrt(self) -> Self {
        libm::sqrt(self)
    }

    fn per(self, constant: f64) -> Self {
        self / constant
    }
}
