//! Physical quantities: one private number in SI, constructors and getters that name the unit.
//!
//! Only the products and quotients that mean something are defined, so a volt cannot be added to
//! an ampere. [`Temperature`] is absolute; [`Time`] is a span, never a point on the calendar.

use core::ops::{Add, AddAssign, Div, Mul, Neg, Sub, SubAssign};

use crate::lanes::Lanes;
use crate::number::Number;

/// Defines one quantity: its newtype, its zero, and the sums and scalings that every quantity has.
macro_rules! quantity {
    ($(#[$doc:meta])* $name:ident) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
        pub struct $name<N = f64>(N);

        impl $name {
            /// Nothing of it.
            pub const ZERO: Self = Self(0.0);

            /// The same for each of several seasons.
            #[inline(always)]
            #[must_use]
            pub fn everywhere<N: Number>(self) -> $name<N> {
                $name(N::from(self.0))
            }

            /// Neither NaN nor infinite.
            #[must_use]
            pub fn is_finite(self) -> bool {
                self.0.is_finite()
            }
        }

        impl<N: Number> $name<N> {
            /// From a number in SI.
            #[inline(always)]
            #[must_use]
            pub const fn from_si(value: N) -> Self {
                Self(value)
            }

            /// The number in SI.
            #[inline(always)]
            #[must_use]
            pub const fn si(self) -> N {
                self.0
            }

            /// The smaller of two; NaN loses against a number.
            #[cfg_attr(not(target_os = "none"), inline(always))]
            #[must_use]
            pub fn min(self, other: Self) -> Self {
                Self(self.0.min(other.0))
            }

            /// The larger of two; NaN loses against a number.
            #[cfg_attr(not(target_os = "none"), inline(always))]
            #[must_use]
            pub fn max(self, other: Self) -> Self {
                Self(self.0.max(other.0))
            }

            /// Whether it is below `other`.
            #[inline(always)]
            #[must_use]
            pub fn below(self, other: Self) -> N::Mask {
                self.0.below(other.0)
            }

            /// Whether it is `other` or above.
            #[inline(always)]
            #[must_use]
            pub fn at_least(self, other: Self) -> N::Mask {
                self.0.at_least(other.0)
            }

            /// `yes` where the mask is true, else `no`.
            #[inline(always)]
            #[must_use]
            pub fn choose(mask: N::Mask, yes: Self, no: Self) -> Self {
                Self(N::choose(mask, yes.0, no.0))
            }
        }

        impl<const L: usize> $name<Lanes<L>> {
            /// Nothing of it in any season.
            // A constant: lanes that are filled one by one where ways meet are kept apart from there on.
            pub const NONE: Self = Self(Lanes::all(0.0));

            /// That of each season.
            #[inline(always)]
            #[must_use]
            pub fn lanes(self) -> [$name; L] {
                self.0.0.map($name)
            }
        }

        impl<N: Number> Add for $name<N> {
            type Output = Self;
            #[inline(always)]
            fn add(self, rhs: Self) -> Self {
                Self(self.0 + rhs.0)
            }
        }

        impl<N: Number> AddAssign for $name<N> {
            #[inline(always)]
            fn add_assign(&mut self, rhs: Self) {
                self.0 += rhs.0;
            }
        }

        impl<N: Number> Sub for $name<N> {
            type Output = Self;
            #[inline(always)]
            fn sub(self, rhs: Self) -> Self {
                Self(self.0 - rhs.0)
            }
        }

        impl<N: Number> SubAssign for $name<N> {
            #[inline(always)]
            fn sub_assign(&mut self, rhs: Self) {
                self.0 -= rhs.0;
            }
        }

        impl<N: Number> Neg for $name<N> {
            type Output = Self;
            #[inline(always)]
            fn neg(self) -> Self {
                Self(-self.0)
            }
        }

        impl<N: Number> Mul<N> for $name<N> {
            type Output = Self;
            #[inline(always)]
            fn mul(self, rhs: N) -> Self {
                Self(self.0 * rhs)
            }
        }

        impl<N: Number> Div<N> for $name<N> {
            type Output = Self;
            #[inline(always)]
            fn div(self, rhs: N) -> Self {
                Self(self.0 / rhs)
            }
        }

        impl<N: Number> Div for $name<N> {
            type Output = N;
            #[inline(always)]
            fn div(self, rhs: Self) -> N {
                self.0 / rhs.0
            }
        }

        #[cfg(feature = "serde")]
        stored!($name);
    };
}

/// A quantity is stored as its number in SI.
#[cfg(feature = "serde")]
macro_rules! stored {
    ($name:ident) => {
        impl serde::Serialize for $name {
            fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                crate::decimal::serialize(&self.0, serializer)
            }
        }

        impl<'de> serde::Deserialize<'de> for $name {
            fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
                crate::decimal::deserialize(deserializer).map(Self)
            }
        }
    };
}

/// Halfway between two.
pub(crate) fn mean<T: Add<Output = T> + Div<f64, Output = T>>(a: T, b: T) -> T {
    (a + b) / 2.0
}

/// `$a × $b = $c`, with the two quotients that follow from it.
macro_rules! product {
    ($a:ident * $b:ident = $c:ident) => {
        impl<N: Number> Mul<$b<N>> for $a<N> {
            type Output = $c<N>;
            #[inline(always)]
            fn mul(self, rhs: $b<N>) -> $c<N> {
                $c(self.0 * rhs.0)
            }
        }

        impl<N: Number> Mul<$a<N>> for $b<N> {
            type Output = $c<N>;
            #[inline(always)]
            fn mul(self, rhs: $a<N>) -> $c<N> {
                $c(self.0 * rhs.0)
            }
        }

        impl<N: Number> Div<$a<N>> for $c<N> {
            type Output = $b<N>;
            #[inline(always)]
            fn div(self, rhs: $a<N>) -> $b<N> {
                $b(self.0 / rhs.0)
            }
        }

        impl<N: Number> Div<$b<N>> for $c<N> {
            type Output = $a<N>;
            #[inline(always)]
            fn div(self, rhs: $b<N>) -> $a<N> {
                $a(self.0 / rhs.0)
            }
        }
    };
}

/// A constructor and a getter for one unit of a quantity; `$scale` is that unit in SI.
macro_rules! unit {
    ($name:ident: $from:ident, $get:ident, $scale:expr, $unit:literal) => {
        impl $name {
            #[doc = concat!("From ", $unit, ".")]
            #[must_use]
            pub const fn $from(value: f64) -> Self {
                Self(value * $scale)
            }

            #[doc = concat!("In ", $unit, ".")]
            #[must_use]
            pub const fn $get(self) -> f64 {
                self.0 / $scale
            }
        }
    };
}

quantity!(
    /// Electric potential difference.
    Voltage
);
quantity!(
    /// Electric current; positive when the cell delivers.
    Current
);
quantity!(
    /// Electrical resistance.
    Resistance
);
quantity!(
    /// Power; positive when the load takes it.
    Power
);
quantity!(
    /// Energy.
    Energy
);
quantity!(
    /// Electric charge. Held in coulombs, spoken in ampere-hours.
    Charge
);
quantity!(
    /// A span of time.
    Time
);
quantity!(
    /// Light that falls on a square metre.
    Irradiance
);

unit!(Voltage: from_volts, as_volts, 1.0, "volts");
unit!(Current: from_amperes, as_amperes, 1.0, "amperes");
unit!(Current: from_milliamperes, as_milliamperes, 1e-3, "milliamperes");
unit!(Resistance: from_ohms, as_ohms, 1.0, "ohms");
unit!(Power: from_watts, as_watts, 1.0, "watts");
unit!(Power: from_milliwatts, as_milliwatts, 1e-3, "milliwatts");
unit!(Energy: from_joules, as_joules, 1.0, "joules");
unit!(Energy: from_watt_hours, as_watt_hours, 3600.0, "watt-hours");
unit!(Charge: from_coulombs, as_coulombs, 1.0, "coulombs");
unit!(Charge: from_ampere_hours, as_ampere_hours, 3600.0, "ampere-hours");
unit!(Charge: from_milliampere_hours, as_milliampere_hours, 3.6, "milliampere-hours");
unit!(Irradiance: from_w_per_m2, as_w_per_m2, 1.0, "watts per square metre");
unit!(Time: from_seconds, as_seconds, 1.0, "seconds");
unit!(Time: from_hours, as_hours, 3600.0, "hours");
unit!(Time: from_days, as_days, 86_400.0, "days of 24 hours");

product!(Resistance * Current = Voltage);
product!(Voltage * Current = Power);
product!(Power * Time = Energy);
product!(Current * Time = Charge);
product!(Charge * Voltage = Energy);

/// Absolute temperature. Held in kelvin, spoken in degrees Celsius.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Temperature<N = f64>(N);

#[cfg(feature = "serde")]

stored!(Temperature);

impl Temperature {
    /// 20 °C: the temperature at which a cell's parameters are stated.
    pub const REFERENCE: Self = Self::from_celsius(20.0);

    /// From degrees Celsius.
    #[must_use]
    pub const fn from_celsius(celsius: f64) -> Self {
        Self(celsius + 273.15)
    }

    /// From kelvin.
    #[must_use]
    pub const fn from_kelvin(kelvin: f64) -> Self {
        Self(kelvin)
    }

    /// In degrees Celsius.
    #[must_use]
    pub const fn as_celsius(self) -> f64 {
        self.0 - 273.15
    }

    /// In kelvin.
    #[must_use]
    pub const fn as_kelvin(self) -> f64 {
        self.0
    }

    /// The same for each of several seasons.
    #[inline(always)]
    #[must_use]
    pub fn everywhere<N: Number>(self) -> Temperature<N> {
        Temperature(N::from(self.0))
    }
}

impl<N: Number> Temperature<N> {
    /// From kelvin.
    #[inline(always)]
    #[must_use]
    pub const fn from_si(kelvin: N) -> Self {
        Self(kelvin)
    }

    /// In kelvin.
    #[inline(always)]
    #[must_use]
    pub const fn si(self) -> N {
        self.0
    }

    /// So many kelvins warmer, reckoned in degrees Celsius.
    #[cfg_attr(target_os = "none", inline(never))]
    #[cfg_attr(not(target_os = "none"), inline(always))]
    pub(crate) fn warmer(self, kelvin: N) -> Self {
        Self((self.0 - N::from(273.15)) + kelvin + N::from(273.15))
    }

    /// Kelvins from `other` up to this one, reckoned in degrees Celsius.
    #[inline(always)]
    pub(crate) fn above(self, other: Self) -> N {
        (self.0 - N::from(273.15)) - (other.0 - N::from(273.15))
    }

    /// Kelvins above the reference temperature.
    #[inline(always)]
    #[must_use]
    pub fn above_reference(self) -> N {
        self.0 - N::from(Temperature::REFERENCE.0)
    }

    /// Whether it is below `other`.
    #[inline(always)]
    #[must_use]
    pub fn below(self, other: Self) -> N::Mask {
        self.0.below(other.0)
    }
}

/// The number itself, in SI, for who reads it to where it stays.
macro_rules! read_in_place {
    ($($name:ident)*) => {
        $(impl $name {
            #[cfg(feature = "blob")]
            pub(crate) const fn si_mut(&mut self) -> &mut f64 {
                &mut self.0
            }
        })*
    };
}

read_in_place!(Voltage Current Resistance Power Energy Charge Time Temperature);

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn constant_drain_lasts_charge_over_current() {
        let life = Charge::from_milliampere_hours(2_400.0) / Current::from_milliamperes(1.0);
        assert!((life.as_days() - 100.0).abs() < 1e-9, "{life:?}");
    }

    #[test]
    fn one_watt_for_an_hour_is_a_watt_hour() {
        let energy = Power::from_watts(1.0) * Time::from_hours(1.0);
        assert!((energy.as_watt_hours() - 1.0).abs() < 1e-12, "{energy:?}");
    }

    #[test]
    fn reference_is_twenty_degrees() {
        assert!(Temperature::from_celsius(20.0).above_reference().abs() < 1e-12);
        assert!((Temperature::from_celsius(-40.0).as_kelvin() - 233.15).abs() < 1e-12);
    }
}
