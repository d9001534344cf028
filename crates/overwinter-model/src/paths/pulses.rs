//! Events in lanes: the charge that one draws, and how low it pulls the voltage.

use heapless::Vec;

use super::failures::any;
use crate::circuit::{BRANCHES, Circuit, Polarisation, each};
use crate::draw::{MAX_BURSTS, Pull, Pulse};
use crate::lanes::Lanes;
use crate::number::Number;
use crate::units::{Charge, Current, Power, Time, Voltage};

/// A power of one string for a while.
#[derive(Clone, Copy)]
pub(super) struct LaneBurst<const L: usize> {
    pub(super) power: Power<Lanes<L>>,
    pub(super) span: Time<Lanes<L>>,
}

/// One string as its loads see it.
#[derive(Clone, Copy)]
pub(super) struct Standing<const L: usize> {
    pub(super) circuit: Circuit<Lanes<L>>,
    pub(super) polarisation: Polarisation<Lanes<L>>,
}

/// An event of each lane's camera, with all that does not move from day to day worked out.
pub(super) struct LaneEvent<const L: usize> {
    pulls: Vec<Pull<Lanes<L>>, MAX_BURSTS>,
    /// Largest power.
    peak: Power<Lanes<L>>,
    /// Largest sum of what bursts have left across 1 ohm of each branch, as a power.
    branch_peaks: [Power<Lanes<L>>; BRANCHES],
}

/// Something that pulls a string's voltage down.
pub(super) trait Pulling<const L: usize> {
    /// A lower bound of the voltage under it, right wherever it is above `limit`.
    ///
    /// While the voltage keeps above the limit no current exceeds power over limit, so no resistance
    /// takes more than that current makes of it.
    fn surely_above(&self, standing: &Standing<L>, limit: Voltage<Lanes<L>>) -> Voltage<Lanes<L>>;

    /// What it does, once.
    fn pulse(&self, standing: &Standing<L>) -> Pulse<Lanes<L>>;
}

impl<const L: usize> LaneEvent<L> {
    /// Bursts one after another at a string whose branches take so long.
    pub(super) fn new(
        bursts: impl Iterator<Item = LaneBurst<L>>,
        times: &[Time; BRANCHES],
    ) -> Self {
        let none = Power::ZERO.everywhere();
        let mut pulls = Vec::new();
        let mut peak = none;
        let (mut left, mut branch_peaks) = ([none; BRANCHES], [none; BRANCHES]);
        for LaneBurst { power, span } in bursts {
            let pull = Pull::over(power, span, times);
            peak = peak.max(power);
            left = each(left, pull.decay.left, |before, left| {
                before * left + power * (Lanes::all(1.0) - left)
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

impl<const L: usize> Pulling<L> for LaneEvent<L> {
    #[inline(always)]
    fn surely_above(&self, standing: &Standing<L>, limit: Voltage<Lanes<L>>) -> Voltage<Lanes<L>> {
        standing.at_least(self.peak, &self.branch_peaks, limit)
    }

    #[inline(always)]
    fn pulse(&self, standing: &Standing<L>) -> Pulse<Lanes<L>> {
        let Standing {
            circuit,
            polarisation,
        } = standing;
        let mut pulse = Pulse::at_rest(circuit, polarisation);
        for pull in &self.pulls {
            pulse.add(circuit, pull);
        }
        pulse
    }
}

/// An upload of each lane's camera: a session, then as many pictures as there are.
pub(super) struct LaneUpload<const L: usize> {
    session: Pull<Lanes<L>>,
    picture: LaneBurst<L>,
}

impl<const L: usize> LaneUpload<L> {
    /// At a string whose branches take so long.
    pub(super) fn new(
        session: LaneBurst<L>,
        picture: LaneBurst<L>,
        times: &[Time; BRANCHES],
    ) -> Self {
        Self {
            session: Pull::over(session.power, session.span, times),
            picture,
        }
    }
}

/// One session with so many pictures.
pub(super) struct Session<'a, const L: usize> {
    pub(super) upload: &'a LaneUpload<L>,
    pub(super) pictures: Lanes<L>,
}

impl<const L: usize> Pulling<L> for Session<'_, L> {
    #[inline(always)]
    fn surely_above(&self, standing: &Standing<L>, limit: Voltage<Lanes<L>>) -> Voltage<Lanes<L>> {
        let peak = self.upload.session.power.max(self.upload.picture.power);
        standing.at_least(peak, &[peak; BRANCHES], limit)
    }

    #[inline(always)]
    fn pulse(&self, standing: &Standing<L>) -> Pulse<Lanes<L>> {
        let Standing {
            circuit,
            polarisation,
        } = standing;
        let LaneBurst { power, span } = self.upload.picture;
        let pictures = Pull::over(power, span * self.pictures, &circuit.times);
        let mut pulse = Pulse::at_rest(circuit, polarisation);
        pulse.add(circuit, &self.upload.session);
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
        peak: Power<Lanes<L>>,
        branch_peaks: &[Power<Lanes<L>>; BRANCHES],
        limit: Voltage<Lanes<L>>,
    ) -> Voltage<Lanes<L>> {
        let circuit = &self.circuit;
        let mut drops = circuit.ohmic.si() * peak.si();
        for (branch, peak) in circuit.branches.iter().zip(branch_peaks) {
            drops += branch.si() * peak.si();
        }
        let per_watt = Lanes::all(1.0) / limit.si();
        let largest = Current::from_si(peak.si() * per_watt);
        let drop = Voltage::from_si(drops * per_watt) + circuit.overpotential.at(largest);
        circuit.open_circuit - self.polarisation.total() - drop
    }
}

/// Adds the charge of an event that comes so many `times`, a share of them on the pack. Most blocks have
/// events that do not come at all, or that a store takes: those are not worked out.
#[inline(always)]
pub(super) fn add_charge<const L: usize>(
    sum: &mut Charge<Lanes<L>>,
    event: &impl Pulling<L>,
    standing: &Standing<L>,
    times: Lanes<L>,
    on_pack: Lanes<L>,
) {
    if any(times * on_pack) {
        *sum += event.pulse(standing).charge * times;
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::circuit::Overpotential;
    use crate::units::Resistance;

    /// What bursts leave across 1 ohm goes half of the way to each in turn, if each takes half of the
    /// time that a decay takes: 2 W leave 1 W, 1 W after it keeps 1 W, and 0.2 W after that leave 0.6 W.
    #[test]
    fn what_bursts_leave_across_a_branch_decays_under_the_next() {
        let slow_time = Time::from_seconds(10.0);
        let half = slow_time * core::f64::consts::LN_2;
        let slow_peak = |watts: &[f64]| {
            let bursts = watts.iter().map(|watts| LaneBurst::<1> {
                span: half.everywhere(),
                power: Power::from_watts(*watts).everywhere(),
            });
            // The other takes no time.
            let times = [1e-6, 10.0].map(Time::from_seconds);
            let event = LaneEvent::new(bursts, &times);
            let [at_once, slow] = event.branch_peaks;
            assert_eq!(at_once, event.peak);
            let Lanes([slow]) = slow.si();
            slow
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
