//! Dates as people write them, where TOML wants year-month-day.

use std::ops::Range;

use time::{Date, Month};

/// The value of digits and separators around a place in a text, if it is meant as a date.
pub(super) fn around(text: &str, at: usize) -> Option<(Range<usize>, Date)> {
    let part = |c: char| c.is_ascii_digit() || "./-".contains(c);
    let (before, behind) = (text.get(..at)?, text.get(at..)?);
    let start = before.trim_end_matches(part).len();
    let end = text.len() - behind.trim_start_matches(part).len();
    Some((start..end, meant(text.get(start..end)?)?))
}

/// The date that `15.10.2026` or `2026/10/15` is meant as; none where day and month might be either.
pub(super) fn meant(shown: &str) -> Option<Date> {
    let separator = ['.', '/', '-'].into_iter().find(|c| shown.contains(*c))?;
    let parts: Vec<&str> = shown.split(separator).collect();
    let [first, second, third] = *parts.as_slice() else {
        return None;
    };
    let number = |part: &str| part.parse::<u8>().ok();
    let (year, month, day) = if first.len() == 4 {
        (first, number(second)?, number(third)?)
    } else {
        // With a stroke some put the month first.
        match (number(first)?, number(second)?) {
            (day, month) if separator != '/' || day > 12 => (third, month, day),
            (month, day) if day > 12 => (third, month, day),
            _ => return None,
        }
    };
    let year = year.parse().ok().filter(|_| year.len() == 4)?;
    Date::from_calendar_date(year, Month::try_from(month).ok()?, day).ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn dates_in_other_orders() {
        for (shown, expected) in [
            ("15.10.2026", Some("2026-10-15")),
            ("5.1.2027", Some("2027-01-05")),
            ("15-10-2026", Some("2026-10-15")),
            ("15/10/2026", Some("2026-10-15")),
            ("10/15/2026", Some("2026-10-15")),
            ("2026/10/15", Some("2026-10-15")),
            ("2026.10.15", Some("2026-10-15")),
            ("10/11/2026", None),
            ("15.10.26", None),
            ("2026-15-10", None),
            ("31.2.2026", None),
            ("7.5", None),
            ("..", None),
        ] {
            let told = meant(shown).map(|date| date.to_string());
            assert_eq!(told.as_deref(), expected, "{shown}");
        }
    }

    #[test]
    fn the_value_around_a_place() {
        let text = "start = 15.10.2026 # später";
        let (span, _) = around(text, 13).expect("a date");
        assert_eq!(&text[span], "15.10.2026");
        assert_eq!(around(text, text.len()), None);
    }
}
