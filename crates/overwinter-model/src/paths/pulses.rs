//! Events in lanes: the charge that one draws, and how low it pulls the voltage.

use heapless::Vec;

use super::failures::any;
use crate::circuit::{Circuit, Decay};
use crate::draw::{Burst, Event, MAX_BURSTS, Pull, Pulse, Upload};
use crate::lanes::Lanes;
use crate::number::Number;
use crate::units::{Charge, Power, Time, Voltage};

/// One string as its loads see it.
#[derive(Clone, Copy)]
pub(super) struct Standing<const L: usize> {
    pub(super) circuit: Circuit<Lanes<L>>,
    pub(super) polarisation: Voltage<Lanes<L>>,
}

/// An event with all that does not move from day to day worked out.
pub(super) struct LaneEvent {
    pulls: Vec<Pull, MAX_BURSTS>,
    /// Largest power.
    pub(super) peak: Power,
    /// Largest sum of what earlier bursts have left across 1 ohm of slow resistance, as a power.
    slow_peak: Power,
}

/// Something that pulls a string's voltage down.
pub(super) trait Pulling<const L: usize> {
    /// A lower bound of the voltage under it, right wherever it is above `limit`.
    ///
    /// While the voltage keeps above the limit no current exceeds power over limit, so neither
    /// resistance takes more than that current makes of it.
    fn surely_above(
        &self,
        standing: &Standing<L>,
        times_power: Lanes<L>,
        limit: Voltage<Lanes<L>>,
    ) -> Voltage<Lanes<L>>;

    /// What it does, once.
    fn pulse(&self, standing: &Standing<L>, times_power: Lanes<L>) -> Pulse<Lanes<L>>;
}

impl LaneEvent {
    /// `event` at one of `strings` strings, whose slow resistance takes `slow_time`.
    pub(super) fn new(event: &Event, strings: f64, slow_time: Time) -> Self {
        let mut pulls = Vec::new();
        let (mut peak, mut left, mut slow_peak) = (Power::ZERO, Power::ZERO, Power::ZERO);
        for burst in event.bursts() {
            let pull = Pull::of(burst, strings, slow_time);
            peak = peak.max(pull.power);
            left = left * pull.decay.left + pull.power * (1.0 - pull.decay.left);
            slow_peak = slow_peak.max(left);
            // As many as the event itself has room for.
            let _ = pulls.push(pull);
        }
        Self {
            pulls,
            peak,
            slow_peak,
        }
    }
}

impl Pull {
    /// The same in lanes whose cameras draw so many times as much.
    #[inline(always)]
    fn times<const L: usize>(&self, times_power: Lanes<L>) -> Pull<Lanes<L>> {
        Pull {
            power: self.power.everywhere() * times_power,
            span: self.span.everywhere(),
            decay: self.decay.everywhere(),
        }
    }
}

impl<const L: usize> Pulling<L> for LaneEvent {
    #[inline(always)]
    fn surely_above(
        &self,
        standing: &Standing<L>,
        times_power: Lanes<L>,
        limit: Voltage<Lanes<L>>,
    ) -> Voltage<Lanes<L>> {
        standing.at_least(self.peak, self.slow_peak, times_power, limit)
    }

    #[inline(always)]
    fn pulse(&self, standing: &Standing<L>, times_power: Lanes<L>) -> Pulse<Lanes<L>> {
        let Standing {
            circuit,
            polarisation,
        } = standing;
        let mut pulse = Pulse::at_rest(circuit, *polarisation);
        for pull in &self.pulls {
            pulse.add(circuit, &pull.times(times_power));
        }
        pulse
    }
}

/// An upload: a session, then as many pictures as there are.
pub(super) struct LaneUpload {
    session: Pull,
    picture: Burst,
    strings: f64,
}

impl LaneUpload {
    /// `upload` at one of `strings` strings, whose slow resistance takes `slow_time`.
    pub(super) fn new(upload: &Upload, strings: f64, slow_time: Time) -> Self {
        Self {
            session: Pull::of(&upload.session, strings, slow_time),
            picture: upload.picture,
            strings,
        }
    }

    /// Largest power.
    pub(super) fn peak(&self) -> Power {
        self.session.power.max(self.picture_power())
    }

    fn picture_power(&self) -> Power {
        self.picture.total() / self.strings
    }
}

/// One session with so many pictures.
pub(super) struct Session<'a, const L: usize> {
    pub(super) upload: &'a LaneUpload,
    pub(super) pictures: Lanes<L>,
}

impl<const L: usize> Pulling<L> for Session<'_, L> {
    #[inline(always)]
    fn surely_above(
        &self,
        standing: &Standing<L>,
        times_power: Lanes<L>,
        limit: Voltage<Lanes<L>>,
    ) -> Voltage<Lanes<L>> {
        let peak = self.upload.peak();
        standing.at_least(peak, peak, times_power, limit)
    }

    #[inline(always)]
    fn pulse(&self, standing: &Standing<L>, times_power: Lanes<L>) -> Pulse<Lanes<L>> {
        let Standing {
            circuit,
            polarisation,
        } = standing;
        let span: Time<Lanes<L>> = self.upload.picture.span.everywhere() * self.pictures;
        let pictures = Pull {
            power: self.upload.picture_power().everywhere() * times_power,
            span,
            decay: Decay::over(span.si().per(circuit.slow_time.as_seconds())),
        };
        let mut pulse = Pulse::at_rest(circuit, *polarisation);
        pulse.add(circuit, &self.upload.session.times(times_power));
        pulse.add(circuit, &pictures);
        pulse
    }
}

/// How far the charge of a block may be put right: beyond, the cell is at its end anyway.
const MOST_RIGHTING: f64 = 1.25;

impl<const L: usize> Standing<L> {
    /// By how much a charge changes that was worked out at this voltage, if the voltage turns out
    /// another: powers are constant, so in inverse proportion.
    #[inline(always)]
    pub(super) fn over(&self, open_circuit: Voltage<Lanes<L>>) -> Lanes<L> {
        let least = crate::circuit::LEAST_VOLTAGE.everywhere();
        let inner = open_circuit - self.polarisation;
        let taken_for = self.circuit.open_circuit - self.polarisation;
        (taken_for / inner.max(least))
            .max(Lanes::all(1.0 / MOST_RIGHTING))
            .min(Lanes::all(MOST_RIGHTING))
    }

    /// The least voltage that is left by a peak power and by what the slow resistance sees at most.
    #[inline(always)]
    fn at_least(
        &self,
        peak: Power,
        slow_peak: Power,
        times_power: Lanes<L>,
        limit: Voltage<Lanes<L>>,
    ) -> Voltage<Lanes<L>> {
        let Circuit {
            open_circuit,
            ohmic,
            slow,
            ..
        } = self.circuit;
        let drops = ohmic.si() * peak.as_watts() + slow.si() * slow_peak.as_watts();
        let drop = Voltage::from_si(drops * times_power / limit.si());
        open_circuit - self.polarisation - drop
    }
}

/// Adds the charge of an event that comes so many `times`, a share of them on the pack. Most blocks have
/// events that do not come at all, or that a store takes: those are not worked out.
#[inline(always)]
pub(super) fn add_charge<const L: usize>(
    sum: &mut Charge<Lanes<L>>,
    event: &impl Pulling<L>,
    (standing, times_power): (&Standing<L>, Lanes<L>),
    times: Lanes<L>,
    on_pack: Lanes<L>,
) {
    if any(times * on_pack) {
        *sum += event.pulse(standing, times_power).charge * times;
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::Use;
    use crate::units::Resistance;

    /// What bursts leave across 1 ohm goes half of the way to each in turn, if each takes half of the
    /// time that a decay takes: 2 W leave 1 W, 1 W after it keeps 1 W, and 0.2 W after that leave 0.6 W.
    #[test]
    fn what_bursts_leave_across_a_slow_resistance_decays_under_the_next() {
        let slow_time = Time::from_seconds(10.0);
        let half = slow_time * core::f64::consts::LN_2;
        let slow_peak = |watts: &[f64]| {
            let mut event = Event::default();
            for watts in watts {
                let burst = Burst {
                    span: half,
                    power: Power::from_watts(*watts * 2.0),
                    what: Use::DayPictures,
                    flash: Power::ZERO,
                };
                event.push(burst).unwrap();
            }
            // Two strings share it.
            LaneEvent::new(&event, 2.0, slow_time).slow_peak.as_watts()
        };
        for (bursts, expected) in [
            (&[2.0][..], 1.0),
            (&[2.0, 1.0], 1.0),
            (&[2.0, 1.0, 0.2], 1.0),
            (&[0.2, 2.0], 1.05),
            (&[2.0, 4.0], 2.5),
        ] {
            let peak = slow_peak(bursts);
            assert!((peak - expected).abs() < 1e-12, "{bursts:?} {peak}");
        }
    }

    /// 4 V were taken for the voltage behind a polarisation of 1 V.
    #[test]
    fn a_charge_is_put_right_by_a_quarter_at_most() {
        let lanes = |volts: [f64; 6]| Voltage::from_si(Lanes(volts));
        let ohm = Resistance::from_ohms(1.0).everywhere();
        let standing = Standing {
            circuit: Circuit {
                open_circuit: lanes([5.0; 6]),
                ohmic: ohm,
                slow: ohm,
                slow_time: Time::from_seconds(10.0),
            },
            polarisation: lanes([1.0; 6]),
        };
        let over = standing.over(lanes([5.0, 4.2, 4.0, 6.0, 9.0, 0.0]));
        assert_eq!(over, Lanes([1.0, 1.25, 1.25, 0.8, 0.8, 1.25]));
    }
}
