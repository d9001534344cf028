//! Events in lanes: the charge that one draws, and how low it pulls the voltage.

use heapless::Vec;

use crate::circuit::mean_decay;
use crate::draw::{Burst, Event, MAX_BURSTS, Upload, UploadMode};
use crate::lanes::{Lanes, Root, exp};
use crate::units::Time;

/// A voltage under which no cell is asked for more: keeps a division from blowing up in a lane that
/// is dead already.
pub(super) const LEAST_VOLTS: f64 = 0.05;

/// One string as its loads see it, in volts and ohms.
#[derive(Clone, Copy)]
pub(super) struct Standing<const L: usize> {
    pub(super) open_circuit: Lanes<L>,
    pub(super) polarisation: Lanes<L>,
    pub(super) ohmic: Lanes<L>,
    pub(super) slow: Lanes<L>,
}

/// One burst at one string.
#[derive(Clone, Copy)]
struct LaneBurst {
    watts: f64,
    seconds: f64,
    /// `e^(−t/τ)`: what is left of a polarisation at its end.
    decay: f64,
    /// Mean of that decay over it.
    mean_decay: f64,
}

/// An event with all that does not move from day to day worked out.
pub(super) struct LaneEvent {
    bursts: Vec<LaneBurst, MAX_BURSTS>,
    /// Largest power, watts.
    pub(super) peak_w: f64,
    /// Largest sum of what earlier bursts have left across 1 ohm of slow resistance, as a power.
    slow_peak_w: f64,
}

/// What an event does to a string.
pub(super) struct LanePulse<const L: usize> {
    /// Charge in coulombs.
    pub(super) coulombs: Lanes<L>,
    /// Lowest voltage; 0 where it could not be carried.
    pub(super) lowest: Lanes<L>,
    /// Polarisation at its end.
    left: Lanes<L>,
}

/// Something that pulls a string's voltage down.
pub(super) trait Pull<const L: usize> {
    /// A lower bound of the voltage under it, right wherever it is above `limit`.
    ///
    /// While the voltage keeps above the limit no current exceeds power over limit, so neither
    /// resistance takes more than that current makes of it.
    fn surely_above(
        &self,
        standing: &Standing<L>,
        times_power: Lanes<L>,
        limit: Lanes<L>,
    ) -> Lanes<L>;

    /// What it does, once.
    fn pulse<R: Root>(&self, standing: &Standing<L>, times_power: Lanes<L>) -> LanePulse<L>;
}

impl LaneEvent {
    /// `event` at one of `strings` strings, whose slow resistance takes `slow_time`.
    pub(super) fn new(event: &Event, strings: f64, slow_time: Time) -> Self {
        let mut bursts = Vec::new();
        let (mut peak_w, mut left_w, mut slow_peak_w) = (0.0, 0.0, 0.0);
        for burst in event.bursts() {
            let burst = LaneBurst::new(burst, strings, slow_time);
            peak_w = libm::fmax(peak_w, burst.watts);
            left_w = left_w * burst.decay + burst.watts * (1.0 - burst.decay);
            slow_peak_w = libm::fmax(slow_peak_w, left_w);
            // As many as the event itself has room for.
            let _ = bursts.push(burst);
        }
        Self {
            bursts,
            peak_w,
            slow_peak_w,
        }
    }
}

impl<const L: usize> Pull<L> for LaneEvent {
    #[inline(always)]
    fn surely_above(
        &self,
        standing: &Standing<L>,
        times_power: Lanes<L>,
        limit: Lanes<L>,
    ) -> Lanes<L> {
        standing.at_least(self.peak_w, self.slow_peak_w, times_power, limit)
    }

    #[inline(always)]
    fn pulse<R: Root>(&self, standing: &Standing<L>, times_power: Lanes<L>) -> LanePulse<L> {
        let mut pulse = LanePulse::start(standing);
        for burst in &self.bursts {
            let decays = (Lanes::all(burst.decay), Lanes::all(burst.mean_decay));
            let power = times_power * burst.watts;
            pulse.add::<R>(standing, power, Lanes::all(burst.seconds), decays);
        }
        pulse
    }
}

/// An upload: a session, then as many pictures as there are.
pub(super) struct LaneUpload {
    session: LaneBurst,
    picture_w: f64,
    picture_s: f64,
    slow_s: f64,
    /// All of a day's pictures in one session, else those of each trigger.
    pub(super) daily: bool,
    /// Pictures sent for each trigger.
    pub(super) pictures_per_trigger: f64,
    /// Lowest voltage at which the modem works.
    pub(super) lowest_v: f64,
}

impl LaneUpload {
    /// Largest power, watts.
    pub(super) fn peak_w(&self) -> f64 {
        libm::fmax(self.session.watts, self.picture_w)
    }

    /// `upload` at one of `strings` strings, whose slow resistance takes `slow_time`.
    pub(super) fn new(upload: &Upload, strings: f64, slow_time: Time) -> Self {
        Self {
            session: LaneBurst::new(&upload.session, strings, slow_time),
            picture_w: (upload.picture.power + upload.picture.flash).as_watts() / strings,
            picture_s: upload.picture.span.as_seconds(),
            slow_s: slow_time.as_seconds(),
            daily: upload.mode != UploadMode::Each,
            pictures_per_trigger: upload.pictures_per_trigger,
            lowest_v: upload.lowest.as_volts(),
        }
    }
}

/// One session with so many pictures.
pub(super) struct Session<'a, const L: usize> {
    pub(super) upload: &'a LaneUpload,
    pub(super) pictures: Lanes<L>,
}

impl<const L: usize> Pull<L> for Session<'_, L> {
    #[inline(always)]
    fn surely_above(
        &self,
        standing: &Standing<L>,
        times_power: Lanes<L>,
        limit: Lanes<L>,
    ) -> Lanes<L> {
        let peak_w = self.upload.peak_w();
        standing.at_least(peak_w, peak_w, times_power, limit)
    }

    #[inline(always)]
    fn pulse<R: Root>(&self, standing: &Standing<L>, times_power: Lanes<L>) -> LanePulse<L> {
        let LaneUpload {
            session, picture_w, ..
        } = self.upload;
        let mut pulse = LanePulse::start(standing);
        let decays = (Lanes::all(session.decay), Lanes::all(session.mean_decay));
        let power = times_power * session.watts;
        pulse.add::<R>(standing, power, Lanes::all(session.seconds), decays);
        let seconds = self.pictures * self.upload.picture_s;
        // Keeps 0/0 from a session without pictures.
        let spans = (seconds / self.upload.slow_s).max(Lanes::all(1e-9));
        let decay = exp(-spans);
        let decays = (decay, (Lanes::all(1.0) - decay) / spans);
        pulse.add::<R>(standing, times_power * *picture_w, seconds, decays);
        pulse
    }
}

/// How far the charge of a block may be put right: beyond, the cell is at its end anyway.
const MOST_RIGHTING: f64 = 1.25;

impl<const L: usize> Standing<L> {
    /// By how much a charge changes that was worked out at this voltage, if the voltage turns out
    /// another: powers are constant, so in inverse proportion.
    #[inline(always)]
    pub(super) fn over(&self, open_circuit: Lanes<L>) -> Lanes<L> {
        let inner = open_circuit - self.polarisation;
        let taken_for = self.open_circuit - self.polarisation;
        (taken_for / inner.max(Lanes::all(LEAST_VOLTS)))
            .max(Lanes::all(1.0 / MOST_RIGHTING))
            .min(Lanes::all(MOST_RIGHTING))
    }

    /// The least voltage that is left by a peak power and by what the slow resistance sees at most.
    #[inline(always)]
    fn at_least(
        &self,
        peak_w: f64,
        slow_peak_w: f64,
        times_power: Lanes<L>,
        limit: Lanes<L>,
    ) -> Lanes<L> {
        let drop = self.ohmic * peak_w + self.slow * slow_peak_w;
        self.open_circuit - self.polarisation - drop * times_power / limit
    }
}

impl<const L: usize> LanePulse<L> {
    #[inline(always)]
    fn start(standing: &Standing<L>) -> Self {
        Self {
            coulombs: Lanes::all(0.0),
            lowest: standing.open_circuit - standing.polarisation,
            left: standing.polarisation,
        }
    }

    /// Adds a burst of `seconds`, with what is left of a polarisation at its end and its mean.
    ///
    /// The same as [`crate::circuit::Circuit::mean_current`] with a constant power.
    #[inline(always)]
    fn add<R: Root>(
        &mut self,
        standing: &Standing<L>,
        power: Lanes<L>,
        seconds: Lanes<L>,
        (decay, mean_decay): (Lanes<L>, Lanes<L>),
    ) {
        let Standing {
            open_circuit,
            ohmic,
            slow,
            ..
        } = *standing;
        let one = Lanes::all(1.0);
        let inner = open_circuit - self.left * mean_decay;
        let (current, _) = carry::<R, L>(inner, ohmic + slow * (one - mean_decay), power);
        self.left = self.left * decay + slow * current * (one - decay);
        let (_, voltage) = carry::<R, L>(open_circuit - self.left, ohmic, power);
        self.coulombs += current * seconds;
        self.lowest = self.lowest.min(voltage);
    }
}

impl LaneBurst {
    fn new(burst: &Burst, strings: f64, slow_time: Time) -> Self {
        let spans = burst.span / slow_time;
        Self {
            watts: (burst.power + burst.flash).as_watts() / strings,
            seconds: burst.span.as_seconds(),
            decay: libm::exp(-spans),
            mean_decay: mean_decay(spans),
        }
    }
}

/// Current and voltage of a constant power behind `inner` volts and `ohms`; where the power cannot
/// be carried, the current of the matched load and no voltage.
#[inline(always)]
pub(super) fn carry<R: Root, const L: usize>(
    inner: Lanes<L>,
    ohms: Lanes<L>,
    power: Lanes<L>,
) -> (Lanes<L>, Lanes<L>) {
    let inner = inner.max(Lanes::all(LEAST_VOLTS));
    let under_root = inner * inner - ohms * power * 4.0;
    let root = under_root.max(Lanes::all(0.0)).sqrt::<R>();
    let twice = inner + root;
    let carried = under_root.below(Lanes::all(0.0));
    (
        power * 2.0 / twice,
        carried.choose(Lanes::all(0.0), twice * 0.5),
    )
}
