//! Duty cycles as the standards write them: phases, on and off, hours per day.

use heapless::Vec;

use super::Segment;
use crate::circuit::Load;
use crate::units::Time;

/// The most phases of one profile.
pub const MAX_PHASES: usize = 8;

/// A load that is connected without an end lasts this long: longer than any cell.
const WITHOUT_END: Time = Time::from_days(36_525.0);

/// One part of a repeated profile.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct Phase {
    /// What is connected.
    pub load: Load,
    /// For how long.
    pub span: Time,
}

/// When a test's load is connected.
///
/// The phases repeat without a break while the duty is on; a new period and a new day start with
/// the first phase.
#[derive(Clone, Debug, PartialEq)]
pub struct Duty {
    phases: Vec<Phase, MAX_PHASES>,
    on_of_period: Option<(Time, Time)>,
    per_day: Option<Time>,
}

/// Why a [`Duty`] could not be made.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub enum DutyError {
    /// A profile has no phases, or more than [`MAX_PHASES`]: this many.
    Phases(usize),
    /// A phase must last some time, and not for ever.
    PhaseSpan(Time),
    /// The time on must be above zero and not above the period: (on, period).
    OnOfPeriod(Time, Time),
    /// The time on in a day must be above zero and at most 24 hours.
    PerDay(Time),
}

impl core::fmt::Display for DutyError {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        match self {
            Self::Phases(n) => write!(f, "a profile has 1 to {MAX_PHASES} phases, got {n}"),
            Self::PhaseSpan(span) => {
                write!(
                    f,
                    "a phase must last above 0 s, got {} s",
                    span.as_seconds()
                )
            }
            Self::OnOfPeriod(on, period) => write!(
                f,
                "the time on must be above 0 s and at most the period, got {} s of {} s",
                on.as_seconds(),
                period.as_seconds()
            ),
            Self::PerDay(span) => {
                write!(
                    f,
                    "the time per day must be above 0 h and at most 24 h, got {} h",
                    span.as_hours()
                )
            }
        }
    }
}

impl core::error::Error for DutyError {}

impl Duty {
    /// `load` without a break.
    #[must_use]
    pub fn continuous(load: Load) -> Self {
        let mut phases = Vec::new();
        // One phase always has room.
        let _ = phases.push(Phase {
            load,
            span: WITHOUT_END,
        });
        Self {
            phases,
            on_of_period: None,
            per_day: None,
        }
    }

    /// A profile of several phases, repeated.
    ///
    /// # Errors
    /// [`DutyError::Phases`] or [`DutyError::PhaseSpan`].
    pub fn profile(phases: &[Phase]) -> Result<Self, DutyError> {
        if let Some(bad) = phases
            .iter()
            .find(|p| !(p.span > Time::ZERO && p.span <= WITHOUT_END))
        {
            return Err(DutyError::PhaseSpan(bad.span));
        }
        match Vec::from_slice(phases) {
            Ok(phases) if !phases.is_empty() => Ok(Self {
                phases,
                on_of_period: None,
                per_day: None,
            }),
            _ => Err(DutyError::Phases(phases.len())),
        }
    }

    /// On for `on` at the start of every `period`.
    ///
    /// # Errors
    /// [`DutyError::OnOfPeriod`].
    pub fn on_of_period(mut self, on: Time, period: Time) -> Result<Self, DutyError> {
        if !(on > Time::ZERO && on <= period && period <= WITHOUT_END) {
            return Err(DutyError::OnOfPeriod(on, period));
        }
        self.on_of_period = (on < period).then_some((on, period));
        Ok(self)
    }

    /// On only for the first `span` of every day.
    ///
    /// # Errors
    /// [`DutyError::PerDay`].
    pub fn per_day(mut self, span: Time) -> Result<Self, DutyError> {
        let day = Time::from_days(1.0);
        if !(span > Time::ZERO && span <= day) {
            return Err(DutyError::PerDay(span));
        }
        self.per_day = (span < day).then_some(span);
        Ok(self)
    }

    /// The duty as one load after another, without end.
    pub fn segments(&self) -> impl Iterator<Item = Segment> + '_ {
        Segments {
            duty: self,
            phase: 0,
            in_phase: Time::ZERO,
            in_period: Time::ZERO,
            in_day: Time::ZERO,
        }
    }

    /// Whether [`super::Progress::pulses`] means something: the load is a profile or goes on and off.
    #[must_use]
    pub fn has_pulses(&self) -> bool {
        self.phases.len() > 1 || self.on_of_period.is_some()
    }
}

/// Where in its cycle a duty stands.
struct Segments<'a> {
    duty: &'a Duty,
    phase: usize,
    in_phase: Time,
    in_period: Time,
    in_day: Time,
}

impl Segments<'_> {
    /// A rest that brings the clocks on by `span`; the profile starts anew after it.
    fn rest(&mut self, span: Time) -> Segment {
        (self.phase, self.in_phase) = (0, Time::ZERO);
        Segment {
            load: Load::REST,
            span,
            counts: false,
            ends_pulse: false,
        }
    }
}

impl Iterator for Segments<'_> {
    type Item = Segment;

    fn next(&mut self) -> Option<Segment> {
        let day_left = self.duty.per_day.map(|on| on - self.in_day);
        if day_left.is_some_and(|left| left <= Time::ZERO) {
            let span = Time::from_days(1.0) - self.in_day;
            (self.in_day, self.in_period) = (Time::ZERO, Time::ZERO);
            return Some(self.rest(span));
        }
        let within_day = |span: Time| day_left.map_or(span, |left| span.min(left));
        if let Some((on, period)) = self.duty.on_of_period
            && self.in_period >= on
        {
            let span = within_day(period - self.in_period);
            self.in_day += span;
            self.in_period = Time::ZERO;
            return Some(self.rest(span));
        }
        let phase = *self.duty.phases.get(self.phase)?;
        let mut span = within_day(phase.span - self.in_phase);
        let mut ends_pulse = false;
        if let Some((on, _)) = self.duty.on_of_period {
            span = span.min(on - self.in_period);
            ends_pulse = self.duty.phases.len() == 1 && self.in_period + span >= on;
        }
        self.in_phase += span;
        self.in_period += span;
        self.in_day += span;
        if self.in_phase >= phase.span {
            self.in_phase = Time::ZERO;
            self.phase += 1;
            if self.phase >= self.duty.phases.len() {
                self.phase = 0;
                ends_pulse |= self.duty.phases.len() > 1;
            }
        }
        Some(Segment {
            load: phase.load,
            span,
            counts: true,
            ends_pulse,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::{Current, Power};

    fn seconds(segments: &[Segment]) -> std::vec::Vec<(f64, bool, bool)> {
        segments
            .iter()
            .map(|s| (s.span.as_seconds(), s.counts, s.ends_pulse))
            .collect()
    }

    #[test]
    fn camera_test_counts_a_pulse_for_each_pair() {
        let phases = [(1.5, 2.0), (0.65, 28.0)].map(|(watts, span)| Phase {
            load: Load::Power(Power::from_watts(watts)),
            span: Time::from_seconds(span),
        });
        let duty = Duty::profile(&phases)
            .unwrap()
            .on_of_period(Time::from_seconds(60.0), Time::from_hours(1.0))
            .unwrap();
        let first: std::vec::Vec<_> = duty.segments().take(6).collect();
        assert_eq!(
            seconds(&first),
            [
                (2.0, true, false),
                (28.0, true, true),
                (2.0, true, false),
                (28.0, true, true),
                (3540.0, false, false),
                (2.0, true, false),
            ]
        );
    }

    #[test]
    fn a_day_cuts_a_period_short_and_starts_it_anew() {
        let duty = Duty::continuous(Load::Current(Current::from_amperes(1.0)))
            .on_of_period(Time::from_seconds(3000.0), Time::from_hours(1.0))
            .unwrap()
            .per_day(Time::from_seconds(4000.0))
            .unwrap();
        let first: std::vec::Vec<_> = duty.segments().take(5).collect();
        assert_eq!(
            seconds(&first),
            [
                (3000.0, true, true),
                (600.0, false, false),
                (400.0, true, false),
                (82_400.0, false, false),
                (3000.0, true, true),
            ]
        );
    }
}
