//! The resistance that a row's method of measuring would give.

use overwinter_model::{Current, Load, Time, Voltage};

use super::evaluate::Test;
use super::{Condition, Skip};

impl Test {
    /// The voltage at the end of one pulse; a pulse of no length is its first instant. `None` if the cell
    /// does not bear it.
    pub(super) fn pulse(&self, load: Load, span: Time) -> Result<Option<Voltage>, Skip> {
        let instant = Time::from_seconds(1e-6);
        let ends = self.trial_at_mark()?.voltages([(load, span.max(instant))]);
        Ok(ends.map(|[end]| end))
    }

    /// The resistance that the row's method would give.
    ///
    /// Without a method told: that of a maker's dual-pulse test for a cell of up to two volts (a
    /// step from 5 to 505 mA for 100 ms, technical bulletin of 2005), the part that acts at once
    /// for batteries.
    pub(super) fn resistance(&self) -> Result<f64, Skip> {
        let by = match &self.condition {
            Condition::Open if self.cell.in_series == 1 => &Condition::DUAL_PULSE,
            told => told,
        };
        let ohms = match by {
            Condition::Open => {
                let circuit = self.cell.at(self.temperature).circuit(&self.at_mark()?);
                Some(circuit.ohmic.as_ohms() * f64::from(self.cell.in_series))
            }
            Condition::Step { from, to, span } => self.step(*from, *to, *span)?,
            Condition::Sustained(heavy, light) => self.sustained(*heavy, *light)?,
            Condition::Pulse(load, span) => self.pulse_resistance(*load, *span)?,
            Condition::PulseAgainst { heavy, light, span } => {
                self.between_pulses(*heavy, *light, *span)?
            }
            Condition::PulseOnSustained {
                pulse,
                span,
                sustained,
            } => self.step(*sustained, *pulse, *span)?,
            Condition::ShortPulse(span) => {
                let hourly = self.rated / Time::from_hours(1.0);
                self.step(Current::ZERO, hourly, *span)?
            }
            _ => return Err(Skip::new("no resistance by this method")),
        };
        ohms.ok_or_else(|| Skip::new("our cell does not bear this load there"))
    }

    /// `ΔV / ΔI` of a step up, on a cell that has carried the lower current for ten minutes.
    fn step(&self, from: Current, to: Current, span: Time) -> Result<Option<f64>, Skip> {
        let before = (Load::Current(from), Time::from_seconds(600.0));
        let ends = self
            .trial_at_mark()?
            .voltages([before, (Load::Current(to), span)]);
        Ok(ends.map(|[low, high]| (low - high).as_volts() / (to - from).as_amperes()))
    }

    /// `ΔV / ΔI` of two pulses of one length, each on the rested cell.
    fn between_pulses(
        &self,
        heavy: Current,
        light: Current,
        span: Time,
    ) -> Result<Option<f64>, Skip> {
        let (Some(low), Some(high)) = (
            self.pulse(Load::Current(heavy), span)?,
            self.pulse(Load::Current(light), span)?,
        ) else {
            return Ok(None);
        };
        Ok(Some((high - low).as_volts() / (heavy - light).as_amperes()))
    }

    /// Two continuous currents against each other where both have given the charge of the mark.
    fn sustained(&self, heavy: Current, light: Current) -> Result<Option<f64>, Skip> {
        if self.state.mark.is_none() {
            return Err(Skip::new(
                "two discharges without a charge at which they are compared",
            ));
        }
        let charge = self.cell.capacity * self.depth_at_mark()?;
        let trial = self.trial();
        let volts = |current: Current| trial.sustained(current, charge / current);
        let (Some(high), Some(low)) = (volts(light), volts(heavy)) else {
            return Ok(None);
        };
        Ok(Some((high - low).as_volts() / (heavy - light).as_amperes()))
    }

    /// `(U − V) / I` of one load on a rested cell.
    fn pulse_resistance(&self, load: Load, span: Time) -> Result<Option<f64>, Skip> {
        let open = self.volts_at(&self.at_mark()?);
        let Some(volts) = self.pulse(load, span)? else {
            return Ok(None);
        };
        let current = match load {
            Load::Current(current) => current,
            Load::Power(power) => power / volts,
            Load::Resistance(resistance) => volts / resistance,
        };
        Ok(Some((open - volts).as_volts() / current.as_amperes()))
    }
}
