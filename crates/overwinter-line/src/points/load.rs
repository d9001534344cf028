//! What a row's load asks of a cell: how much, how often it changes, how long it is on.

use overwinter_model::bench::MAX_PHASES;
use overwinter_model::{Charge, Current, Load, Time, Voltage};

use super::evaluate::Test;
use super::subject::RatedCell;
use super::{Condition, Row, Skip};

/// About the heaviest current that a row's load draws from a cell of the size of `entry`: a power
/// at the cut-off, where there is one, anything else at the open-circuit voltage of half the charge.
///
/// # Errors
/// A [`Skip`] if the row has no load to run to the end.
pub fn heaviest_current(entry: &RatedCell, row: &Row) -> Result<Current, Skip> {
    let test = Test::new(entry, row)?;
    let volts = test.cell.open_circuit.at(0.5) * f64::from(test.cell.in_series);
    let heaviest = test
        .duty()?
        .segments()
        .take(MAX_PHASES)
        .fold(Current::ZERO, |most, segment| {
            let volts = match (segment.load, test.cut_off) {
                (Load::Power(_), Some(cut_off)) => cut_off,
                _ => volts,
            };
            most.max(drawn(segment.load, volts))
        });
    Ok(heaviest / (test.cell.capacity / entry.cell.capacity))
}

/// Whether a row's load changes more than `most` times until the cell is about empty: such a test
/// takes long to repeat.
#[must_use]
pub fn changes_more_often(entry: &RatedCell, row: &Row, most: usize) -> bool {
    let Ok(test) = Test::new(entry, row) else {
        return false;
    };
    let Ok(duty) = test.duty() else { return false };
    let volts = test.cell.open_circuit.at(0.5) * f64::from(test.cell.in_series);
    let mut left = test.cell.capacity;
    for segment in duty.segments().take(most) {
        left -= drawn(segment.load, volts) * segment.span;
        if left <= Charge::ZERO {
            return false;
        }
    }
    true
}

/// The current that a load draws at a voltage.
fn drawn(load: Load, volts: Voltage) -> Current {
    match load {
        Load::Current(current) => current,
        Load::Power(power) => power / volts,
        Load::Resistance(resistance) => volts / resistance,
    }
}

/// The heaviest current of a row's pulse into one cell of the size of `entry`, and its length: a power or a
/// resistance at the voltage of half the charge.
///
/// # Errors
/// A [`Skip`] if the row is not of a pulse.
pub(crate) fn pulse(entry: &RatedCell, row: &Row) -> Result<(Current, Time), Skip> {
    let test = Test::new(entry, row)?;
    let volts = test.cell.open_circuit.at(0.5) * f64::from(test.cell.in_series);
    let (current, span) = match test.condition {
        Condition::Pulse(load, span) => (drawn(load, volts), span),
        Condition::Step { to, span, .. } => (to, span),
        Condition::PulseAgainst { heavy, span, .. } => (heavy, span),
        _ => return Err(Skip::new("no pulse")),
    };
    Ok((current / (test.cell.capacity / entry.cell.capacity), span))
}

/// How long the load of a row is on without a rest when its figure is read: of a profile the heaviest
/// phase, of a load without rests the whole time until then, as the model has it. Zero is the first instant.
///
/// # Errors
/// A [`Skip`] if there is no load, or the row cannot be repeated.
pub fn load_span(entry: &RatedCell, row: &Row) -> Result<Time, Skip> {
    let test = Test::new(entry, row)?;
    let of_step = |condition: &Condition| match condition {
        Condition::Pulse(_, span)
        | Condition::ShortPulse(span)
        | Condition::Step { span, .. }
        | Condition::PulseAgainst { span, .. }
        | Condition::PulseOnSustained { span, .. } => Some(*span),
        _ => None,
    };
    if let Some(span) = of_step(&test.condition) {
        return Ok(span);
    }
    match (&test.condition, row.quantity.as_str()) {
        (Condition::Open, "resistance_ohm") if test.cell.in_series == 1 => {
            Ok(of_step(&Condition::DUAL_PULSE).unwrap_or(Time::ZERO))
        }
        (Condition::Open, "resistance_ohm") => Ok(Time::ZERO),
        (Condition::Sustained(heavy, _), _) => {
            Ok(test.cell.capacity * test.depth_at_mark()? / *heavy)
        }
        (Condition::Repeated { single, .. }, "voltage_V") => {
            // A profile's voltage is read in one of its rounds.
            let until = test.time_under_load(*single);
            let stretch = at_a_stretch(&test)?;
            Ok(until.map_or(stretch, |until| stretch.min(until)))
        }
        _ => Ok(at_a_stretch(&test)?.min(test.run()?.under_load)),
    }
}

/// How long the heaviest load of a duty is on at a stretch.
fn at_a_stretch(test: &Test) -> Result<Time, Skip> {
    let volts = test.cell.open_circuit.at(0.5) * f64::from(test.cell.in_series);
    let duty = test.duty()?;
    let loads = duty.segments().take(MAX_PHASES);
    let heavier = loads.reduce(|most, next| {
        let more = drawn(next.load, volts) > drawn(most.load, volts);
        if more { next } else { most }
    });
    heavier
        .map(|segment| segment.span)
        .ok_or_else(|| Skip::new("no load"))
}
