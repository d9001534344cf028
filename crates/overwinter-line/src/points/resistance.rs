//! The resistance that a row's method of measuring would give.

use overwinter_model::cell::CellState;
use overwinter_model::{Current, Load, Time, Voltage};

use super::evaluate::Test;
use super::trial::Trial;
use super::{Condition, Mark, Skip};

impl Test {
    /// The voltage at the end of one pulse; a pulse of no length is its first instant.
    pub(super) fn pulse(&self, load: Load, span: Time) -> Option<Voltage> {
        let trial = self.trial_at_mark();
        let instant = Time::from_seconds(1e-6);
        trial.voltages([(load, span.max(instant))]).map(|[end]| end)
    }

    /// The resistance that the row's method would give.
    ///
    /// Without a method told: that of a maker's dual-pulse test for a cell of up to two volts (a
    /// step from 5 to 505 mA for 100 ms, technical bulletin of 2005), the part that acts at once
    /// for batteries.
    pub(super) fn resistance(&self) -> Result<f64, Skip> {
        let milliamperes = Current::from_milliamperes;
        let ohms = match &self.condition {
            Condition::Open if self.cell.in_series == 1 => self.step(
                milliamperes(5.0),
                milliamperes(505.0),
                Time::from_seconds(0.1),
            ),
            Condition::Open => {
                let circuit = self.cell.at(self.temperature).circuit(&self.aged());
                Some(circuit.ohmic.as_ohms() * f64::from(self.cell.in_series))
            }
            Condition::Step { from, to, span } => self.step(*from, *to, *span),
            Condition::Sustained(heavy, light) => self.sustained(*heavy, *light),
            Condition::Pulse(load, span) => self.pulse_resistance(*load, *span),
            Condition::PulseOnSustained {
                pulse,
                span,
                sustained,
            } => self.step(*sustained, *pulse, *span),
            Condition::ShortPulse(span) => {
                let hourly = self.rated / Time::from_hours(1.0);
                self.step(Current::ZERO, hourly, *span)
            }
            _ => None,
        };
        ohms.ok_or_else(|| Skip::new("no resistance by this method"))
    }

    /// The state at the mark, reached without polarisation.
    fn at_mark(&self) -> CellState {
        let mut state = self.aged();
        let depth = match self.state.mark {
            Some(Mark::Depth(depth)) => depth,
            Some(Mark::Delivered(charge)) => charge / self.cell.capacity,
            _ => 0.0,
        };
        state.wells = state.wells.scaled(1.0 - depth);
        state
    }

    /// A test of a cell from which the charge of the mark has been taken.
    fn trial_at_mark(&self) -> Trial<'_> {
        Trial {
            state: self.at_mark(),
            ..self.trial()
        }
    }

    /// `ΔV / ΔI` of a step up, on a cell that has carried the lower current for ten minutes.
    fn step(&self, from: Current, to: Current, span: Time) -> Option<f64> {
        let trial = self.trial_at_mark();
        let before = Time::from_seconds(600.0);
        let [low, high] =
            trial.voltages([(Load::Current(from), before), (Load::Current(to), span)])?;
        Some(((low - high) / Voltage::from_volts(1.0)) / (to - from).as_amperes())
    }

    /// Two continuous currents against each other where both have given the charge of the mark.
    fn sustained(&self, heavy: Current, light: Current) -> Option<f64> {
        let charge = match self.state.mark? {
            Mark::Delivered(charge) => charge,
            Mark::Depth(depth) => self.cell.capacity * depth,
            _ => return None,
        };
        let trial = self.trial();
        let low = trial.sustained(light, charge / light)?;
        let high = trial.sustained(heavy, charge / heavy)?;
        Some((low - high).as_volts() / (heavy - light).as_amperes())
    }

    /// `(U − V) / I` of one load on a rested cell.
    fn pulse_resistance(&self, load: Load, span: Time) -> Option<f64> {
        let open = self.open_rested();
        let volts = self.pulse(load, span)?;
        let current = match load {
            Load::Current(current) => current,
            Load::Power(power) => power / volts,
            Load::Resistance(resistance) => volts / resistance,
        };
        Some((open - volts).as_volts() / current.as_amperes())
    }

    fn open_rested(&self) -> Voltage {
        let circuit = self.cell.at(self.temperature).circuit(&self.at_mark());
        circuit.open_circuit * f64::from(self.cell.in_series)
    }
}
