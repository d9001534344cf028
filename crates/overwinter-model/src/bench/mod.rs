//! A bench test: one source, one load after another, down to a cut-off voltage.

mod duty;
mod profile;

pub use duty::{Duty, DutyError, MAX_PHASES, Phase};
pub use profile::{MAX_PROFILE_POINTS, ProfileError, TemperatureProfile};

use crate::circuit::{Circuit, Load, Polarisation};
use crate::units::{Charge, Current, Energy, Time, Voltage};

/// Something that can be discharged: a [`crate::cell::CellOnBench`], or a circuit of the caller's.
pub trait Source: Clone {
    /// The source as the load sees it now.
    fn circuit(&self) -> Circuit;
    /// Voltage across each branch now.
    fn polarisation(&self) -> Polarisation;
    /// Lets a constant `current` flow for `span`.
    fn advance(&mut self, current: Current, span: Time);
    /// Whether there is nothing left to draw.
    fn is_empty(&self) -> bool;
    /// The longest step that keeps the source's own changes small at about this current.
    fn longest_step(&self, current: Current) -> Time;
}

/// One load for a while.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Segment {
    /// What is connected.
    pub load: Load,
    /// For how long, above zero.
    pub span: Time,
    /// Whether the standards count this as time under load; a rest does not count.
    pub counts: bool,
    /// Whether a pulse is complete when this segment is.
    pub ends_pulse: bool,
}

/// Where a discharge stands.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Progress {
    /// Time since the start, rests included.
    pub elapsed: Time,
    /// Time under load.
    pub under_load: Time,
    /// Charge delivered.
    pub delivered: Charge,
    /// Energy delivered at the terminals.
    pub energy: Energy,
    /// Complete pulses.
    pub pulses: u32,
    /// Voltage at the terminals.
    pub voltage: Voltage,
    /// Current.
    pub current: Current,
}

/// Why a discharge ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum EndReason {
    /// The voltage met the cut-off.
    CutOff,
    /// The source could not carry the load at any voltage.
    Overload,
    /// There was nothing left to draw.
    Empty,
    /// The loads came to their end first.
    Finished,
}

/// Runs `segments` on `source` until the voltage under load meets `cut_off`.
///
/// `observe` sees the state at the start of each segment and after every step. Steps are kept
/// short against the quickest branch at the start of a segment, grow with the time since, and
/// never move the source more than [`Source::longest_step`] allows; the current of a step is that
/// of its middle. The end is found by halving the step that crosses it.
pub fn discharge<S: Source>(
    source: &mut S,
    segments: impl IntoIterator<Item = Segment>,
    cut_off: Voltage,
    mut observe: impl FnMut(&Progress),
) -> (Progress, EndReason) {
    let mut progress = Progress::default();
    for segment in segments {
        if let Some(reason) = begin(source, &segment, cut_off, &mut progress) {
            return (progress, reason);
        }
        observe(&progress);
        let mut spent = Time::ZERO;
        while spent < segment.span {
            let step = step_length(source, &segment, spent, progress.current);
            match take_step(source, &segment, step, cut_off, &progress) {
                Ok((next, after)) => {
                    (*source, progress) = (next, after);
                    spent += step;
                    observe(&progress);
                }
                Err(why) => {
                    let end = find_end(source, &segment, step, cut_off, progress, why);
                    observe(&end.0);
                    return end;
                }
            }
        }
        progress.pulses = progress
            .pulses
            .saturating_add(u32::from(segment.ends_pulse));
    }
    (progress, EndReason::Finished)
}

/// Connects a segment's load: the voltage moves at once by the ohmic part.
fn begin<S: Source>(
    source: &S,
    segment: &Segment,
    cut_off: Voltage,
    progress: &mut Progress,
) -> Option<EndReason> {
    let circuit = source.circuit();
    let Some(current) = circuit.current(segment.load, &source.polarisation()) else {
        return Some(EndReason::Overload);
    };
    progress.current = current;
    progress.voltage = circuit.voltage(current, &source.polarisation());
    (segment.counts && progress.voltage < cut_off).then_some(EndReason::CutOff)
}

/// No step is shorter, whatever the source asks for.
const SHORTEST_STEP: Time = Time::from_seconds(1e-4);

/// A step for a segment of which `spent` is over.
fn step_length<S: Source>(source: &S, segment: &Segment, spent: Time, current: Current) -> Time {
    let left = segment.span - spent;
    if segment.load == Load::REST {
        return left.min(source.longest_step(current));
    }
    let quickest = source.circuit().shortest_time().unwrap_or(Time::ZERO);
    let settling = (quickest / 10.0).max(spent / 4.0);
    // A source that settles at once still gets through its segment.
    let step = settling
        .min(source.longest_step(current))
        .max(SHORTEST_STEP);
    // A last crumb would only add rounding.
    if step * 1.01 > left { left } else { step }
}

/// One step, or why it cannot be taken whole.
fn take_step<S: Source>(
    source: &S,
    segment: &Segment,
    step: Time,
    cut_off: Voltage,
    progress: &Progress,
) -> Result<(S, Progress), EndReason> {
    let start = source.circuit();
    let first = start
        .current(segment.load, &source.polarisation())
        .ok_or(EndReason::Overload)?;
    let mut middle = source.clone();
    middle.advance(first, step / 2.0);
    let halfway = middle.circuit();
    let current = halfway
        .current(segment.load, &middle.polarisation())
        .ok_or(EndReason::Overload)?;
    let mut next = source.clone();
    next.advance(current, step);
    if next.is_empty() {
        return Err(EndReason::Empty);
    }
    let end = next.circuit();
    let last = end
        .current(segment.load, &next.polarisation())
        .ok_or(EndReason::Overload)?;
    let voltage = end.voltage(last, &next.polarisation());
    if segment.counts && voltage < cut_off {
        return Err(EndReason::CutOff);
    }
    // Simpson's rule over the start, the middle and the end.
    let mean = (start.voltage(first, &source.polarisation())
        + halfway.voltage(current, &middle.polarisation()) * 4.0
        + voltage)
        / 6.0;
    let after = Progress {
        elapsed: progress.elapsed + step,
        under_load: if segment.counts {
            progress.under_load + step
        } else {
            progress.under_load
        },
        delivered: progress.delivered + current * step,
        energy: progress.energy + mean * current * step,
        pulses: progress.pulses,
        voltage,
        current: last,
    };
    Ok((next, after))
}

/// Walks up to the end inside a step that crosses it.
fn find_end<S: Source>(
    source: &mut S,
    segment: &Segment,
    step: Time,
    cut_off: Voltage,
    mut progress: Progress,
    mut reason: EndReason,
) -> (Progress, EndReason) {
    let mut length = step / 2.0;
    // 40 halvings bring a day down to less than a microsecond.
    for _ in 0..40 {
        match take_step(source, segment, length, cut_off, &progress) {
            Ok((next, after)) => (*source, progress) = (next, after),
            Err(why) => reason = why,
        }
        length = length / 2.0;
    }
    (progress, reason)
}
