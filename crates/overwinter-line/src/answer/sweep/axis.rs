//! `--vary KEY=…`: a key and the values that it takes in turn.

use std::collections::HashSet;

use rust_decimal::Decimal;
use time::Date;
use time::macros::format_description;

use crate::line::{Key, KeyType, Value};
use crate::problem::Failure;

/// The most values of one key.
const MOST_VALUES: usize = 10_000;

/// A key and its values.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Axis {
    /// The whole of it as it was given, for messages.
    pub given: String,
    /// The key as it was given, with its section or without.
    pub name: String,
    /// The key.
    pub key: Key,
    /// Its values in their order, each once.
    pub values: Vec<Value>,
}

impl Axis {
    /// Reads `key=from:to:step`, `key=a,b,c`, or a list of both.
    ///
    /// # Errors
    /// [`Failure::Request`] with what is wrong.
    pub fn parse(given: &str) -> Result<Self, Failure> {
        let refused = |what: &str, help: &str| {
            Failure::request(format!("--vary {given}: {what}"), help.to_owned())
        };
        let Some((name, list)) = given.split_once('=') else {
            let help = "for example shots=1:5:1, or cell=alkaline-aa,lithium-aa";
            return Err(refused("expected a key, `=` and values", help));
        };
        let name = name.trim();
        let key = Key::find(name).map_err(|(what, help)| refused(&what, &help))?;
        let mut values = Vec::new();
        for item in list.split(',') {
            add(&mut values, item.trim(), key.values)
                .map_err(|(what, help)| refused(&what, &help))?;
        }
        let mut seen = HashSet::new();
        match values.iter().find(|value| !seen.insert(*value)) {
            Some(twice) => Err(refused(
                &format!("{twice} is among the values twice"),
                "expected each value once",
            )),
            None => Ok(Self {
                given: given.to_owned(),
                name: name.to_owned(),
                key,
                values,
            }),
        }
    }

    /// Its values as numbers; `None` if they are names or dates.
    #[must_use]
    pub fn numbers(&self) -> Option<Vec<f64>> {
        self.values.iter().map(Value::as_f64).collect()
    }

    /// The key in words, with its unit.
    #[must_use]
    pub fn title(&self) -> String {
        match self.key.words() {
            (words, Some(unit)) => format!("{words}, {unit}"),
            (words, None) => words,
        }
    }
}

/// One or two axes.
///
/// # Errors
/// [`Failure::Request`] if one is wrong, or two cannot go together.
pub fn parse_axes(given: &[String]) -> Result<Vec<Axis>, Failure> {
    if given.len() > 2 {
        return Err(Failure::request(
            format!("--vary is given {} times", given.len()),
            "expected one key or two",
        ));
    }
    let axes: Vec<Axis> = given
        .iter()
        .map(|given| Axis::parse(given))
        .collect::<Result<_, _>>()?;
    if let [one, other] = axes.as_slice() {
        if one.key == other.key {
            return Err(Failure::request(
                format!("`{}` is varied twice", other.name),
                "give all of its values in one --vary",
            ));
        }
        if one.key.excludes(&other.key) {
            return Err(Failure::request(
                format!("`{}` and `{}` exclude each other", one.name, other.name),
                "vary one of them",
            ));
        }
    }
    Ok(axes)
}

/// What is wrong, and what to do.
type Refusal = (String, String);

fn refusal(what: impl Into<String>, help: impl Into<String>) -> Refusal {
    (what.into(), help.into())
}

/// Adds what stands between two commas.
fn add(values: &mut Vec<Value>, item: &str, values_are: KeyType) -> Result<(), Refusal> {
    if item.is_empty() {
        return Err(refusal(
            "a value is empty",
            "expected one on each side of a comma",
        ));
    }
    match values_are {
        KeyType::Number | KeyType::Whole => match *item.split(':').collect::<Vec<_>>().as_slice() {
            [value] => values.push(Value::Number(number(value, values_are)?)),
            [from, to, step] => {
                let [from, to, step] = [
                    number(from, values_are)?,
                    number(to, values_are)?,
                    number(step, values_are)?,
                ];
                add_range(values, item, from, to, step)?;
            }
            _ => {
                return Err(refusal(
                    format!("`{item}` is neither a number nor a range"),
                    "a range is from:to:step, for example 0:10:2",
                ));
            }
        },
        KeyType::Date => {
            let date = Date::parse(item, format_description!("[year]-[month]-[day]"));
            let date = date.map_err(|_| {
                refusal(format!("`{item}` is not a date"), "for example 2026-11-01")
            })?;
            values.push(Value::Date(date));
        }
        KeyType::Name | KeyType::List => values.push(Value::Name(item.to_owned())),
    }
    too_many(values.len())
}

fn too_many(count: usize) -> Result<(), Refusal> {
    if count > MOST_VALUES {
        return Err(refusal(
            format!("these are {count} values"),
            format!("expected at most {MOST_VALUES}"),
        ));
    }
    Ok(())
}

fn number(text: &str, values_are: KeyType) -> Result<Decimal, Refusal> {
    let text = text.trim();
    let number = Decimal::from_str_exact(text).map_err(|_| {
        refusal(
            format!("`{text}` is not a number"),
            "expected digits with a point, without a unit",
        )
    })?;
    if values_are == KeyType::Whole && !number.is_integer() {
        return Err(refusal(
            format!("{number} is not a whole number"),
            "this key has whole numbers only",
        ));
    }
    Ok(number.normalize())
}

/// Steps from one number to another in decimals, so that nothing drifts.
fn add_range(
    values: &mut Vec<Value>,
    item: &str,
    from: Decimal,
    to: Decimal,
    step: Decimal,
) -> Result<(), Refusal> {
    if step.is_zero() {
        return Err(refusal(
            format!("the step of {item} is 0"),
            "a range is from:to:step, for example 0:10:2",
        ));
    }
    let past_the_end = |value: Decimal| {
        if step.is_sign_negative() {
            value < to
        } else {
            value > to
        }
    };
    if past_the_end(from) {
        return Err(refusal(
            format!("{item} is empty: a step of {step} does not lead from {from} to {to}"),
            "turn the sign of the step, or change the ends",
        ));
    }
    let beyond = || refusal(format!("{item} has too many digits"), "expected fewer");
    let steps = to
        .checked_sub(from)
        .and_then(|length| length.checked_div(step))
        .ok_or_else(beyond)?;
    if steps >= Decimal::from(MOST_VALUES) {
        return Err(refusal(
            format!("{item} has {} values", steps.floor() + Decimal::ONE),
            format!("expected at most {MOST_VALUES}"),
        ));
    }
    let mut value = from;
    while !past_the_end(value) {
        values.push(Value::Number(value.normalize()));
        value = value.checked_add(step).ok_or_else(beyond)?;
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn values(given: &str) -> Vec<String> {
        let axis = Axis::parse(given).expect(given);
        axis.values.iter().map(Value::to_string).collect()
    }

    #[test]
    fn decimals_do_not_drift() {
        let tenths = values("video_s=0.1:0.9:0.1");
        assert_eq!(
            tenths,
            [
                "0.1", "0.2", "0.3", "0.4", "0.5", "0.6", "0.7", "0.8", "0.9"
            ]
        );
        let numbers = Axis::parse("video_s=0.1:0.9:0.1")
            .expect("an axis")
            .numbers();
        assert_eq!(
            numbers.expect("numbers"),
            [0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9]
        );
    }

    #[test]
    fn ranges_and_lists_mix_in_their_order() {
        assert_eq!(values("quiet_s=60, 0:10:5,2"), ["60", "0", "5", "10", "2"]);
        assert_eq!(values("latitude_deg=10:-10:-10"), ["10", "0", "-10"]);
        assert_eq!(values("shots=1:10:4"), ["1", "5", "9"]);
        assert_eq!(values("shots=3:3:1"), ["3"]);
        assert_eq!(values("start=2026-10-01"), ["2026-10-01"]);
    }

    proptest! {
        #[test]
        fn a_range_holds_every_step_and_its_end_where_it_is_hit(
            from in -1000..1000_i64, step in 1..50_i64, steps in 0..200_i64, beyond in 0..50_i64,
            places in 0..4_u32, down: bool,
        ) {
            let sign = if down { -1 } else { 1 };
            let step = step * sign;
            let to = from + steps * step + sign * beyond % step.abs();
            let of = |number: i64| Decimal::new(number, places).normalize();
            let axis = Axis::parse(&format!("quiet_s={}:{}:{}", of(from), of(to), of(step))).unwrap();
            let expected: Vec<Value> =
                (0..=steps).map(|n| Value::Number(of(from + n * step))).collect();
            prop_assert_eq!(axis.values, expected);
        }
    }
}
