//! The loads of the cases, as the bench driver takes them.

use overwinter_model::bench::Segment;
use overwinter_model::{Current, Load, Power, Time};
use serde::Deserialize;

const DAY_S: f64 = 86_400.0;

/// A case's load.
#[derive(Clone, Debug, Deserialize)]
#[serde(tag = "type", rename_all = "snake_case", deny_unknown_fields)]
pub(crate) enum CaseLoad {
    /// The same current all the time.
    ConstantCurrent { current_a: f64 },
    /// The same power all the time.
    ConstantPower { power_w: f64 },
    /// Each period starts with the pulse.
    PulseTrain {
        pulse_current_a: f64,
        pulse_s: f64,
        period_s: f64,
        rest_current_a: f64,
    },
    /// The same every 24 hours.
    DailySchedule {
        quantity: Quantity,
        base: f64,
        events: Vec<Event>,
    },
}

/// What the numbers of a schedule are.
#[derive(Clone, Copy, Debug, Deserialize)]
#[serde(rename_all = "snake_case")]
pub(crate) enum Quantity {
    CurrentA,
    PowerW,
}

/// One event of a schedule, in place of the base load.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Event {
    start_s: f64,
    duration_s: f64,
    value: f64,
}

/// One load from one second to another, counted from the start of the run.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Piece {
    pub(crate) load: Load,
    pub(crate) from_s: f64,
    pub(crate) to_s: f64,
}

impl Piece {
    /// As the bench driver takes it.
    pub(crate) fn segment(&self) -> Segment {
        Segment {
            load: self.load,
            span: Time::from_seconds(self.to_s - self.from_s),
            counts: true,
            ends_pulse: false,
        }
    }
}

impl CaseLoad {
    /// The loads from the start to `horizon_s`, without a gap.
    pub(crate) fn pieces(&self, horizon_s: f64) -> Result<Vec<Piece>, String> {
        let (period_s, parts) = self.period(horizon_s)?;
        let mut pieces = Vec::new();
        for round in 0_u32.. {
            let start_s = f64::from(round) * period_s;
            if start_s >= horizon_s {
                break;
            }
            pieces.extend(parts.iter().map(|part| Piece {
                load: part.load,
                from_s: start_s + part.from_s,
                to_s: (start_s + part.to_s).min(horizon_s),
            }));
        }
        pieces.retain(|piece| piece.from_s < piece.to_s);
        Ok(pieces)
    }

    /// How far off an end may be because a pulse came a period sooner or later: the period in
    /// seconds and its charge in ampere-hours. Only a pulse train has that leave.
    pub(crate) fn one_period(&self) -> (f64, f64) {
        match *self {
            Self::PulseTrain {
                pulse_current_a,
                pulse_s,
                period_s,
                rest_current_a,
            } => {
                let coulombs = pulse_current_a * pulse_s + rest_current_a * (period_s - pulse_s);
                (period_s, coulombs / 3600.0)
            }
            _ => (0.0, 0.0),
        }
    }

    /// The length of a period and what happens in it.
    fn period(&self, horizon_s: f64) -> Result<(f64, Vec<Piece>), String> {
        let whole = |load| {
            (
                horizon_s,
                vec![Piece {
                    load,
                    from_s: 0.0,
                    to_s: horizon_s,
                }],
            )
        };
        match self {
            Self::ConstantCurrent { current_a } => Ok(whole(amperes(*current_a))),
            Self::ConstantPower { power_w } => Ok(whole(watts(*power_w))),
            &Self::PulseTrain {
                pulse_current_a,
                pulse_s,
                period_s,
                rest_current_a,
            } => {
                if !(0.0 <= pulse_s && pulse_s <= period_s && period_s > 0.0) {
                    return Err(format!("a pulse of {pulse_s} s in {period_s} s"));
                }
                let pulse = Event {
                    start_s: 0.0,
                    duration_s: pulse_s,
                    value: pulse_current_a,
                };
                let parts = with_events(rest_current_a, &[pulse], period_s, amperes)?;
                Ok((period_s, parts))
            }
            Self::DailySchedule {
                quantity,
                base,
                events,
            } => {
                let load = match quantity {
                    Quantity::CurrentA => amperes,
                    Quantity::PowerW => watts,
                };
                Ok((DAY_S, with_events(*base, events, DAY_S, load)?))
            }
        }
    }
}

/// One period of a base load and the events in it.
fn with_events(
    base: f64,
    events: &[Event],
    period_s: f64,
    load: fn(f64) -> Load,
) -> Result<Vec<Piece>, String> {
    let mut events = events.to_vec();
    events.sort_by(|a, b| a.start_s.total_cmp(&b.start_s));
    let mut parts = Vec::new();
    let mut clock_s = 0.0;
    let mut until = |to_s: f64, value: f64| {
        parts.push(Piece {
            load: load(value),
            from_s: clock_s,
            to_s,
        });
        let fits = clock_s <= to_s && to_s <= period_s;
        clock_s = to_s;
        fits.then_some(())
    };
    let overlap = || "events overlap, or run past the end of the period".to_owned();
    for event in &events {
        until(event.start_s, base).ok_or_else(overlap)?;
        until(event.start_s + event.duration_s, event.value).ok_or_else(overlap)?;
    }
    until(period_s, base).ok_or_else(overlap)?;
    Ok(parts)
}

fn amperes(value: f64) -> Load {
    Load::Current(Current::from_amperes(value))
}

fn watts(value: f64) -> Load {
    Load::Power(Power::from_watts(value))
}
