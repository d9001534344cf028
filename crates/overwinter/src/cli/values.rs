//! Values of flags.

use overwinter_line::problem::Failure;
use time::Date;

/// A date as in a line file.
pub(super) fn parse_date(text: &str) -> Result<Date, String> {
    Date::parse(
        text,
        &time::macros::format_description!("[year]-[month]-[day]"),
    )
    .map_err(|_| "expected a date like 2027-02-12".to_owned())
}

/// A seed; the parser's own words say nothing of the range.
pub(super) fn parse_seed(text: &str) -> Result<u64, String> {
    let seed = text.parse();
    seed.map_err(|_| format!("expected a whole number, 0 to {}", u64::MAX))
}

/// A flag's number within a range; neither NaN nor infinity is.
pub(super) fn in_range(flag: &str, value: f64, low: f64, high: f64) -> Result<f64, Failure> {
    if (low..=high).contains(&value) {
        return Ok(value);
    }
    Err(Failure::request(
        format!("{flag} is {value}, which is out of range"),
        format!("expected {low} to {high}"),
    ))
}
