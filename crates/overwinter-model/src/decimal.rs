//! How a number is stored: in few bytes where it is a short decimal, and always to the last bit.
//!
//! What people write into files has few digits, and a binary fraction of eight bytes hides them. So
//! a number is stored as the shortest decimal that gives its very bits back, as a temperature in
//! degrees Celsius that does once it is in kelvin, or, where there is neither, as its eight bytes.
//! Forms for people, such as JSON, get the plain number.
//!
//! `#[serde(with = "crate::decimal")]` does it for a field, `crate::decimal::several` for an array.

use core::fmt;

use serde::de::{Error, SeqAccess, Visitor};
use serde::ser::SerializeTuple;
use serde::{Deserialize, Deserializer, Serialize, Serializer};

/// Powers of ten that a double holds exactly.
const POWERS: [f64; 23] = [
    1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16,
    1e17, 1e18, 1e19, 1e20, 1e21, 1e22,
];

/// Added to the number of decimals where they are those of a temperature in degrees Celsius.
const CELSIUS: u8 = 32;

/// 0 °C in kelvin.
const ZERO_CELSIUS_K: f64 = 273.15;

/// Says that the eight bytes of the number follow.
pub(crate) const PLAIN: u8 = 255;

/// Digits from here on take as many bytes as the number itself.
const MOST_DIGITS: i64 = 1 << 48;

/// A number that is stored as this module does.
#[derive(Clone, Copy)]
pub(crate) struct Number(f64);

/// What a number is stored as.
#[derive(Clone, Copy)]
enum Stored {
    /// Kind and number of decimals, then the digits as a whole number.
    Digits(u8, i64),
    Plain(f64),
}

impl Stored {
    fn of(value: f64) -> Self {
        let celsius = value - ZERO_CELSIUS_K;
        let mut scales = [(0, value), (CELSIUS, celsius)];
        // The smaller of two with as many decimals has fewer digits.
        if libm::fabs(celsius) < libm::fabs(value) {
            scales.reverse();
        }
        (0..)
            .zip(POWERS)
            .flat_map(|(decimals, power)| {
                scales.map(|(scale, value)| (scale + decimals, value * power))
            })
            .filter_map(|(kind, digits)| Some(Self::Digits(kind, whole(digits)?)))
            .find(|stored| stored.value().map(f64::to_bits) == Some(value.to_bits()))
            .unwrap_or(Self::Plain(value))
    }

    /// The number, if there is such a kind and it is finite.
    fn value(self) -> Option<f64> {
        let value = match self {
            Self::Plain(value) => value,
            Self::Digits(kind, digits) => decimal(kind, digits)?,
        };
        value.is_finite().then_some(value)
    }
}

/// The number with these digits, if there is such a kind.
pub(crate) fn decimal(kind: u8, digits: i64) -> Option<f64> {
    let decimals = kind % CELSIUS;
    let decimal = digits as f64 / POWERS.get(usize::from(decimals))?;
    match kind - decimals {
        0 => Some(decimal),
        CELSIUS => Some(decimal + ZERO_CELSIUS_K),
        _ => None,
    }
}

/// The nearest whole number, if it is short.
fn whole(value: f64) -> Option<i64> {
    let digits = libm::round(value) as i64;
    (-MOST_DIGITS..MOST_DIGITS)
        .contains(&digits)
        .then_some(digits)
}

impl Serialize for Number {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        if serializer.is_human_readable() {
            return self.0.serialize(serializer);
        }
        let mut parts = serializer.serialize_tuple(2)?;
        match Stored::of(self.0) {
            Stored::Digits(kind, digits) => {
                parts.serialize_element(&kind)?;
                parts.serialize_element(&digits)?;
            }
            Stored::Plain(value) => {
                parts.serialize_element(&PLAIN)?;
                parts.serialize_element(&value)?;
            }
        }
        parts.end()
    }
}

/// Reads the two parts of a number, of which the first tells what the second is.
struct Parts;

impl<'de> Visitor<'de> for Parts {
    type Value = Stored;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a number in two parts")
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut parts: A) -> Result<Stored, A::Error> {
        let missing = || A::Error::invalid_length(0, &self);
        let kind = parts.next_element()?.ok_or_else(missing)?;
        Ok(if kind == PLAIN {
            Stored::Plain(parts.next_element()?.ok_or_else(missing)?)
        } else {
            Stored::Digits(kind, parts.next_element()?.ok_or_else(missing)?)
        })
    }
}

impl<'de> Deserialize<'de> for Number {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let stored = if deserializer.is_human_readable() {
            Stored::Plain(f64::deserialize(deserializer)?)
        } else {
            deserializer.deserialize_tuple(2, Parts)?
        };
        let unusable = || D::Error::custom("not a finite number");
        stored.value().map(Self).ok_or_else(unusable)
    }
}

pub(crate) fn serialize<S: Serializer>(value: &f64, serializer: S) -> Result<S::Ok, S::Error> {
    Number(*value).serialize(serializer)
}

pub(crate) fn deserialize<'de, D: Deserializer<'de>>(deserializer: D) -> Result<f64, D::Error> {
    Number::deserialize(deserializer).map(|number| number.0)
}

/// The same for an array.
pub(crate) mod several {
    use super::{Deserialize, Deserializer, Number, Serialize, Serializer};

    pub(crate) fn serialize<S, const N: usize>(
        values: &[f64; N],
        serializer: S,
    ) -> Result<S::Ok, S::Error>
    where
        S: Serializer,
        [Number; N]: Serialize,
    {
        values.map(Number).serialize(serializer)
    }

    pub(crate) fn deserialize<'de, D, const N: usize>(deserializer: D) -> Result<[f64; N], D::Error>
    where
        D: Deserializer<'de>,
        [Number; N]: Deserialize<'de>,
    {
        <[Number; N]>::deserialize(deserializer).map(|values| values.map(|number| number.0))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn stored(value: f64) -> std::vec::Vec<u8> {
        let mut buffer = [0; 16];
        postcard::to_slice(&Number(value), &mut buffer)
            .unwrap()
            .to_vec()
    }

    fn read(bytes: &[u8]) -> Option<f64> {
        postcard::from_bytes::<Number>(bytes)
            .ok()
            .map(|number| number.0)
    }

    #[test]
    fn short_decimals_are_short() {
        // The digits as a zigzag varint: 2 d, seven bits a byte.
        assert_eq!(stored(0.0), [0, 0]);
        assert_eq!(stored(-3.0), [0, 5]);
        assert_eq!(stored(0.35), [2, 70]);
        assert_eq!(stored(1234.5), [1, 0xf2, 0xc0, 0x01]);
        assert_eq!(stored(-5.3 + 273.15), [CELSIUS + 1, 105]);
        assert_eq!(stored(1.0 / 3.0).len(), 9);
        // A negative zero is not the zero that digits give.
        assert_eq!(stored(-0.0).len(), 9);
    }

    #[test]
    fn what_is_no_finite_number_is_refused() {
        for value in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
            assert_eq!(read(&stored(value)), None, "{value}");
        }
        for kind in [23, CELSIUS - 1, CELSIUS + 23, 2 * CELSIUS, PLAIN - 1] {
            assert_eq!(read(&[kind, 2]), None, "{kind}");
        }
        assert_eq!(read(&[0]), None);
    }

    fn assert_short(decimal: f64) {
        for value in [decimal, decimal + ZERO_CELSIUS_K] {
            let stored = stored(value);
            assert_eq!(read(&stored), Some(value));
            assert!(stored.len() <= 5, "{value} takes {}", stored.len());
        }
    }

    /// A case that the second proptest below once found.
    #[test]
    fn a_small_decimal_in_kelvin_is_short() {
        assert_short(5347.0 / 1e7);
    }

    proptest! {
        #[test]
        fn any_number_keeps_its_bits(value in any::<f64>()) {
            let read = read(&stored(value));
            prop_assert_eq!(read.map(f64::to_bits), value.is_finite().then(|| value.to_bits()));
        }

        #[test]
        fn any_decimal_keeps_its_bits_and_is_short(digits in -9999..9999_i32, decimals in 0..8_usize) {
            assert_short(f64::from(digits) / POWERS[decimals]);
        }
    }
}
