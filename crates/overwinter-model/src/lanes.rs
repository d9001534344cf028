//! Several paths side by side: one number for each, with the arithmetic of one.
//!
//! Everything here is compiled into its callers, so that a caller built for wide registers gets
//! wide code; and nothing here contracts, reorders or approximates by the width, so that a path's
//! bits never depend on its neighbours.

use core::ops::{Add, AddAssign, Div, Mul, MulAssign, Neg, Sub, SubAssign};

use crate::random;

/// A square root. IEEE 754 rounds it exactly, so every implementation gives the same bits, and
/// which one is used is a matter of speed only: `core` has none, `std` has the machine's.
pub trait Root {
    /// The square root of a number of 0 or more.
    fn sqrt(x: f64) -> f64;
}

/// `libm`'s square root: everywhere, but one lane at a time.
#[derive(Clone, Copy, Debug)]
pub struct PortableRoot;

impl Root for PortableRoot {
    #[inline(always)]
    fn sqrt(x: f64) -> f64 {
        libm::sqrt(x)
    }
}

/// One number for each of `L` paths.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lanes<const L: usize>(pub [f64; L]);

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

    /// The smaller of each two.
    #[inline(always)]
    #[must_use]
    pub fn min(self, other: Self) -> Self {
        self.zip(other, |x, y| if x < y { x } else { y })
    }

    /// The larger of each two.
    #[inline(always)]
    #[must_use]
    pub fn max(self, other: Self) -> Self {
        self.zip(other, |x, y| if x > y { x } else { y })
    }

    /// 1 where a lane is below `other`'s, else 0.
    #[inline(always)]
    #[must_use]
    pub fn below(self, other: Self) -> Self {
        self.zip(other, |x, y| if x < y { 1.0 } else { 0.0 })
    }

    /// `yes` where a lane is not 0, else `no`.
    #[inline(always)]
    #[must_use]
    pub fn choose(self, yes: Self, no: Self) -> Self {
        let mut out = no;
        for ((out, which), yes) in out.0.iter_mut().zip(&self.0).zip(&yes.0) {
            *out = if *which > 0.0 { *yes } else { *out };
        }
        out
    }

    /// Whether any lane is above 0.
    #[inline(always)]
    #[must_use]
    pub fn any(self) -> bool {
        self.0.iter().fold(0.0, |sum, x| sum + x) > 0.0
    }

    /// The square root of each lane.
    #[inline(always)]
    #[must_use]
    pub fn sqrt<R: Root>(self) -> Self {
        self.map(R::sqrt)
    }
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

/// `e^x` of each lane: see [`random::exp`].
#[inline(always)]
#[must_use]
pub fn exp<const L: usize>(x: Lanes<L>) -> Lanes<L> {
    Lanes(random::exp(x.0))
}
