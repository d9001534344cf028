//! Loads as text: `1500mW:2s,650mW:28s`.

use std::fmt;

use overwinter_model::bench::{MAX_PHASES, Phase, TemperatureProfile};
use overwinter_model::{Current, Load, Power, Resistance, Temperature, Time};

/// Which part of a profile could not be read, and what was expected there.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ProfileError {
    /// The part as it was written.
    pub part: String,
    /// What was expected of it.
    pub expected: &'static str,
}

impl fmt::Display for ProfileError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "`{}`: expected {}", self.part, self.expected)
    }
}

impl std::error::Error for ProfileError {}

fn error(part: &str, expected: &'static str) -> ProfileError {
    ProfileError {
        part: part.to_owned(),
        expected,
    }
}

/// Several phases: `LOAD:TIME` parted by commas, for example `1500mW:2s,650mW:28s`.
///
/// A load is a number with `mA`, `mW` or `ohm`; a time a number with `s`, `min` or `h`.
///
/// # Errors
/// [`ProfileError`] names the part that cannot be read.
pub fn parse_profile(text: &str) -> Result<Vec<Phase>, ProfileError> {
    let phases: Vec<Phase> = text
        .split(',')
        .map(str::trim)
        .map(parse_phase)
        .collect::<Result<_, _>>()?;
    if phases.len() > MAX_PHASES {
        return Err(error(text, "at most 8 phases"));
    }
    Ok(phases)
}

fn parse_phase(part: &str) -> Result<Phase, ProfileError> {
    let (load, span) = part.split_once(':').ok_or_else(|| {
        error(
            part,
            "a load and a time with a colon between, as in 650mW:28s",
        )
    })?;
    Ok(Phase {
        load: parse_load(load.trim())?,
        span: parse_span(span.trim())?,
    })
}

/// A number above or equal to zero and the unit behind it.
fn number_and_unit(text: &str) -> Option<(f64, &str)> {
    let unit_at = text
        .find(|c: char| !(c.is_ascii_digit() || c == '.'))
        .unwrap_or(text.len());
    let (number, unit) = text.split_at(unit_at);
    let number: f64 = number.parse().ok()?;
    // Hundreds of digits are read as infinity.
    number.is_finite().then(|| (number, unit.trim_start()))
}

/// A load: a number with `mA`, `mW` or `ohm`.
///
/// # Errors
/// [`ProfileError`] if the number or the unit cannot be read, or a resistance is zero.
pub fn parse_load(text: &str) -> Result<Load, ProfileError> {
    let expected = "a load such as 100mA, 650mW or 3.9ohm";
    match number_and_unit(text) {
        Some((number, "mA")) => Ok(Load::Current(Current::from_milliamperes(number))),
        Some((number, "mW")) => Ok(Load::Power(Power::from_milliwatts(number))),
        Some((number, "ohm")) if number > 0.0 => {
            Ok(Load::Resistance(Resistance::from_ohms(number)))
        }
        _ => Err(error(text, expected)),
    }
}

/// A time: a number above zero with `s`, `min` or `h`.
///
/// # Errors
/// [`ProfileError`] if the number or the unit cannot be read, or the number is zero.
pub fn parse_span(text: &str) -> Result<Time, ProfileError> {
    let span = match number_and_unit(text) {
        Some((number, "s")) => Time::from_seconds(number),
        Some((number, "min")) => Time::from_seconds(60.0 * number),
        Some((number, "h")) => Time::from_hours(number),
        _ => Time::ZERO,
    };
    if span > Time::ZERO {
        Ok(span)
    } else {
        Err(error(text, "a time above zero such as 2s, 5min or 1h"))
    }
}

/// Temperatures over time: `TIME:DEGREES` parted by commas, for example `0h:20,2h:-10`.
///
/// A time is a number with `s`, `min` or `h`, the first of them zero; degrees are Celsius.
///
/// # Errors
/// [`ProfileError`] names the part that cannot be read, or the whole if its times do not rise from
/// zero.
pub fn parse_temperatures(text: &str) -> Result<TemperatureProfile, ProfileError> {
    let points: Vec<(Time, Temperature)> = text
        .split(',')
        .map(str::trim)
        .map(parse_temperature)
        .collect::<Result<_, _>>()?;
    TemperatureProfile::new(&points)
        .map_err(|_| error(text, "up to 16 points whose times rise from 0h"))
}

fn parse_temperature(part: &str) -> Result<(Time, Temperature), ProfileError> {
    let expected = "a time and degrees with a colon between, as in 2h:-10";
    let (time, degrees) = part.split_once(':').ok_or_else(|| error(part, expected))?;
    let time = match number_and_unit(time.trim()) {
        Some((number, "s")) => Time::from_seconds(number),
        Some((number, "min")) => Time::from_seconds(60.0 * number),
        Some((number, "h")) => Time::from_hours(number),
        _ => return Err(error(part, expected)),
    };
    let degrees: f64 = degrees.trim().parse().map_err(|_| error(part, expected))?;
    if !(-60.0..=80.0).contains(&degrees) {
        return Err(error(part, "-60 to 80 degrees"));
    }
    Ok((time, Temperature::from_celsius(degrees)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn camera_test_is_two_phases() {
        let phases = parse_profile("1500mW:2s, 650mW:28s").unwrap();
        assert_eq!(phases.len(), 2);
        assert_eq!(phases[1].load, Load::Power(Power::from_milliwatts(650.0)));
        assert_eq!(phases[0].span, Time::from_seconds(2.0));
    }

    #[test]
    fn temperatures_over_time() {
        let profile = parse_temperatures("0h:20, 30min:-10").unwrap();
        assert_eq!(profile.points().len(), 2);
        let after = profile.at(Time::from_hours(0.25)).as_celsius();
        assert!((after - 5.0).abs() < 1e-9, "{after}");
        for (bad, part) in [
            ("0h:20,2h", "2h"),
            ("0h:20,two:3", "two:3"),
            ("0h:200", "0h:200"),
            ("1h:20", "1h:20"),
            ("0h:nan", "0h:nan"),
            ("", ""),
        ] {
            assert_eq!(parse_temperatures(bad).unwrap_err().part, part, "{bad}");
        }
    }

    #[test]
    fn the_bad_part_is_named() {
        for (text, part) in [
            ("1500mW:2s,650mX:28s", "650mX"),
            ("1500mW:2", "2"),
            ("1500mW", "1500mW"),
            ("", ""),
            ("-3mA:1s", "-3mA"),
            ("0ohm:1s", "0ohm"),
            ("3ohm:0s", "0s"),
        ] {
            assert_eq!(parse_profile(text).unwrap_err().part, part);
        }
    }
}
