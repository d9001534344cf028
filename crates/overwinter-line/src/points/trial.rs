//! Runs a cell through a row's test and reads it on the way.

use overwinter_model::bench::{Duty, EndReason, Progress, Segment, discharge};
use overwinter_model::cell::{Cell, CellOnBench, CellState};
use overwinter_model::{Current, Load, Temperature, Time, Voltage};

/// Reading a curve goes on to a voltage at which no published curve does.
const NO_CUT_OFF: Voltage = Voltage::from_volts(0.05);

/// A cell at a temperature, in the state in which the test begins.
#[derive(Clone, Copy)]
pub(super) struct Trial<'a> {
    pub(super) cell: &'a Cell,
    pub(super) temperature: Temperature,
    pub(super) state: CellState,
}

impl<'a> Trial<'a> {
    fn source(&self) -> CellOnBench<'a> {
        CellOnBench::new(self.cell.at(self.temperature), self.state)
    }

    /// The whole discharge.
    pub(super) fn discharge(&self, duty: &Duty, cut_off: Voltage) -> Progress {
        discharge(&mut self.source(), duty.segments(), cut_off, |_| {}).0
    }

    /// The voltage after `mark` under load, if the cell lasts that long.
    pub(super) fn voltage_after(&self, duty: &Duty, mark: Time) -> Option<Voltage> {
        let segments = limited(duty.segments(), mark);
        let (end, reason) = discharge(&mut self.source(), segments, NO_CUT_OFF, |_| {});
        (reason == EndReason::Finished).then_some(end.voltage)
    }

    /// The lowest voltage in the course of the `number`th pulse, if the cell gets there.
    pub(super) fn lowest_in_pulse(&self, duty: &Duty, number: u32) -> Option<Voltage> {
        let mut complete = 0;
        let segments = duty.segments().take_while(|segment| {
            let goes_on = complete < number;
            complete += u32::from(segment.ends_pulse);
            goes_on
        });
        let mut lowest = None;
        let observe = |progress: &Progress| {
            if progress.pulses + 1 == number {
                lowest =
                    Some(lowest.map_or(progress.voltage, |v: Voltage| v.min(progress.voltage)));
            }
        };
        let (_, reason) = discharge(&mut self.source(), segments, NO_CUT_OFF, observe);
        lowest.filter(|_| reason == EndReason::Finished)
    }

    /// The voltages under loads that follow each other, each at its end.
    pub(super) fn voltages<const N: usize>(
        &self,
        loads: [(Load, Time); N],
    ) -> Option<[Voltage; N]> {
        let mut source = self.source();
        let mut ends = [Voltage::ZERO; N];
        for ((load, span), end) in loads.into_iter().zip(&mut ends) {
            let segment = Segment {
                load,
                span,
                counts: true,
                ends_pulse: false,
            };
            let (progress, reason) = discharge(&mut source, [segment], NO_CUT_OFF, |_| {});
            if reason != EndReason::Finished {
                return None;
            }
            *end = progress.voltage;
        }
        Some(ends)
    }

    /// The voltage of a continuous current at its end.
    pub(super) fn sustained(&self, current: Current, span: Time) -> Option<Voltage> {
        self.voltages([(Load::Current(current), span)])
            .map(|[end]| end)
    }
}

/// The segments of a duty up to a time under load.
fn limited(segments: impl Iterator<Item = Segment>, limit: Time) -> impl Iterator<Item = Segment> {
    segments.scan(limit, |left, mut segment| {
        if *left <= Time::ZERO {
            return None;
        }
        if segment.counts {
            segment.span = segment.span.min(*left);
            *left -= segment.span;
        }
        Some(segment)
    })
}
