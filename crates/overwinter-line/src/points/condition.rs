//! The column `condition_load`: what was connected.

use overwinter_model::bench::Duty;
use overwinter_model::{Current, Load, Power, Resistance, Time};

use super::Skip;
use super::profile::{parse_profile, parse_span};

/// What was connected, and for how long.
#[derive(Clone, Debug, PartialEq)]
pub enum Condition {
    /// Nothing, or not stated.
    Open,
    /// A load that comes again until the cell is empty.
    Repeated {
        /// The load and its hours.
        duty: Box<Duty>,
        /// Length of one round of the phases, if there are several.
        cycle: Option<Time>,
        /// The load, if there is only one phase.
        single: Option<Load>,
    },
    /// One load, once, on a rested cell.
    Pulse(Load, Time),
    /// From a light load to a heavier one for a while, on a rested cell.
    Step {
        /// Before.
        from: Current,
        /// During the step.
        to: Current,
        /// How long the step lasts.
        span: Time,
    },
    /// Two pulses of one length, each on a rested cell, against each other.
    PulseAgainst {
        /// The heavier one.
        heavy: Current,
        /// The lighter one.
        light: Current,
        /// How long each lasts.
        span: Time,
    },
    /// The curves of two continuous currents against each other at the same charge.
    Sustained(Current, Current),
    /// A short heavy current, against a lighter one that flows on.
    PulseOnSustained {
        /// The heavy one.
        pulse: Current,
        /// How long it lasts.
        span: Time,
        /// The lighter one.
        sustained: Current,
    },
    /// A short pulse at a moderate current, which the source does not tell.
    ShortPulse(Time),
    /// A continuous current as a share of the rated capacity in an hour.
    Rate(f64),
    /// Pulses with rests, as in a test of power capability: the current is not told.
    PulsesWithRests,
}

impl Condition {
    /// A maker's dual-pulse test of the internal resistance of a cell of up to two volts (ENR-IR-2005).
    pub const DUAL_PULSE: Self = Self::Step {
        from: Current::from_milliamperes(5.0),
        to: Current::from_milliamperes(505.0),
        span: Time::from_seconds(0.1),
    };

    /// Reads the column.
    ///
    /// # Errors
    /// A [`Skip`] for a load that is not told or not representable.
    pub fn parse(text: &str) -> Result<Self, Skip> {
        if text.contains("device=") {
            return Err(Skip::new("load of an unknown device"));
        }
        if text.contains('=') {
            return key_values(text);
        }
        if text == "method not stated" {
            return Err(Skip::new("how it was measured is not told"));
        }
        let words: Vec<&str> = text.split([' ', ',']).filter(|w| !w.is_empty()).collect();
        words_to_condition(&words).ok_or_else(|| cannot_run(text))
    }
}

fn words_to_condition(words: &[&str]) -> Option<Condition> {
    let number = |text: &str| text.parse::<f64>().ok();
    let milliamperes = |text: &str| number(text).map(Current::from_milliamperes);
    let seconds = |text: &str| middle(text).map(Time::from_seconds);
    Some(match words {
        [] | ["open"] | ["open", "rested"] | ["light"] => Condition::Open,
        // The maker's own method, whichever that is for the cell.
        ["as", "the", "maker", "charts", "it"] => Condition::Open,
        ["dual", "pulse"] => Condition::DUAL_PULSE,
        ["step", "open", "to", watts, "mW"] => Condition::Pulse(
            Load::Power(Power::from_milliwatts(number(watts)?)),
            Time::ZERO,
        ),
        ["step", from, "to", to, "mA", span, "ms"]
        | ["dual", "pulse", from, "to", to, "mA", span, "ms"] => Condition::Step {
            from: milliamperes(from)?,
            to: milliamperes(to)?,
            span: seconds(span)? / 1e3,
        },
        ["pulse", current, "mA", "from", "open", span, "s"] => {
            Condition::Pulse(Load::Current(milliamperes(current)?), seconds(span)?)
        }
        ["pulse", heavy, "mA", "against", light, "mA", span, "s"] => Condition::PulseAgainst {
            heavy: milliamperes(heavy)?,
            light: milliamperes(light)?,
            span: seconds(span)?,
        },
        ["sustained", heavy, "mA", "against", light, "mA"] => {
            Condition::Sustained(milliamperes(heavy)?, milliamperes(light)?)
        }
        [
            span,
            "s",
            "at",
            pulse,
            "mA",
            "against",
            "sustained",
            sustained,
            "mA",
        ] => Condition::PulseOnSustained {
            pulse: milliamperes(pulse)?,
            span: seconds(span)?,
            sustained: milliamperes(sustained)?,
        },
        [span, "s", "into", ohms, "ohm"] => Condition::Pulse(
            Load::Resistance(Resistance::from_ohms(number(ohms)?)),
            seconds(span)?,
        ),
        [span, "s", "steps" | "pulse"] => Condition::ShortPulse(seconds(span)?),
        [rate, "It"] => Condition::Rate(number(rate)?),
        [hours, "h", "rate"] => Condition::Rate(1.0 / number(hours)?),
        // IEC 61951-2 rates at 0.2 It; makers' typical figures are usually at that too.
        ["rated" | "typical"] => Condition::Rate(0.2),
        ["pulse", "test", ..] => Condition::PulsesWithRests,
        _ => return None,
    })
}

fn cannot_run(load: &str) -> Skip {
    Skip::new(format!("the load `{load}` cannot be run"))
}

/// A number, or the geometric mean of a range such as `0.25-0.3`: what a pulse leaves goes with the logarithm of its length.
fn middle(text: &str) -> Option<f64> {
    let number = |text: &str| text.parse::<f64>().ok().filter(|number| *number > 0.0);
    match text.split_once('-') {
        Some((least, most)) => Some((number(least)? * number(most)?).sqrt()),
        None => number(text),
    }
}

/// How long a pulse lasts: a time such as `0.3 s`, or a range such as `0.25-0.3 s`.
fn pulse_span(text: &str) -> Result<Time, Skip> {
    let text = text.trim();
    if text == "first sample" {
        return Err(Skip::new("how soon the first sample was taken is not told"));
    }
    let range = text.strip_suffix('s').filter(|text| text.contains('-'));
    match range.and_then(|text| middle(text.trim())) {
        Some(seconds) => Ok(Time::from_seconds(seconds)),
        None => parse_span(text).map_err(|_| cannot_run(text)),
    }
}

/// The form `key=value;key=value`.
fn key_values(text: &str) -> Result<Condition, Skip> {
    let mut phases = None;
    let mut single = None;
    let (mut on, mut period, mut hours_per_day, mut once) = (None, None, None, None);
    for part in text.split(';').map(str::trim) {
        let Some((key, value)) = part.split_once('=') else {
            if part == "some hours a day" {
                return Err(Skip::new("how many hours a day is not told"));
            }
            once = Some(pulse_span(part)?);
            continue;
        };
        if key == "profile" {
            phases = Some(parse_profile(value).map_err(|e| Skip::new(e.to_string()))?);
            continue;
        }
        let value = match value.split_once(" pulse ") {
            Some((load, span)) => {
                once = Some(pulse_span(span)?);
                load
            }
            None => value,
        };
        let number: f64 = value.parse().map_err(|_| cannot_run(part))?;
        match key {
            "current_ma" => single = Some(Load::Current(Current::from_milliamperes(number))),
            "power_mw" => single = Some(Load::Power(Power::from_milliwatts(number))),
            "resistance_ohm" => single = Some(Load::Resistance(Resistance::from_ohms(number))),
            "on_s" => on = Some(Time::from_seconds(number)),
            "period_s" => period = Some(Time::from_seconds(number)),
            "hours_per_day" => hours_per_day = Some(Time::from_hours(number)),
            _ => return Err(cannot_run(part)),
        }
    }
    if let (Some(load), Some(span)) = (single, once) {
        return Ok(Condition::Pulse(load, span));
    }
    let bad = |why: overwinter_model::bench::DutyError| Skip::new(why.to_string());
    let (mut duty, cycle) = match (phases, single) {
        (Some(phases), None) => {
            let cycle = phases.iter().fold(Time::ZERO, |sum, p| sum + p.span);
            let several = phases.len() > 1;
            (
                Duty::profile(&phases).map_err(bad)?,
                several.then_some(cycle),
            )
        }
        (None, Some(load)) => (Duty::continuous(load), None),
        _ => return Err(cannot_run(text)),
    };
    if let (Some(on), Some(period)) = (on, period) {
        duty = duty.on_of_period(on, period).map_err(bad)?;
    } else if on.is_some() || period.is_some() {
        return Err(Skip::new("on_s and period_s belong together"));
    }
    if let Some(span) = hours_per_day {
        duty = duty.per_day(span).map_err(bad)?;
    }
    Ok(Condition::Repeated {
        duty: Box::new(duty),
        cycle,
        single,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_form_of_the_tables_is_read() {
        for text in [
            "current_ma=100;hours_per_day=1",
            "profile=1500mW:2s,650mW:28s;on_s=300;period_s=3600",
            "resistance_ohm=1;0.3 s",
            "step 5 to 505 mA, 100 ms",
            "sustained 1000 mA against 100 mA",
            "step open to 1500 mW",
            "0.3 s into 1 ohm",
            "10 s at 1000 mA against sustained 250 mA",
            "10 h rate",
            "0.5 It",
            "open, rested",
            "1 s steps",
            "as the maker charts it",
            "dual pulse 5 to 505 mA, 100 ms",
        ] {
            assert!(Condition::parse(text).is_ok(), "{text}");
        }
    }

    fn pulse(milliamperes: f64, seconds: f64) -> Condition {
        let load = Load::Current(Current::from_milliamperes(milliamperes));
        Condition::Pulse(load, Time::from_seconds(seconds))
    }

    /// A range of lengths is its geometric mean.
    #[test]
    fn a_pulse_has_a_length_or_a_range_of_lengths() {
        let mean = (0.25_f64 * 0.3).sqrt();
        for (text, expected) in [
            ("current_ma=100 pulse 0.25-0.3 s", pulse(100.0, mean)),
            ("current_ma=100;0.25-0.3 s", pulse(100.0, mean)),
            ("current_ma=100 pulse 0.3 s", pulse(100.0, 0.3)),
            ("current_ma=100;0.3 s", pulse(100.0, 0.3)),
            ("pulse 1000 mA from open, 0.25 s", pulse(1000.0, 0.25)),
            ("pulse 1000 mA from open, 0.25-0.3 s", pulse(1000.0, mean)),
        ] {
            assert_eq!(Condition::parse(text), Ok(expected), "{text}");
        }
    }

    #[test]
    fn two_pulses_are_one_from_the_other_or_each_from_rest() {
        let milliamperes = Current::from_milliamperes;
        let step = |from, to, seconds| Condition::Step {
            from: milliamperes(from),
            to: milliamperes(to),
            span: Time::from_seconds(seconds),
        };
        assert_eq!(Condition::parse("dual pulse"), Ok(step(5.0, 505.0, 0.1)));
        let stated = Condition::parse("dual pulse 10 to 500 mA, 250 ms");
        assert_eq!(stated, Ok(step(10.0, 500.0, 0.25)));
        let against = Condition::PulseAgainst {
            heavy: milliamperes(1000.0),
            light: milliamperes(100.0),
            span: Time::from_seconds(0.25),
        };
        let text = "pulse 1000 mA against 100 mA, 0.25 s";
        assert_eq!(Condition::parse(text), Ok(against));
    }

    #[test]
    fn what_a_row_does_not_tell_is_the_reason() {
        for (text, reason) in [
            ("current_ma=1000 pulse first sample", "first sample"),
            ("current_ma=50;some hours a day", "hours a day"),
            ("method not stated", "how it was measured"),
            ("current_ma=1 pulse 0-1 s", "0-1 s"),
        ] {
            let skip = Condition::parse(text).unwrap_err().to_string();
            assert!(skip.contains(reason), "{text}: {skip}");
        }
    }

    #[test]
    fn unknown_loads_are_skipped_by_name() {
        for text in ["high current, not stated", "current_ma=x", "device=camera"] {
            assert!(Condition::parse(text).is_err(), "{text}");
        }
    }
}
