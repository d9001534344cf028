//! A voltage source behind a resistance that acts at once and branches that take their time.

use core::ops::{Add, Mul};

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

/// How many branches a circuit has beside what acts at once.
pub const BRANCHES: usize = 2;

/// A cell or a pack at one instant: Thevenin's circuit with branches of different time constants.
///
/// ```text
/// V = U − Σ v_i − b(I) − I R_ohmic      v_i relaxes towards I R_i with the time constant τ_i
/// ```
///
/// `v_i`, the polarisation, is the state of the branches and is kept by the caller.
/// Source: the equivalent circuit of several RC elements in the common form, for example Plett,
/// Battery Management Systems, volume 1, 2015, chapter 2 (from memory).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Circuit<N = f64> {
    /// `U`: the voltage with nothing connected and all polarisation gone.
    pub open_circuit: Voltage<N>,
    /// `R_ohmic`: acts at once.
    pub ohmic: Resistance<N>,
    /// `b(I)`: acts at once, and bends.
    pub overpotential: Overpotential<N>,
    /// `R_i`: each acts after some of its time constants.
    pub branches: [Resistance<N>; BRANCHES],
    /// `τ_i`: must be above zero.
    pub times: [Time; BRANCHES],
}

/// An activation overpotential: the first milliamperes cost most of it.
///
/// ```text
/// b(I) = B I / (I_half + |I|)
/// ```
///
/// The form is ours. Over the decade or two of current that points are published for it bends as the
/// inverse hyperbolic sine of Butler and Volmer's law does, and it needs a division alone.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[cfg_attr(
    feature = "serde",
    serde(bound(
        serialize = "Voltage<N>: serde::Serialize, Current<N>: serde::Serialize",
        deserialize = "Voltage<N>: serde::Deserialize<'de>, Current<N>: serde::Deserialize<'de>"
    ))
)]
pub struct Overpotential<N = f64> {
    /// `B`: what the largest currents cost; 0 for cells that do not bend.
    pub most: Voltage<N>,
    /// `I_half`: the current that costs half of it, above zero.
    pub half_at: Current<N>,
}

/// Voltage across each branch.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[cfg_attr(
    feature = "serde",
    serde(bound(
        serialize = "Voltage<N>: serde::Serialize",
        deserialize = "Voltage<N>: serde::Deserialize<'de>"
    ))
)]
pub struct Polarisation<N = f64>(pub [Voltage<N>; BRANCHES]);

/// How a polarisation decays over a span in which nothing is drawn.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Decay<N = f64> {
    /// Share that is left at the end, by branch.
    pub left: [N; BRANCHES],
    /// Share that is left in the mean over the span, by branch.
    pub mean: [N; BRANCHES],
}

/// What a constant power draws.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Drawn<N: Number = f64> {
    /// The current; some finite one where the power cannot be carried.
    pub current: Current<N>,
    /// The overpotential at that current.
    pub overpotential: Voltage<N>,
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
    /// What the circuit takes from the open-circuit voltage in the mean.
    pub mean_drop: Voltage<N>,
    /// Polarisation at the end.
    pub polarisation: Polarisation<N>,
    /// Voltage at the end, the lowest.
    pub voltage: Voltage<N>,
    /// Below 0 where the power cannot be carried throughout; no quantity.
    pub margin: N,
}

impl Polarisation {
    /// None.
    pub const NONE: Self = Self([Voltage::ZERO; BRANCHES]);

    /// The same for each of several seasons.
    #[inline(always)]
    #[must_use]
    pub fn everywhere<N: Number>(self) -> Polarisation<N> {
        Polarisation(every(self.0, |volts| volts.everywhere()))
    }
}

impl<N: Number> Polarisation<N> {
    /// All branches together.
    #[cfg_attr(not(target_os = "none"), inline(always))]
    #[must_use]
    pub fn total(&self) -> Voltage<N> {
        let [quick, slow] = self.0;
        quick + slow
    }

    /// What is left in the mean over a span with this decay, all branches together.
    #[cfg_attr(not(target_os = "none"), inline(always))]
    fn mean_left(&self, decay: &Decay<N>) -> Voltage<N> {
        Self(each(self.0, decay.mean, |volts, mean| volts * mean)).total()
    }

    /// `yes` where the mask is true, else `no`.
    #[inline(always)]
    #[must_use]
    pub fn choose(mask: N::Mask, yes: &Self, no: &Self) -> Self {
        Self(each(yes.0, no.0, |yes, no| Voltage::choose(mask, yes, no)))
    }

    /// That of a charge left out: branches that a charge has lifted count as none.
    #[inline(always)]
    #[must_use]
    pub fn of_draws(&self) -> Self {
        Self(every(self.0, |volts| volts.max(Voltage::ZERO.everywhere())))
    }
}

impl<N: Number> Add for Polarisation<N> {
    type Output = Self;
    #[cfg_attr(not(target_os = "none"), inline(always))]
    fn add(self, other: Self) -> Self {
        Self(each(self.0, other.0, |a, b| a + b))
    }
}

impl<N: Number> Mul<N> for Polarisation<N> {
    type Output = Self;
    #[cfg_attr(not(target_os = "none"), inline(always))]
    fn mul(self, times: N) -> Self {
        Self(every(self.0, |volts| volts * times))
    }
}

/// Branch by branch: what an array's own `map` does, which compilers leave out of line in long loops.
#[cfg_attr(not(target_os = "none"), inline(always))]
pub(crate) fn every<A, B>([first, second]: [A; BRANCHES], f: impl Fn(A) -> B) -> [B; BRANCHES] {
    [f(first), f(second)]
}

/// Branch by branch, of two.
#[cfg_attr(not(target_os = "none"), inline(always))]
pub(crate) fn each<A, B, C>(
    a: [A; BRANCHES],
    b: [B; BRANCHES],
    f: impl Fn(A, B) -> C,
) -> [C; BRANCHES] {
    let [a0, a1] = a;
    let [b0, b1] = b;
    [f(a0, b0), f(a1, b1)]
}

impl<N: Number> Decay<N> {
    /// Over a span in seconds, 0 or more.
    #[cfg_attr(not(target_os = "none"), inline(always))]
    #[must_use]
    pub fn over(seconds: N, times: &[Time; BRANCHES]) -> Self {
        let [quick, slow] = times;
        let constants = [
            seconds.per(quick.as_seconds()),
            seconds.per(slow.as_seconds()),
        ];
        let [quick, slow] = constants;
        let mean = [mean_decay(quick), mean_decay(slow)];
        // What is gone is the time constants times the mean of what is left.
        let [quick, slow] = each(constants, mean, |constants, mean| constants * mean);
        Self {
            left: [N::from(1.0) - quick, N::from(1.0) - slow],
            mean,
        }
    }
}

impl Decay {
    /// The same for each of several seasons.
    #[inline(always)]
    #[must_use]
    pub fn everywhere<N: Number>(self) -> Decay<N> {
        Decay {
            left: every(self.left, |left| N::from(left)),
            mean: every(self.mean, |mean| N::from(mean)),
        }
    }
}

impl Overpotential {
    /// That of a cell that does not bend.
    pub const NONE: Self = Self {
        most: Voltage::ZERO,
        half_at: Current::from_amperes(1.0),
    };

    /// The same for each of several seasons.
    #[inline(always)]
    #[must_use]
    pub fn everywhere<N: Number>(self) -> Overpotential<N> {
        Overpotential {
            most: self.most.everywhere(),
            half_at: self.half_at.everywhere(),
        }
    }
}

impl<N: Number> Overpotential<N> {
    /// The same where charge transfer is so many times as slow.
    #[cfg_attr(not(target_os = "none"), inline(always))]
    #[must_use]
    pub fn slowed(&self, times: N) -> Self {
        Self {
            half_at: self.half_at / times,
            ..*self
        }
    }

    /// At a `current` of 0 or more.
    #[cfg_attr(not(target_os = "none"), inline(always))]
    #[must_use]
    pub fn at(&self, current: Current<N>) -> Voltage<N> {
        self.most * (current / (self.half_at + current))
    }

    /// Near a `current` of 0 or more it is a voltage and a resistance: the tangent.
    #[cfg_attr(not(target_os = "none"), inline(always))]
    fn near(&self, current: Current<N>) -> (Voltage<N>, Resistance<N>) {
        let sum = self.half_at + current;
        let share = current / sum;
        let resistance = self.most / sum;
        (
            self.most * (share * share),
            resistance * (self.half_at / sum),
        )
    }
}

impl<N: Number> Drawn<N> {
    /// What `power` draws from a voltage `inner` behind a resistance and an overpotential.
    ///
    /// ```text
    /// I = (E − √(E² − 4 R P)) / (2 R) = 2 P / (E + √(E² − 4 R P))
    /// ```
    ///
    /// The second form keeps its digits when `R P` is small. No real root means that the
    /// source cannot give that power at any voltage. The overpotential is taken as its tangent where the
    /// current would be without any resistance: of a lithium cell that is good to 2 mV.
    #[cfg_attr(not(target_os = "none"), inline(always))]
    #[must_use]
    pub fn of(
        inner: Voltage<N>,
        (resistance, overpotential): (Resistance<N>, &Overpotential<N>),
        power: Power<N>,
    ) -> Self {
        let (zero, least) = (N::from(0.0), LEAST_VOLTAGE.everywhere());
        let (bent, more) = overpotential.near(power / inner.max(least));
        let (inner, resistance) = (inner - bent, resistance + more);
        let volts = inner.max(least).si();
        let under_root = volts * volts - N::from(4.0) * (resistance.si() * power.si());
        let root = under_root.max(zero).sqrt();
        let current = Current::from_si(N::from(2.0) * power.si() / (volts + root));
        Self {
            current,
            overpotential: bent + more * current,
            margin: (inner - least).si().min(under_root),
        }
    }
}

impl Circuit {
    /// The current that `load` draws at this instant, or `None` if it cannot be carried: see
    /// [`Drawn::of`] for a constant power.
    #[must_use]
    pub fn current(&self, load: Load, polarisation: &Polarisation) -> Option<Current> {
        let inner = self.open_circuit - polarisation.total();
        match load {
            Load::Current(current) => Some(current),
            Load::Power(power) => {
                let drawn = self.drawn(power, polarisation);
                (drawn.margin >= 0.0).then_some(drawn.current)
            }
            Load::Resistance(resistance) => {
                let all = resistance + self.ohmic;
                let (bent, more) = self.overpotential.near(inner.max(Voltage::ZERO) / all);
                Some((inner - bent) / (all + more))
            }
        }
    }

    /// So many of it one after another.
    #[must_use]
    pub fn in_series(&self, cells: f64) -> Self {
        Self {
            open_circuit: self.open_circuit * cells,
            ohmic: self.ohmic * cells,
            overpotential: Overpotential {
                most: self.overpotential.most * cells,
                ..self.overpotential
            },
            branches: self.branches.map(|resistance| resistance * cells),
            times: self.times,
        }
    }

    /// All resistances together: what a load sees that lasts.
    #[must_use]
    pub fn settled_resistance(&self) -> Resistance {
        let [quick, slow] = self.branches;
        self.ohmic + quick + slow
    }

    /// The shortest time constant of a branch that has a resistance, if any has.
    #[must_use]
    pub fn shortest_time(&self) -> Option<Time> {
        let branches = self.branches.iter().zip(self.times);
        let times = branches
            .filter_map(|(resistance, time)| (*resistance > Resistance::ZERO).then_some(time));
        times.reduce(Time::min)
    }
}

impl<N: Number> Circuit<N> {
    /// The voltage at the terminals while `current` flows; the overpotential works against currents of
    /// both signs.
    #[cfg_attr(not(target_os = "none"), inline(always))]
    #[must_use]
    pub fn voltage(&self, current: Current<N>, polarisation: &Polarisation<N>) -> Voltage<N> {
        let size = current.max(-current);
        let overpotential =
            self.overpotential.most * (current / (self.overpotential.half_at + size));
        self.open_circuit - polarisation.total() - overpotential - self.ohmic * current
    }

    /// What a constant `power` draws at this instant.
    #[cfg_attr(not(target_os = "none"), inline(always))]
    #[must_use]
    pub fn drawn(&self, power: Power<N>, polarisation: &Polarisation<N>) -> Drawn<N> {
        let inner = self.open_circuit - polarisation.total();
        Drawn::of(inner, (self.ohmic, &self.overpotential), power)
    }

    /// The polarisation after a span with this decay at a constant `current`.
    #[cfg_attr(not(target_os = "none"), inline(always))]
    #[must_use]
    pub fn relaxed(
        &self,
        polarisation: &Polarisation<N>,
        current: Current<N>,
        left: [N; BRANCHES],
    ) -> Polarisation<N> {
        let settled = every(self.branches, |resistance| resistance * current);
        let away = each(polarisation.0, settled, |volts, settled| volts - settled);
        let away = each(away, left, |away, left| away * left);
        Polarisation(each(settled, away, |settled, away| settled + away))
    }

    /// The polarisation after `span` at a constant `current`.
    #[cfg_attr(not(target_os = "none"), inline(always))]
    #[must_use]
    pub fn relax(
        &self,
        polarisation: &Polarisation<N>,
        current: Current<N>,
        span: Time,
    ) -> Polarisation<N> {
        let left = self.times.map(|time| Number::exp(-(span / time)));
        self.relaxed(polarisation, current, every(left, |left| N::from(left)))
    }

    /// The resistance that a load sees in the mean over a span with this decay.
    #[cfg_attr(not(target_os = "none"), inline(always))]
    fn in_the_mean(&self, decay: &Decay<N>) -> Resistance<N> {
        let acting = each(self.branches, decay.mean, |resistance, mean| {
            resistance * (N::from(1.0) - mean)
        });
        let [quick, slow] = acting;
        self.ohmic + quick + slow
    }

    /// What a constant `power` does over a span with this decay: its mean current and the mean
    /// polarisation that it makes belong to each other.
    ///
    /// The mean polarisation that a current makes is `v m + R (1 − m) I` with `m` the mean decay of a
    /// branch, so the circuit acts as one with a polarisation `v m` and a resistance
    /// `R_ohmic + Σ R (1 − m)`.
    #[cfg_attr(not(target_os = "none"), inline(always))]
    #[must_use]
    pub fn burst(
        &self,
        power: Power<N>,
        polarisation: &Polarisation<N>,
        decay: &Decay<N>,
    ) -> Carried<N> {
        let resistance = self.in_the_mean(decay);
        let left = polarisation.mean_left(decay);
        let inner = self.open_circuit - left;
        let mean = Drawn::of(inner, (resistance, &self.overpotential), power);
        let after = self.relaxed(polarisation, mean.current, decay.left);
        let last = self.drawn(power, &after);
        Carried {
            mean: mean.current,
            last: last.current,
            mean_drop: left + resistance * mean.current + mean.overpotential,
            polarisation: after,
            voltage: self.open_circuit
                - after.total()
                - self.ohmic * last.current
                - last.overpotential,
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
    use crate::cell::catalogue::CATALOGUE;
    use crate::units::Temperature;
    use proptest::prelude::*;

    proptest! {
        /// A longer event never has a higher lowest voltage: of any cell, temperature, depth and power that
        /// both can carry.
        #[test]
        fn a_longer_burst_ends_no_higher(
            cell in 0..CATALOGUE.len(),
            celsius in -40.0..40.0_f64,
            depth in 0.0..0.95_f64,
            share in 0.001..0.8_f64,
            seconds in 0.01..600.0_f64,
            longer in 1.0..20.0_f64,
        ) {
            let cell = &CATALOGUE[cell].cell;
            let mut state = cell.full();
            state.wells = state.wells.scaled(1.0 - depth);
            let circuit = cell.at(Temperature::from_celsius(celsius)).circuit(&state);
            // Of what the settled cell could carry at most: U² / (4 R).
            let volts = (circuit.open_circuit - circuit.overpotential.most).as_volts();
            let watts = share * volts * volts / (4.0 * circuit.settled_resistance().as_ohms());
            let burst = |seconds: f64| {
                let decay = Decay::over(seconds, &circuit.times);
                circuit.burst(Power::from_watts(watts), &Polarisation::NONE, &decay)
            };
            let (short, long) = (burst(seconds), burst(seconds * longer));
            prop_assume!(short.margin >= 0.0 && long.margin >= 0.0);
            prop_assert!(
                long.voltage <= short.voltage + Voltage::from_volts(1e-9),
                "{:?} {:?}",
                short.voltage,
                long.voltage
            );
        }
    }

    const CIRCUIT: Circuit = Circuit {
        open_circuit: Voltage::from_volts(1.5),
        ohmic: Resistance::from_ohms(0.2),
        overpotential: Overpotential::NONE,
        branches: [Resistance::from_ohms(0.05), Resistance::from_ohms(0.3)],
        times: [Time::from_seconds(0.2), Time::from_seconds(30.0)],
    };

    #[test]
    fn power_load_takes_the_smaller_root() {
        let load = Load::Power(Power::from_watts(1.0));
        let current = CIRCUIT.current(load, &Polarisation::NONE).unwrap();
        let power = CIRCUIT.voltage(current, &Polarisation::NONE) * current;
        assert!((power.as_watts() - 1.0).abs() < 1e-12, "{power:?}");
        assert!(current.as_amperes() < 1.5 / 0.4, "{current:?}");
    }

    #[test]
    fn more_power_than_the_matched_load_cannot_be_carried() {
        // U² / (4 R) = 2.8125 W at the most.
        let current =
            |watts| CIRCUIT.current(Load::Power(Power::from_watts(watts)), &Polarisation::NONE);
        assert!(current(2.81).is_some());
        assert!(current(2.82).is_none());
    }

    #[test]
    fn a_source_of_next_to_no_voltage_drives_nothing() {
        let load = Load::Power(Power::from_watts(1e-6));
        let current = |volts: f64| {
            let circuit = Circuit {
                open_circuit: Voltage::from_volts(volts),
                ..CIRCUIT
            };
            circuit.current(load, &Polarisation::NONE)
        };
        assert!(current(0.06).is_some() && current(0.05).is_some());
        assert_eq!(current(0.049), None);
        assert_eq!(current(-1.5), None);
    }

    #[test]
    fn polarisation_settles_branch_by_branch() {
        let amp = Current::from_amperes(1.0);
        let after = |seconds| {
            let settled = CIRCUIT.relax(&Polarisation::NONE, amp, Time::from_seconds(seconds));
            settled.total().as_volts()
        };
        let expected = |seconds: f64| {
            let branches = [(0.05, 0.2), (0.3, 30.0)];
            branches
                .iter()
                .map(|(ohms, time)| ohms * (1.0 - (-seconds / time).exp()))
                .sum::<f64>()
        };
        for seconds in [0.1, 0.25, 15.0, 600.0, 1e5] {
            assert!(
                (after(seconds) - expected(seconds)).abs() < 1e-12,
                "{seconds}"
            );
        }
    }

    /// A flash, a video and an upload meet different resistances: the longer, the lower the voltage.
    #[test]
    fn a_longer_burst_ends_lower() {
        let lowest = |seconds: f64| {
            let decay = Decay::over(seconds, &CIRCUIT.times);
            let carried = CIRCUIT.burst(Power::from_watts(0.8), &Polarisation::NONE, &decay);
            assert!(carried.margin >= 0.0, "{seconds}");
            carried.voltage.as_volts()
        };
        let [flash, video, upload] = [0.25, 15.0, 25.0].map(lowest);
        assert!(
            upload < video - 0.02 && video < flash - 0.05,
            "{flash} {video} {upload}"
        );
    }

    /// Half of it at half; and the tangent is good to 2 mV where the current is up to a fifth more than
    /// that at which it is taken.
    #[test]
    fn an_overpotential_bends_and_its_tangent_follows() {
        let bending = Overpotential {
            most: Voltage::from_volts(0.2),
            half_at: Current::from_milliamperes(30.0),
        };
        let at = |ma| bending.at(Current::from_milliamperes(ma)).as_volts();
        assert!((at(30.0) - 0.1).abs() < 1e-12 && (at(270.0) - 0.18).abs() < 1e-12);
        for ma in [0.1, 3.0, 30.0, 300.0, 1500.0] {
            for over in [0.85, 1.0, 1.2] {
                let (bent, more) = bending.near(Current::from_milliamperes(ma));
                let tangent = bent + more * Current::from_milliamperes(ma * over);
                let off = tangent.as_volts() - at(ma * over);
                assert!(off.abs() < 2e-3, "{ma} {over}: {off}");
            }
        }
    }
}
