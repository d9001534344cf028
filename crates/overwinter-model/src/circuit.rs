//! A voltage source behind a resistance that acts at once and one that acts slowly.

use serde::{Deserialize, Serialize};

use crate::units::{Current, Power, Resistance, Time, Voltage};

/// What is connected to the terminals.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub enum Load {
    /// The same current whatever the voltage.
    Current(Current),
    /// The same power whatever the voltage: what a camera's converters draw.
    Power(Power),
    /// A resistor.
    Resistance(Resistance),
}

impl Load {
    /// Nothing connected.
    pub const REST: Self = Self::Current(Current::ZERO);
}

/// A cell or a pack at one instant: Thevenin's circuit with one slow branch.
///
/// ```text
/// V = U − v − I R_ohmic         v relaxes towards I R_slow with the time constant τ
/// ```
///
/// `v`, the polarisation, is the state of the slow branch and is kept by the caller. The slow
/// branch lumps charge transfer and diffusion.
/// Source: the equivalent circuit of one RC element in the common form, for example Plett,
/// Battery Management Systems, volume 1, 2015, chapter 2 (from memory).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Circuit {
    /// `U`: the voltage with nothing connected and all polarisation gone.
    pub open_circuit: Voltage,
    /// `R_ohmic`: acts at once.
    pub ohmic: Resistance,
    /// `R_slow`: acts after some time constants.
    pub slow: Resistance,
    /// `τ`: must be above zero.
    pub slow_time: Time,
}

impl Circuit {
    /// The current that `load` draws at this instant, or `None` if it cannot be carried.
    ///
    /// For a constant power, with `E = U − v`:
    ///
    /// ```text
    /// I = (E − √(E² − 4 R P)) / (2 R) = 2 P / (E + √(E² − 4 R P))
    /// ```
    ///
    /// The second form keeps its digits when `R P` is small. No real root means that the
    /// source cannot give that power at any voltage.
    #[must_use]
    pub fn current(&self, load: Load, polarisation: Voltage) -> Option<Current> {
        let inner = self.open_circuit - polarisation;
        match load {
            Load::Current(current) => Some(current),
            Load::Power(power) => {
                let volts = inner.as_volts();
                let under_root = volts * volts - 4.0 * (self.ohmic.as_ohms() * power.as_watts());
                (volts > 0.0 && under_root >= 0.0).then(|| {
                    Current::from_amperes(2.0 * power.as_watts() / (volts + libm::sqrt(under_root)))
                })
            }
            Load::Resistance(resistance) => Some(inner / (resistance + self.ohmic)),
        }
    }

    /// The voltage at the terminals while `current` flows.
    #[must_use]
    pub fn voltage(&self, current: Current, polarisation: Voltage) -> Voltage {
        self.open_circuit - polarisation - self.ohmic * current
    }

    /// The polarisation after `span` at a constant `current`.
    #[must_use]
    pub fn relax(&self, polarisation: Voltage, current: Current, span: Time) -> Voltage {
        let settled = self.slow * current;
        settled + (polarisation - settled) * libm::exp(-(span / self.slow_time))
    }

    /// What is left of a polarisation in the mean over `span` if nothing is drawn, as a share.
    #[must_use]
    pub fn mean_decay(&self, span: Time) -> f64 {
        mean_decay(span / self.slow_time)
    }

    /// The current of a `load` over a span with this [`Circuit::mean_decay`] that agrees with the mean
    /// polarisation it makes, or `None` if it cannot be carried.
    ///
    /// That polarisation is `v m + R_slow (1 − m) I` with `m` the mean decay over the span, so the
    /// circuit acts as one with a polarisation `v m` and a resistance `R_ohmic + R_slow (1 − m)`.
    #[must_use]
    pub fn mean_current(
        &self,
        load: Load,
        polarisation: Voltage,
        mean_decay: f64,
    ) -> Option<Current> {
        let mean = Self {
            ohmic: self.ohmic + self.slow * (1.0 - mean_decay),
            ..*self
        };
        mean.current(load, polarisation * mean_decay)
    }

    /// The polarisation averaged over such a span at a constant `current`.
    #[must_use]
    pub fn mean_polarisation(
        &self,
        polarisation: Voltage,
        current: Current,
        mean_decay: f64,
    ) -> Voltage {
        let settled = self.slow * current;
        settled + (polarisation - settled) * mean_decay
    }
}

/// `(1 − e^−x) / x`, the mean of a decay over `x` time constants; 1 at zero.
pub(crate) fn mean_decay(x: f64) -> f64 {
    if x < 1e-9 { 1.0 } else { -libm::expm1(-x) / x }
}

#[cfg(test)]
mod tests {
    use super::*;

    const CIRCUIT: Circuit = Circuit {
        open_circuit: Voltage::from_volts(1.5),
        ohmic: Resistance::from_ohms(0.2),
        slow: Resistance::from_ohms(0.3),
        slow_time: Time::from_seconds(30.0),
    };

    #[test]
    fn power_load_takes_the_smaller_root() {
        let load = Load::Power(Power::from_watts(1.0));
        let current = CIRCUIT.current(load, Voltage::ZERO).unwrap();
        let power = CIRCUIT.voltage(current, Voltage::ZERO) * current;
        assert!((power.as_watts() - 1.0).abs() < 1e-12, "{power:?}");
        assert!(current.as_amperes() < 1.5 / 0.4, "{current:?}");
    }

    #[test]
    fn more_power_than_the_matched_load_cannot_be_carried() {
        // U² / (4 R) = 2.8125 W at the most.
        assert!(
            CIRCUIT
                .current(Load::Power(Power::from_watts(2.81)), Voltage::ZERO)
                .is_some()
        );
        assert!(
            CIRCUIT
                .current(Load::Power(Power::from_watts(2.82)), Voltage::ZERO)
                .is_none()
        );
    }

    #[test]
    fn polarisation_settles_on_the_slow_resistance() {
        let amp = Current::from_amperes(1.0);
        let settled = CIRCUIT.relax(Voltage::ZERO, amp, Time::from_seconds(600.0));
        assert!((settled.as_volts() - 0.3).abs() < 1e-8, "{settled:?}");
        let decay = CIRCUIT.mean_decay(Time::from_seconds(30.0));
        let mean = CIRCUIT.mean_polarisation(Voltage::ZERO, amp, decay);
        assert!(
            (mean.as_volts() - 0.3 * (-1.0_f64).exp()).abs() < 1e-12,
            "{mean:?}"
        );
    }
}
