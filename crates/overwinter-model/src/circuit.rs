//! A voltage source behind a resistance that acts at once and one that acts slowly.

use crate::number::Number;
use crate::units::{Current, Power, Resistance, Time, Voltage};

/// What is connected to the terminals.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
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

/// Less than this behind its resistances, and a source drives nothing: keeps a division from blowing up
/// in a season whose camera is off already.
pub(crate) const LEAST_VOLTAGE: Voltage = Voltage::from_volts(0.05);

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
pub struct Circuit<N = f64> {
    /// `U`: the voltage with nothing connected and all polarisation gone.
    pub open_circuit: Voltage<N>,
    /// `R_ohmic`: acts at once.
    pub ohmic: Resistance<N>,
    /// `R_slow`: acts after some time constants.
    pub slow: Resistance<N>,
    /// `τ`: must be above zero.
    pub slow_time: Time,
}

/// How a polarisation decays over a span in which nothing is drawn.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Decay<N = f64> {
    /// Share that is left at the end.
    pub left: N,
    /// Share that is left in the mean over the span.
    pub mean: N,
}

/// What a constant power draws.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Drawn<N: Number = f64> {
    /// The current; some finite one where the power cannot be carried.
    pub current: Current<N>,
    /// Below 0 where the power cannot be carried; no quantity.
    // A number and not a mask: the margins of many bursts are one smallest, with a single comparison.
    pub margin: N,
}

/// What a constant power does over a span.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Carried<N: Number = f64> {
    /// Mean current.
    pub mean: Current<N>,
    /// Current at the end.
    pub last: Current<N>,
    /// Polarisation in the mean.
    pub mean_polarisation: Voltage<N>,
    /// Polarisation at the end.
    pub polarisation: Voltage<N>,
    /// Voltage at the end, the lowest.
    pub voltage: Voltage<N>,
    /// Below 0 where the power cannot be carried throughout; no quantity.
    pub margin: N,
}

impl<N: Number> Decay<N> {
    /// Over so many time constants, 0 or more.
    #[cfg_attr(not(target_os = "none"), inline(always))]
    #[must_use]
    pub fn over(time_constants: N) -> Self {
        Self {
            left: (-time_constants).exp(),
            mean: mean_decay(time_constants),
        }
    }
}

impl Decay {
    /// The same for each of several seasons.
    #[inline(always)]
    #[must_use]
    pub fn everywhere<N: Number>(self) -> Decay<N> {
        Decay {
            left: N::from(self.left),
            mean: N::from(self.mean),
        }
    }
}

impl<N: Number> Drawn<N> {
    /// What `power` draws from a voltage `inner` behind a resistance.
    ///
    /// ```text
    /// I = (E − √(E² − 4 R P)) / (2 R) = 2 P / (E + √(E² − 4 R P))
    /// ```
    ///
    /// The second form keeps its digits when `R P` is small. No real root means that the
    /// source cannot give that power at any voltage.
    #[cfg_attr(not(target_os = "none"), inline(always))]
    #[must_use]
    pub fn of(inner: Voltage<N>, resistance: Resistance<N>, power: Power<N>) -> Self {
        let (zero, least) = (N::from(0.0), LEAST_VOLTAGE.everywhere());
        let volts = inner.max(least).si();
        let under_root = volts * volts - N::from(4.0) * (resistance.si() * power.si());
        let root = under_root.max(zero).sqrt();
        Self {
            current: Current::from_si(N::from(2.0) * power.si() / (volts + root)),
            margin: (inner - least).si().min(under_root),
        }
    }
}

impl Circuit {
    /// The current that `load` draws at this instant, or `None` if it cannot be carried: see
    /// [`Drawn::of`] for a constant power.
    #[must_use]
    pub fn current(&self, load: Load, polarisation: Voltage) -> Option<Current> {
        let inner = self.open_circuit - polarisation;
        match load {
            Load::Current(current) => Some(current),
            Load::Power(power) => {
                let drawn = Drawn::of(inner, self.ohmic, power);
                (drawn.margin >= 0.0).then_some(drawn.current)
            }
            Load::Resistance(resistance) => Some(inner / (resistance + self.ohmic)),
        }
    }

    /// What is left of a polarisation in the mean over `span` if nothing is drawn, as a share.
    #[must_use]
    pub fn mean_decay(&self, span: Time) -> f64 {
        mean_decay(span / self.slow_time)
    }
}

impl<N: Number> Circuit<N> {
    /// The voltage at the terminals while `current` flows.
    #[cfg_attr(not(target_os = "none"), inline(always))]
    #[must_use]
    pub fn voltage(&self, current: Current<N>, polarisation: Voltage<N>) -> Voltage<N> {
        self.open_circuit - polarisation - self.ohmic * current
    }

    /// The polarisation after a span with this decay at a constant `current`.
    #[cfg_attr(not(target_os = "none"), inline(always))]
    #[must_use]
    pub fn relaxed(&self, polarisation: Voltage<N>, current: Current<N>, left: N) -> Voltage<N> {
        let settled = self.slow * current;
        settled + (polarisation - settled) * left
    }

    /// The polarisation after `span` at a constant `current`.
    #[cfg_attr(not(target_os = "none"), inline(always))]
    #[must_use]
    pub fn relax(&self, polarisation: Voltage<N>, current: Current<N>, span: Time) -> Voltage<N> {
        let left = Number::exp(-(span / self.slow_time));
        self.relaxed(polarisation, current, N::from(left))
    }

    /// The circuit that a load sees in the mean over a span.
    ///
    /// The mean polarisation that a current makes is `v m + R_slow (1 − m) I` with `m` the mean decay
    /// over the span, so the circuit acts as one with a polarisation `v m` and a resistance
    /// `R_ohmic + R_slow (1 − m)`.
    #[cfg_attr(not(target_os = "none"), inline(always))]
    #[must_use]
    pub fn in_the_mean(&self, mean_decay: N) -> Self {
        Self {
            ohmic: self.ohmic + self.slow * (N::from(1.0) - mean_decay),
            ..*self
        }
    }

    /// The polarisation averaged over a span with this mean decay at a constant `current`.
    #[cfg_attr(not(target_os = "none"), inline(always))]
    #[must_use]
    pub fn mean_polarisation(
        &self,
        polarisation: Voltage<N>,
        current: Current<N>,
        mean_decay: N,
    ) -> Voltage<N> {
        self.relaxed(polarisation, current, mean_decay)
    }

    /// What a constant `power` does over a span with this decay: its mean current and the mean
    /// polarisation that it makes belong to each other.
    #[cfg_attr(not(target_os = "none"), inline(always))]
    #[must_use]
    pub fn burst(&self, power: Power<N>, polarisation: Voltage<N>, decay: &Decay<N>) -> Carried<N> {
        let mean = self.in_the_mean(decay.mean);
        let inner = self.open_circuit - polarisation * decay.mean;
        let mean = Drawn::of(inner, mean.ohmic, power);
        let after = self.relaxed(polarisation, mean.current, decay.left);
        let last = Drawn::of(self.open_circuit - after, self.ohmic, power);
        Carried {
            mean: mean.current,
            last: last.current,
            mean_polarisation: self.mean_polarisation(polarisation, mean.current, decay.mean),
            polarisation: after,
            voltage: self.voltage(last.current, after),
            margin: mean.margin.min(last.margin),
        }
    }
}

/// `(1 − e^−x) / x`, the mean of a decay over `x` time constants; 1 at zero.
#[cfg_attr(not(target_os = "none"), inline(always))]
pub(crate) fn mean_decay<N: Number>(x: N) -> N {
    let short = x.below(N::from(1e-9));
    N::choose(short, N::from(1.0), -(-x).exp_m1() / x)
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
    fn a_source_of_next_to_no_voltage_drives_nothing() {
        let load = Load::Power(Power::from_watts(1e-6));
        let current = |volts: f64| {
            let circuit = Circuit {
                open_circuit: Voltage::from_volts(volts),
                ..CIRCUIT
            };
            circuit.current(load, Voltage::ZERO)
        };
        assert!(current(0.06).is_some() && current(0.05).is_some());
        assert_eq!(current(0.049), None);
        assert_eq!(current(-1.5), None);
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
