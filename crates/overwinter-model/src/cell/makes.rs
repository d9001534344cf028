//! How cells that are sold under one name differ, and how well they are known where nobody has measured
//! them.

use super::{Asked, Cell, Tested};
use crate::number::Number;
use crate::units::{Current, Temperature, Time, Voltage};

/// How makes of one kind of cell differ from the median make: one standard deviation each.
///
/// Capacities and resistances differ by factors, `e^(s z)`. All zero where the cell is a bought one that
/// was tested itself.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct Makes {
    /// Of the logarithm of the capacity.
    #[cfg_attr(feature = "serde", serde(with = "crate::decimal"))]
    pub capacity: f64,
    /// Of the logarithm of every resistance.
    #[cfg_attr(feature = "serde", serde(with = "crate::decimal"))]
    pub resistance: f64,
    /// How the two go together, -1 to 1: below zero, a make that holds more has less resistance.
    #[cfg_attr(feature = "serde", serde(with = "crate::decimal"))]
    pub correlation: f64,
    /// Of the open-circuit voltage.
    pub open_circuit: Voltage,
}

impl Makes {
    /// The capacity that one make in ten falls below, over that of the median make.
    #[must_use]
    pub fn one_in_ten(&self) -> f64 {
        /// The tenth of ten of the standard normal law (tables).
        const TENTH: f64 = -1.281_55;
        libm::exp(TENTH * self.capacity)
    }

    /// All alike.
    pub const ALIKE: Self = Self {
        capacity: 0.0,
        resistance: 0.0,
        correlation: 0.0,
        open_circuit: Voltage::ZERO,
    };
}

/// How far off a cell may be where no published point reaches: standard deviations of logarithms one step
/// away from the points, in proportion to the way. A judgement and not a measurement.
///
/// A step is from 20 to -20 °C in `1/T`, a current ten times as heavy, or a pulse of a tenth of the length.
/// Steps in different directions add up as the sides of a right-angled triangle.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct BeyondPoints {
    /// Of every resistance. No pulse of 0.5 A or more is published below 20 °C for any cell of the
    /// catalogue, so the way begins there.
    #[cfg_attr(feature = "serde", serde(with = "crate::decimal"))]
    pub resistance: f64,
    /// Of the charge within reach. The way begins where constant loads end: see [`Tested`].
    #[cfg_attr(feature = "serde", serde(with = "crate::decimal"))]
    pub reach: f64,
}

impl BeyondPoints {
    /// Known everywhere.
    pub const NOWHERE: Self = Self {
        resistance: 0.0,
        reach: 0.0,
    };
}

/// 20 and 0 °C as `1/T`, and the step from 20 to -20 °C.
const AT_20_C: f64 = 1.0 / 293.15;
const AT_0_C: f64 = 1.0 / 273.15;
const STEP: f64 = 1.0 / 253.15 - AT_20_C;

/// The shortest pulses that sheets show (L91-1222, in `datasheets-notes`).
const SHORTEST_PULSE: Time = Time::from_seconds(0.25);

/// Farther than so many steps nothing is told apart.
const MOST_STEPS: f64 = 3.0;

/// A load on a cell against the points, in steps.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Beyond<N = f64> {
    /// How much heavier it is than the points at room temperature and in frost; below zero if lighter.
    pub(crate) heavier: N,
    pub(crate) heavier_in_frost: N,
    /// How far beyond published pulses it is at 20 °C, squared.
    pub(crate) pulse: N,
    /// The coldest constant load, as `1/T`.
    pub(crate) coldest: N,
}

impl Cell {
    /// How far off it may be under what a run asked of it, at its heaviest load in the coldest hour and in
    /// pulses as short as sheets show: standard deviations of logarithms.
    #[must_use]
    pub fn beyond(&self, asked: &Asked) -> BeyondPoints {
        let in_frost = asked.heaviest_in_frost > Current::ZERO;
        let current = if in_frost {
            asked.heaviest_in_frost
        } else {
            asked.heaviest
        };
        let steps = Beyond::of(&self.tested, current, SHORTEST_PULSE).at(asked.coldest);
        BeyondPoints {
            resistance: steps.resistance * self.beyond_points.resistance,
            reach: steps.reach * self.beyond_points.reach,
        }
    }
}

/// Steps away from the points.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Steps<N = f64> {
    /// From those that tell a resistance.
    pub resistance: N,
    /// From those that tell what charge is within reach.
    pub reach: N,
}

impl Beyond {
    /// Nothing is asked.
    pub(crate) const NOWHERE: Self = Self {
        heavier: -MOST_STEPS,
        heavier_in_frost: -MOST_STEPS,
        pulse: 0.0,
        coldest: f64::INFINITY,
    };

    /// A `current` into one cell that comes in pulses of `span`.
    #[must_use]
    pub fn of(tested: &Tested, current: Current, span: Time) -> Self {
        let tenfold = |ratio: f64| {
            let steps = libm::log(ratio) / core::f64::consts::LN_10;
            steps.clamp(-MOST_STEPS, MOST_STEPS)
        };
        let over = |points: Current| tenfold(current / points);
        let heavier = over(tested.heaviest);
        let shorter = tenfold(SHORTEST_PULSE / span).max(0.0);
        let heavier_pulse = heavier.max(0.0);
        Self {
            heavier,
            heavier_in_frost: over(tested.heaviest_in_frost),
            pulse: heavier_pulse * heavier_pulse + shorter * shorter,
            coldest: 1.0 / tested.coldest.as_kelvin(),
        }
    }
}

impl<N: Number> Beyond<N> {
    /// How far it is at a temperature. Between 20 and 0 °C what is heavier goes over into what is heavier in
    /// frost.
    #[cfg_attr(not(target_os = "none"), inline(always))]
    #[must_use]
    pub fn at(&self, temperature: Temperature<N>) -> Steps<N> {
        let zero = N::from(0.0);
        let inverse = N::from(1.0) / temperature.si();
        let colder_than = |from: N| ((inverse - from) * N::from(1.0 / STEP)).max(zero);
        let at_20_c = N::from(AT_20_C);
        let frost = colder_than(at_20_c) * N::from(STEP / (AT_0_C - AT_20_C));
        let frost = frost.min(N::from(1.0));
        let more_in_frost = self.heavier_in_frost - self.heavier;
        let heavier = (self.heavier + more_in_frost * frost).max(zero);
        let (colder, cold) = (colder_than(self.coldest), colder_than(at_20_c));
        Steps {
            resistance: (cold * cold + self.pulse).sqrt(),
            reach: (heavier * heavier + colder * colder).sqrt(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const TESTED: Tested = Tested {
        coldest: Temperature::from_celsius(-16.0),
        warmest: Temperature::from_celsius(22.0),
        heaviest: Current::from_milliamperes(1000.0),
        heaviest_in_frost: Current::from_milliamperes(100.0),
    };

    fn steps(ma: f64, seconds: f64, celsius: f64) -> Steps {
        let current = Current::from_milliamperes(ma);
        let beyond = Beyond::of(&TESTED, current, Time::from_seconds(seconds));
        beyond.at(Temperature::from_celsius(celsius))
    }

    #[test]
    fn nothing_is_doubted_where_points_are() {
        let here = steps(900.0, 0.3, 20.0);
        assert!(here.resistance.abs() + here.reach.abs() < 1e-12);
        assert!(steps(90.0, 60.0, -15.9).reach.abs() < 1e-12);
    }

    #[test]
    fn a_step_is_what_it_is_called() {
        let is_one = |steps: f64| assert!((steps - 1.0).abs() < 1e-12, "{steps}");
        is_one(steps(1000.0, 0.25, -20.0).resistance);
        is_one(steps(1000.0, 0.025, 20.0).resistance);
        is_one(steps(10_000.0, 0.25, 20.0).resistance);
        is_one(steps(1000.0, 0.25, -5.0).reach);
    }

    /// Alkaline at -5 °C and 0.5 A is better known than at -25 °C and 1.4 A.
    #[test]
    fn the_farther_the_less_is_known() {
        let (near, far) = (steps(500.0, 0.25, -5.0), steps(1400.0, 0.25, -25.0));
        assert!(near.resistance < 0.7 * far.resistance && near.reach < 0.7 * far.reach);
    }

    #[test]
    fn a_load_without_points_in_frost_is_far_but_not_infinitely() {
        let none = Tested {
            heaviest_in_frost: Current::ZERO,
            ..TESTED
        };
        let amp = Current::from_amperes(1.0);
        let steps =
            Beyond::of(&none, amp, Time::from_seconds(0.25)).at(Temperature::from_celsius(-5.0));
        assert!((steps.reach - MOST_STEPS).abs() < 1e-12);
    }
}
