//! Several seasons side by side: one number for each, with the arithmetic of one.
//!
//! Everything here is compiled into its callers, so that a caller built for wide registers gets
//! wide code; and nothing here contracts, reorders or approximates by the width, so that a lane's
//! bits never depend on its neighbours.

use core::ops::{Add, AddAssign, BitAnd, BitOr, Div, Mul, MulAssign, Neg, Not, Sub, SubAssign};

use crate::number::{Mask, Number};
use crate::random;

/// One number for each of `L` seasons.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lanes<const L: usize>(pub [f64; L]);

/// An answer to a comparison for each of `L` seasons.
// Numbers of 0 and 1, not bools: compilers keep them in the registers of the numbers that they choose
// between.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LaneMask<const L: usize>(Lanes<L>);

impl<const L: usize> Lanes<L> {
    /// The same in every lane.
    #[inline(always)]
    #[must_use]
    pub const fn all(value: f64) -> Self {
        Self([value; L])
    }

    /// `f` of each lane.
    #[inline(always)]
    #[must_use]
    pub fn map(self, f: impl Fn(f64) -> f64) -> Self {
        let mut out = self;
        for x in &mut out.0 {
            *x = f(*x);
        }
        out
    }

    /// `f` of each lane and its partner.
    #[inline(always)]
    #[must_use]
    pub fn zip(self, other: Self, f: impl Fn(f64, f64) -> f64) -> Self {
        let mut out = self;
        for (x, y) in out.0.iter_mut().zip(&other.0) {
            *x = f(*x, *y);
        }
        out
    }
}

impl<const L: usize> LaneMask<L> {
    /// 1 where it is true, else 0.
    #[inline(always)]
    #[must_use]
    pub const fn ones(self) -> Lanes<L> {
        self.0
    }
}

impl<const L: usize> Mask for LaneMask<L> {
    #[inline(always)]
    fn everywhere(value: bool) -> Self {
        Self(Lanes::all(if value { 1.0 } else { 0.0 }))
    }

    #[inline(always)]
    fn any(self) -> bool {
        // Of bits, in any order: a sum of numbers would have to be taken lane by lane.
        let bits = self.0.0.iter().fold(0, |bits, x| bits | x.to_bits());
        bits != 0
    }
}

impl<const L: usize> BitAnd for LaneMask<L> {
    type Output = Self;
    #[inline(always)]
    fn bitand(self, other: Self) -> Self {
        Self(Number::min(self.0, other.0))
    }
}

impl<const L: usize> BitOr for LaneMask<L> {
    type Output = Self;
    #[inline(always)]
    fn bitor(self, other: Self) -> Self {
        Self(Number::max(self.0, other.0))
    }
}

impl<const L: usize> Not for LaneMask<L> {
    type Output = Self;
    #[inline(always)]
    fn not(self) -> Self {
        Self(Lanes::all(1.0) - self.0)
    }
}

impl<const L: usize> Number for Lanes<L> {
    type Mask = LaneMask<L>;

    #[inline(always)]
    fn below(self, other: Self) -> LaneMask<L> {
        LaneMask(self.zip(other, |x, y| if x < y { 1.0 } else { 0.0 }))
    }

    #[inline(always)]
    fn at_least(self, other: Self) -> LaneMask<L> {
        LaneMask(self.zip(other, |x, y| if x >= y { 1.0 } else { 0.0 }))
    }

    #[inline(always)]
    fn choose(mask: LaneMask<L>, yes: Self, no: Self) -> Self {
        let mut out = no;
        for ((out, which), yes) in out.0.iter_mut().zip(&mask.0.0).zip(&yes.0) {
            *out = if *which > 0.0 { *yes } else { *out };
        }
        out
    }

    /// A number loses against NaN in `other`, NaN in `self` against a number: no lane of a season is
    /// ever NaN.
    #[inline(always)]
    fn min(self, other: Self) -> Self {
        self.zip(other, |x, y| if x < y { x } else { y })
    }

    /// NaN as in [`Number::min`].
    #[inline(always)]
    fn max(self, other: Self) -> Self {
        self.zip(other, |x, y| if x > y { x } else { y })
    }

    /// See [`random::exp`].
    #[inline(always)]
    fn exp(self) -> Self {
        Self(random::exp(self.0))
    }

    /// Good to 1e-16, not relative to the result: what it is used for adds it to 1.
    #[inline(always)]
    fn exp_m1(self) -> Self {
        self.exp() - 1.0
    }

    /// IEEE 754 rounds a root exactly, so every implementation gives the same bits. With the feature
    /// `std` it is the machine's, many lanes at a time; else `libm`'s, one after another.
    #[inline(always)]
    fn sqrt(self) -> Self {
        self.map(root)
    }

    #[inline(always)]
    fn per(self, constant: f64) -> Self {
        self * (1.0 / constant)
    }
}

#[cfg(feature = "std")]
#[inline(always)]
fn root(x: f64) -> f64 {
    x.sqrt()
}

#[cfg(not(feature = "std"))]
#[inline(always)]
fn root(x: f64) -> f64 {
    libm::sqrt(x)
}

impl<const L: usize> From<f64> for Lanes<L> {
    #[inline(always)]
    fn from(value: f64) -> Self {
        Self::all(value)
    }
}

macro_rules! operator {
    ($trait:ident, $method:ident, $op:tt) => {
        impl<const L: usize> $trait for Lanes<L> {
            type Output = Self;
            #[inline(always)]
            fn $method(self, other: Self) -> Self {
                self.zip(other, |x, y| x $op y)
            }
        }

        impl<const L: usize> $trait<f64> for Lanes<L> {
            type Output = Self;
            #[inline(always)]
            fn $method(self, other: f64) -> Self {
                self.map(|x| x $op other)
            }
        }
    };
}

operator!(Add, add, +);
operator!(Sub, sub, -);
operator!(Mul, mul, *);
operator!(Div, div, /);

macro_rules! assignment {
    ($trait:ident, $method:ident, $op:tt) => {
        impl<const L: usize> $trait for Lanes<L> {
            #[inline(always)]
            fn $method(&mut self, other: Self) {
                *self = *self $op other;
            }
        }
    };
}

assignment!(AddAssign, add_assign, +);
assignment!(SubAssign, sub_assign, -);
assignment!(MulAssign, mul_assign, *);

impl<const L: usize> Neg for Lanes<L> {
    type Output = Self;
    #[inline(always)]
    fn neg(self) -> Self {
        self.map(|x| -x)
    }
}
