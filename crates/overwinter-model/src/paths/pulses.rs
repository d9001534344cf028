//! Events in lanes: the charge that one draws, and how low it pulls the voltage.

use heapless::Vec;

use super::failures::any;
use crate::circuit::{BRANCHES, Circuit, Decay, Polarisation, each};
use crate::draw::{Burst, Event, MAX_BURSTS, Pull, Pulse, Upload};
use crate::lanes::Lanes;
use crate::number::Number;
use crate::units::{Charge, Current, Power, Time, Voltage};

/// One string as its loads see it.
#[derive(Clone, Copy)]
pub(super) struct Standing<const L: usize> {
    pub(super) circuit: Circuit<Lanes<L>>,
    pub(super) polarisation: Polarisation<Lanes<L>>,
}

/// An event with all that does not move from day to day worked out.
pub(super) struct LaneEvent {
    pulls: Vec<Pull, MAX_BURSTS>,
    /// Largest power.
    pub(super) peak: Power,
    /// Largest sum of what bursts have left across 1 ohm of each branch, as a power.
    branch_peaks: [Power; BRANCHES],
}

/// Something that pulls a string's voltage down.
pub(super) trait Pulling<const L: usize> {
    /// A lower bound of the voltage under it, right wherever it is above `limit`.
    ///
    /// While the voltage keeps above the limit no current exceeds power over limit, so no resistance
    /// takes more than that current makes of it.
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
    /// `event` at one of `strings` strings, whose branches take so long.
    pub(super) fn new(event: &Event, strings: f64, times: &[Time; BRANCHES]) -> Self {
        let mut pulls = Vec::new();
        let mut peak = Power::ZERO;
        let (mut left, mut branch_peaks) = ([Power::ZERO; BRANCHES], [Power::ZERO; BRANCHES]);
        for burst in event.bursts() {
            let pull = Pull::of(burst, strings, times);
            peak = peak.max(pull.power);
            left = each(left, pull.decay.left, |before, left| {
                before * left + pull.power * (1.0 - left)
            });
            branch_peaks = each(branch_peaks, left, Power::max);
            // As many as the event itself has room for.
            let _ = pulls.push(pull);
        }
        Self {
            pulls,
            peak,
            branch_peaks,
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
        standing.at_least(self.peak, &self.branch_peaks, times_power, limit)
    }

    #[inline(always)]
    fn pulse(&self, standing: &Standing<L>, times_power: Lanes<L>) -> Pulse<Lanes<L>> {
        let Standing {
            circuit,
            polarisation,
        } = standing;
        let mut pulse = Pulse::at_rest(circuit, polarisation);
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
    /// `upload` at one of `strings` strings, whose branches take so long.
    pub(super) fn new(upload: &Upload, strings: f64, times: &[Time; BRANCHES]) -> Self {
        Self {
            session: Pull::of(&upload.session, strings, times),
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
        standing.at_least(peak, &[peak; BRANCHES], times_power, limit)
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
            decay: Decay::over(span.si(), &circuit.times),
        };
        let mut pulse = Pulse::at_rest(circuit, polarisation);
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
        let polarisation = self.polarisation.total();
        let inner = open_circuit - polarisation;
        let taken_for = self.circuit.open_circuit - polarisation;
        (taken_for / inner.max(least))
            .max(Lanes::all(1.0 / MOST_RIGHTING))
            .min(Lanes::all(MOST_RIGHTING))
    }

    /// The least voltage that is left by a peak power and by what each branch sees at most.
    #[inline(always)]
    fn at_least(
        &self,
        peak: Power,
        branch_peaks: &[Power; BRANCHES],
        times_power: Lanes<L>,
        limit: Voltage<Lanes<L>>,
    ) -> Voltage<Lanes<L>> {
        let circuit = &self.circuit;
        let mut drops = circuit.ohmic.si() * peak.as_watts();
        for (branch, peak) in circuit.branches.iter().zip(branch_peaks) {
            drops += branch.si() * peak.as_watts();
        }
        let amperes = times_power / limit.si();
        let largest = Current::from_si(amperes * peak.as_watts());
        let drop = Voltage::from_si(drops * amperes) + circuit.overpotential.at(largest);
        circuit.open_circuit - self.polarisation.total() - drop
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
    use crate::circuit::Overpotential;
    use crate::draw::Use;
    use crate::units::Resistance;

    /// What bursts leave across 1 ohm goes half of the way to each in turn, if each takes half of the
    /// time that a decay takes: 2 W leave 1 W, 1 W after it keeps 1 W, and 0.2 W after that leave 0.6 W.
    #[test]
    fn what_bursts_leave_across_a_branch_decays_under_the_next() {
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
            // The other takes no time.
            let times = [1e-6, 10.0].map(Time::from_seconds);
            let event = LaneEvent::new(&event, 2.0, &times);
            let [at_once, slow] = event.branch_peaks;
            assert_eq!(at_once, event.peak);
            slow.as_watts()
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
                overpotential: Overpotential::NONE.everywhere(),
                branches: [ohm; BRANCHES],
                times: [Time::from_seconds(10.0); BRANCHES],
            },
            polarisation: Polarisation([0.5, 0.5].map(|volts| lanes([volts; 6]))),
        };
        let over = standing.over(lanes([5.0, 4.2, 4.0, 6.0, 9.0, 0.0]));
        assert_eq!(over, Lanes([1.0, 1.25, 1.25, 0.8, 0.8, 1.25]));
    }
}
