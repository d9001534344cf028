//! Dates, reasons and doubts as people read them.

use overwinter_model::cell::{Asked, BeyondPoints, Cell, Doubt};
use overwinter_model::{Temperature, Voltage};
use serde::Serializer;
use time::Date;
use time::macros::format_description;

/// `14 Dec 2026`.
#[must_use]
pub fn date(date: Date) -> String {
    // The description is checked when this is compiled, and a date has all of its parts.
    date.format(format_description!(
        "[day padding:none] [month repr:short] [year]"
    ))
    .unwrap_or_else(|_| date.to_string())
}

/// Writes a date into a document as `2026-11-01`.
pub(crate) fn iso_date<S: Serializer>(date: &Date, serializer: S) -> Result<S::Ok, S::Error> {
    serializer.collect_str(date)
}

/// `1 day`, `2 days`: a number of things whose plural takes an s.
#[must_use]
pub fn count(number: usize, thing: &str) -> String {
    let plural = if number == 1 { "" } else { "s" };
    format!("{number} {thing}{plural}")
}

/// A number as messages show it: no digits that nobody gave.
#[must_use]
pub fn plain(number: f64) -> String {
    let rounded = (number * 1e6).round() / 1e6;
    format!("{rounded}")
}

/// A number to so many digits, at least one.
pub(crate) fn to_digits(number: f64, digits: usize) -> f64 {
    let after_first = digits.saturating_sub(1);
    format!("{number:.after_first$e}").parse().unwrap_or(number)
}

/// A number that is written with a decimal comma as it is read; `None` for anything else.
#[must_use]
pub fn with_decimal_point(text: &str) -> Option<String> {
    let number = text.replacen(',', ".", 1);
    (text.contains(',') && number.parse::<f64>().is_ok()).then_some(number)
}

/// `14 Dec`, where the year is plain.
#[must_use]
pub fn day_of_year(date: Date) -> String {
    date.format(format_description!("[day padding:none] [month repr:short]"))
        .unwrap_or_else(|_| date.to_string())
}

/// `-19.2 °C`, with the sign of a minus that every terminal has.
#[must_use]
pub fn temperature(temperature: Temperature) -> String {
    // A rounded zero keeps no sign.
    format!(
        "{:.1} °C",
        (temperature.as_celsius() * 10.0).round() / 10.0 + 0.0
    )
}

/// `8.94 V`.
#[must_use]
pub fn volts(voltage: Voltage) -> String {
    format!("{:.2} V", voltage.as_volts())
}

/// What frost does to a lead-acid battery: diluted as it is drawn, its acid freezes at about -10 °C
/// when flat and near -60 °C when full (from memory).
pub const LEAD_ACID_FROST: &str = "a lead-acid battery that is run flat freezes near -10 °C and \
     bursts; a full one stands frost";

/// A doubt's name in JSON, and its wording.
#[must_use]
pub fn doubt(doubt: &Doubt) -> (&'static str, String) {
    match doubt {
        Doubt::Colder { asked, tested } => (
            "colder-than-tested",
            format!(
                "{} is colder than any published point ({}): extrapolated",
                temperature(*asked),
                temperature(*tested)
            ),
        ),
        Doubt::Warmer { asked, tested } => (
            "warmer-than-tested",
            format!(
                "{} is warmer than any published point ({}): extrapolated",
                temperature(*asked),
                temperature(*tested)
            ),
        ),
        Doubt::Heavier { asked, tested } => (
            "heavier-than-tested",
            format!(
                "{:.0} mA a cell is more than any published point ({:.0} mA): extrapolated",
                asked.as_milliamperes(),
                tested.as_milliamperes()
            ),
        ),
        Doubt::HeavierInFrost { asked, tested } if tested.as_amperes() <= 0.0 => (
            "heavier-in-frost-than-tested",
            format!(
                "no published point lies below 0 °C (here {:.0} mA a cell): extrapolated",
                asked.as_milliamperes()
            ),
        ),
        Doubt::HeavierInFrost { asked, tested } => (
            "heavier-in-frost-than-tested",
            format!(
                "{:.0} mA a cell below 0 °C is more than any published point there ({:.0} mA): \
                 extrapolated",
                asked.as_milliamperes(),
                tested.as_milliamperes()
            ),
        ),
        _ => (
            "outside-tested-range",
            "outside the published points: extrapolated".to_owned(),
        ),
    }
}

/// Where a run went beyond the points of a cell, and how far off the cell may be there.
pub fn beyond_points<'a>(
    cell: &'a Cell,
    asked: &Asked,
) -> impl Iterator<Item = (Doubt, String)> + use<'a> {
    let BeyondPoints { resistance, reach } = cell.beyond(asked);
    // What is known to less than a hundredth is not what is doubted: warmth, or a load a little heavier.
    let doubted = [("resistance", resistance), ("charge within reach", reach)]
        .into_iter()
        .filter(|(_, sd)| *sd >= 0.01);
    let known: String = doubted
        .map(|(what, sd)| format!(", {what} known to {:.0} %", 100.0 * sd))
        .collect();
    cell.tested.doubts(asked).map(move |beyond| {
        let (_, text) = doubt(&beyond);
        let text = text + &known;
        (beyond, text)
    })
}

/// How far a doubt lies outside, to tell the worse of two of one kind.
#[must_use]
pub fn how_far(doubt: &Doubt) -> f64 {
    match doubt {
        Doubt::Colder { asked, tested } => tested.as_kelvin() - asked.as_kelvin(),
        Doubt::Warmer { asked, tested } => asked.as_kelvin() - tested.as_kelvin(),
        Doubt::Heavier { asked, tested } | Doubt::HeavierInFrost { asked, tested } => {
            asked.as_milliamperes() - tested.as_milliamperes()
        }
        _ => 0.0,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_thing_and_several() {
        assert_eq!(count(1, "day"), "1 day");
        assert_eq!([0, 2].map(|n| count(n, "value")), ["0 values", "2 values"]);
    }

    #[test]
    fn a_rounded_zero_has_no_sign() {
        assert_eq!(temperature(Temperature::from_celsius(-0.01)), "0.0 °C");
        assert_eq!(temperature(Temperature::from_celsius(-19.23)), "-19.2 °C");
    }
}
