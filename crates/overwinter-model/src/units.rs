//! Physical quantities: one private number in SI, constructors and getters that name the unit.
//!
//! Only the products and quotients that mean something are defined, so a volt cannot be added to
//! an ampere. [`Temperature`] is absolute; [`Time`] is a span, never a point on the calendar.

use core::ops::{Add, AddAssign, Div, Mul, Neg, Sub, SubAssign};

use serde::{Deserialize, Serialize};

use crate::arithmetic;

/// Defines one quantity: its newtype, its zero, and the sums and scalings that every quantity has.
macro_rules! quantity {
    ($(#[$doc:meta])* $name:ident) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd, Serialize, Deserialize)]
        #[serde(transparent)]
        pub struct $name(#[serde(with = "crate::number")] f64);

        impl $name {
            /// Nothing of it.
            pub const ZERO: Self = Self(0.0);

            /// The smaller of two; NaN loses against a number.
            #[must_use]
            pub fn min(self, other: Self) -> Self {
                Self(arithmetic::min(self.0, other.0))
            }

            /// The larger of two; NaN loses against a number.
            #[must_use]
            pub fn max(self, other: Self) -> Self {
                Self(arithmetic::max(self.0, other.0))
            }

            /// Neither NaN nor infinite.
            #[must_use]
            pub fn is_finite(self) -> bool {
                self.0.is_finite()
            }
        }

        impl Add for $name {
            type Output = Self;
            fn add(self, rhs: Self) -> Self {
                Self(self.0 + rhs.0)
            }
        }

        impl AddAssign for $name {
            fn add_assign(&mut self, rhs: Self) {
                self.0 += rhs.0;
            }
        }

        impl Sub for $name {
            type Output = Self;
            fn sub(self, rhs: Self) -> Self {
                Self(self.0 - rhs.0)
            }
        }

        impl SubAssign for $name {
            fn sub_assign(&mut self, rhs: Self) {
                self.0 -= rhs.0;
            }
        }

        impl Neg for $name {
            type Output = Self;
            fn neg(self) -> Self {
                Self(-self.0)
            }
        }

        impl Mul<f64> for $name {
            type Output = Self;
            fn mul(self, rhs: f64) -> Self {
                Self(self.0 * rhs)
            }
        }

        impl Div<f64> for $name {
            type Output = Self;
            fn div(self, rhs: f64) -> Self {
                Self(self.0 / rhs)
            }
        }

        impl Div for $name {
            type Output = f64;
            fn div(self, rhs: Self) -> f64 {
                self.0 / rhs.0
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
        impl Mul<$b> for $a {
            type Output = $c;
            fn mul(self, rhs: $b) -> $c {
                $c(self.0 * rhs.0)
            }
        }

        impl Mul<$a> for $b {
            type Output = $c;
            fn mul(self, rhs: $a) -> $c {
                $c(self.0 * rhs.0)
            }
        }

        impl Div<$a> for $c {
            type Output = $b;
            fn div(self, rhs: $a) -> $b {
                $b(self.0 / rhs.0)
            }
        }

        impl Div<$b> for $c {
            type Output = $a;
            fn div(self, rhs: $b) -> $a {
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
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Temperature(#[serde(with = "crate::number")] f64);

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

    /// So many kelvins warmer, reckoned in degrees Celsius.
    #[cfg_attr(target_os = "none", inline(never))]
    pub(crate) fn warmer(self, kelvin: f64) -> Self {
        Self::from_celsius(self.as_celsius() + kelvin)
    }

    /// Kelvins above the reference temperature.
    #[must_use]
    pub const fn above_reference(self) -> f64 {
        self.0 - Self::REFERENCE.0
    }
}

/// The number itself, in SI, for who reads it to where it stays.
macro_rules! read_in_place {
    ($($name:ident)*) => {
        $(impl $name {
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
