//! How well a figure of a camera is known, and how a line file says so.

use std::ops::RangeInclusive;

use serde::de::{Deserialize, Deserializer, Error, MapAccess, SeqAccess, Visitor};
use toml::Spanned;

use super::value::{KeyType, OfFile, Value};
use crate::keys::Reader;
use crate::problem::Problem;
use crate::words::plain;

/// A twentieth of a normal law lies beyond so many standard deviations on either side.
const TWENTIETH: f64 = 1.644_853_626_951_472_7;

/// What a figure is taken for, and between what it lies, nine times in ten.
///
/// It is drawn from a law with the value in its middle and the two ends at its twentieths: log-normal on
/// either side, as wide as that side is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Known {
    /// The middle: half of what is drawn lies above.
    pub value: f64,
    /// A twentieth lies below.
    pub low: f64,
    /// A twentieth lies above.
    pub high: f64,
}

impl Known {
    /// Between two values, and as likely above their geometric mean as below.
    #[must_use]
    pub fn between(low: f64, high: f64) -> Self {
        Self {
            value: (low * high).sqrt(),
            low,
            high,
        }
    }

    /// A value read off a meter that is good to such a share of it.
    #[must_use]
    pub fn read_off(value: f64, good_to: f64) -> Self {
        Self {
            value,
            low: value / (1.0 + good_to),
            high: value * (1.0 + good_to),
        }
    }

    /// The same of so many times as much, more than none.
    #[must_use]
    pub fn times(&self, factor: f64) -> Self {
        Self {
            value: self.value * factor,
            low: self.low * factor,
            high: self.high * factor,
        }
    }

    /// The value so many standard deviations above the middle; below it, if negative.
    #[must_use]
    pub fn at(&self, deviate: f64) -> f64 {
        let end = if deviate < 0.0 { self.low } else { self.high };
        if end <= 0.0 || self.value <= 0.0 {
            return self.value;
        }
        let widths = deviate.abs() / TWENTIETH;
        self.value * libm::exp(libm::log(end / self.value) * widths)
    }
}

/// A number in a line file, or what it lies between: `6.2`, or `{ from = 4, to = 9 }`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(in crate::line) enum Reading {
    /// One number.
    Value(f64),
    /// Nine times in ten between these.
    Between {
        /// The lower.
        from: f64,
        /// The higher.
        to: f64,
    },
}

/// How a range is written.
const A_RANGE: &str = "a range such as { from = 4, to = 9 }";

impl<'de> Deserialize<'de> for Reading {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct ReadingVisitor;
        impl<'de> Visitor<'de> for ReadingVisitor {
            type Value = Reading;

            fn expecting(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                f.write_str("f64")
            }

            fn visit_f64<E>(self, value: f64) -> Result<Reading, E> {
                Ok(Reading::Value(value))
            }

            fn visit_i64<E>(self, value: i64) -> Result<Reading, E> {
                Ok(Reading::Value(value as f64))
            }

            fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Reading, A::Error> {
                let (mut from, mut to) = (None, None);
                while let Some(key) = map.next_key::<String>()? {
                    match key.as_str() {
                        "from" => from = Some(map.next_value()?),
                        "to" => to = Some(map.next_value()?),
                        _ => return Err(A::Error::custom(A_RANGE)),
                    }
                }
                match (from, to) {
                    (Some(from), Some(to)) => Ok(Reading::Between { from, to }),
                    _ => Err(A::Error::custom(A_RANGE)),
                }
            }

            fn visit_seq<A: SeqAccess<'de>>(self, _: A) -> Result<Reading, A::Error> {
                Err(A::Error::custom(A_RANGE))
            }
        }
        deserializer.deserialize_any(ReadingVisitor)
    }
}

impl OfFile for Reading {
    const TYPE: KeyType = KeyType::Number;

    fn from_value(value: &Value) -> Option<Self> {
        value.as_f64().map(Self::Value)
    }
}

/// What the file says of a figure, within `range`; `usual` where that is not right.
pub(super) fn read(
    reader: &mut Reader,
    given: &Spanned<Reading>,
    key: &str,
    range: RangeInclusive<f64>,
    usual: Known,
    good_to: f64,
) -> Known {
    let mut number = |value| {
        reader.number(
            Some(&Spanned::new(given.span(), value)),
            key,
            range.clone(),
            f64::NAN,
        )
    };
    match *given.get_ref() {
        Reading::Value(value) => {
            let value = number(value);
            if value.is_nan() {
                usual
            } else {
                Known::read_off(value, good_to)
            }
        }
        Reading::Between { from, to } => {
            let (low, high) = (number(from), number(to));
            if low.is_nan() || high.is_nan() {
                return usual;
            }
            if low >= high {
                reader.problem(
                    Problem::at(
                        given.span(),
                        format!("`{key}` is from {} to {}", plain(low), plain(high)),
                        "expected the lower number first",
                    )
                    .help(format!(
                        "if it is known, give one number: {key} = {}",
                        plain(low)
                    )),
                );
                return usual;
            }
            Known::between(low, high)
        }
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    /// The ends of a range are the twentieths of the normal law: its tables have 1.645.
    #[test]
    fn a_twentieth_lies_beyond_each_end() {
        let light = Known {
            value: 9.4,
            low: 3.5,
            high: 17.6,
        };
        for (deviate, expected) in [(0.0, 9.4), (-TWENTIETH, 3.5), (TWENTIETH, 17.6)] {
            assert!((light.at(deviate) - expected).abs() < 1e-9, "{deviate}");
        }
        // What a meter reads lies as far below as above.
        let read = Known::read_off(2.0, 0.05);
        assert!((read.at(1.0) * read.at(-1.0) - 4.0).abs() < 1e-9);
        assert!((read.at(TWENTIETH) - 2.1).abs() < 1e-9);
    }

    proptest! {
        #[test]
        fn more_deviates_are_more(
            low in 1e-4..1e4_f64,
            times in 1.0..100.0_f64,
            [one, other] in [-4.0..4.0_f64, -4.0..4.0],
        ) {
            let known = Known::between(low, low * times);
            prop_assert!(known.low <= known.value && known.value <= known.high);
            let (less, more) = (one.min(other), one.max(other));
            prop_assert!(known.at(less) <= known.at(more));
        }
    }
}
