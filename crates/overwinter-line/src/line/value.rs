//! Values that are put in the place of a key's own.

use std::fmt;

use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive;
use serde::Deserialize;
use serde::de::IntoDeserializer;
use serde::de::value::Error;
use time::Date;
use toml::value::Datetime;

use super::file::{CellNames, NormalsKeys, WeatherUse};
use crate::shown::visible;

/// What the values of a key are.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum KeyType {
    /// Any number.
    Number,
    /// Whole numbers.
    Whole,
    /// Names.
    Name,
    /// Dates.
    Date,
    /// Several values at once.
    List,
}

/// A value for a key, as exact as it was written.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum Value {
    /// For [`KeyType::Number`] and [`KeyType::Whole`].
    Number(Decimal),
    /// For [`KeyType::Name`].
    Name(String),
    /// For [`KeyType::Date`].
    Date(Date),
}

impl Value {
    /// The nearest floating-point number; `None` for what is no number.
    #[must_use]
    pub fn as_f64(&self) -> Option<f64> {
        match self {
            // By way of its digits: the decimal's own conversion divides, and may be a bit off.
            Self::Number(number) => number.to_string().parse().ok(),
            Self::Name(_) | Self::Date(_) => None,
        }
    }
}

impl fmt::Display for Value {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Number(number) => number.fmt(f),
            Self::Name(name) => visible(name).fmt(f),
            Self::Date(date) => date.fmt(f),
        }
    }
}

/// A type that a key has in the file.
pub(super) trait OfFile: Sized {
    /// What its values are.
    const TYPE: KeyType;

    /// From a value of that type; `None` from another.
    fn from_value(value: &Value) -> Option<Self>;
}

impl OfFile for f64 {
    const TYPE: KeyType = KeyType::Number;

    fn from_value(value: &Value) -> Option<Self> {
        value.as_f64()
    }
}

impl OfFile for i64 {
    const TYPE: KeyType = KeyType::Whole;

    fn from_value(value: &Value) -> Option<Self> {
        match value {
            Value::Number(number) if number.is_integer() => number.to_i64(),
            _ => None,
        }
    }
}

impl OfFile for String {
    const TYPE: KeyType = KeyType::Name;

    fn from_value(value: &Value) -> Option<Self> {
        match value {
            Value::Name(name) => Some(name.clone()),
            _ => None,
        }
    }
}

impl OfFile for CellNames {
    const TYPE: KeyType = KeyType::Name;

    fn from_value(value: &Value) -> Option<Self> {
        String::from_value(value).map(Self::One)
    }
}

impl OfFile for WeatherUse {
    const TYPE: KeyType = KeyType::Name;

    fn from_value(value: &Value) -> Option<Self> {
        let name = String::from_value(value)?;
        let name: serde::de::value::StringDeserializer<Error> = name.into_deserializer();
        Self::deserialize(name).ok()
    }
}

impl OfFile for Datetime {
    const TYPE: KeyType = KeyType::Date;

    fn from_value(value: &Value) -> Option<Self> {
        let Value::Date(date) = value else {
            return None;
        };
        Some(Self {
            date: Some(toml::value::Date {
                year: u16::try_from(date.year()).ok()?,
                month: date.month().into(),
                day: date.day(),
            }),
            time: None,
            offset: None,
        })
    }
}

impl OfFile for Vec<f64> {
    const TYPE: KeyType = KeyType::List;

    fn from_value(_: &Value) -> Option<Self> {
        None
    }
}

impl OfFile for NormalsKeys {
    const TYPE: KeyType = KeyType::List;

    fn from_value(_: &Value) -> Option<Self> {
        None
    }
}
