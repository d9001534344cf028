//! What a camera draws: asleep all the time, and in bursts for pictures, light and uploads.

mod by_use;
mod card;

use heapless::Vec;

pub use by_use::{ByUse, Use};
pub use card::Card;
pub(crate) use card::written_mb;

use crate::circuit::{BRANCHES, Circuit, Decay, Polarisation};
use crate::number::Number;
use crate::units::{Charge, Current, Energy, Power, Time, Voltage};

/// The most bursts of one event.
pub const MAX_BURSTS: usize = 6;

/// One part of an event: a constant power at the pack for a while.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct Burst {
    /// How long.
    pub span: Time,
    /// Power of everything but the light.
    pub power: Power,
    /// What that power is for.
    pub what: Use,
    /// Power of the light, which counts as [`Use::Flash`].
    pub flash: Power,
}

impl Burst {
    /// All of its power.
    #[must_use]
    pub fn total(&self) -> Power {
        self.power + self.flash
    }
}

/// Something that the camera does now and then: bursts one after another.
#[derive(Clone, Debug, Default, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct Event {
    pub(crate) bursts: Vec<Burst, MAX_BURSTS>,
}

/// An event has more bursts than [`MAX_BURSTS`].
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct TooManyBursts;

impl core::fmt::Display for TooManyBursts {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        write!(f, "an event has at most {MAX_BURSTS} bursts")
    }
}

impl core::error::Error for TooManyBursts {}

/// What one event does to a string of cells.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pulse<N: Number = f64> {
    /// Charge drawn from each string.
    pub charge: Charge<N>,
    /// Energy turned to heat in the resistances of each string.
    pub heat: Energy<N>,
    /// Lowest voltage on the way; nothing where the string could not carry it at any voltage.
    pub lowest: Voltage<N>,
    /// Below 0 where the string could not carry it; no quantity.
    pub margin: N,
    /// The largest current through a string.
    pub peak: Current<N>,
    /// What the polarisation of a string has risen to at the lowest voltage.
    pub polarisation: Polarisation<N>,
    /// What it is at the end.
    after: Polarisation<N>,
}

/// A constant power of a string for a while, with what that does to a polarisation.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Pull<N: Number = f64> {
    pub(crate) power: Power<N>,
    pub(crate) span: Time<N>,
    pub(crate) decay: Decay<N>,
}

impl Pull {
    /// `burst` at one of `strings` strings, whose branches take so long.
    pub(crate) fn of(burst: &Burst, strings: f64, times: &[Time; BRANCHES]) -> Self {
        Self::over(burst.total() / strings, burst.span, times)
    }
}

impl<N: Number> Pull<N> {
    /// A power for a span at a string whose branches take so long.
    #[cfg_attr(not(target_os = "none"), inline(always))]
    pub(crate) fn over(power: Power<N>, span: Time<N>, times: &[Time; BRANCHES]) -> Self {
        Self {
            power,
            span,
            decay: Decay::over(span.si(), times),
        }
    }
}

impl Event {
    /// Adds a burst at the end; one of no length is left out.
    ///
    /// # Errors
    /// [`TooManyBursts`].
    pub fn push(&mut self, burst: Burst) -> Result<(), TooManyBursts> {
        if burst.span > Time::ZERO {
            self.bursts.push(burst).map_err(|_| TooManyBursts)?;
        }
        Ok(())
    }

    /// The bursts in their order.
    #[must_use]
    pub fn bursts(&self) -> &[Burst] {
        &self.bursts
    }

    /// Energy at the pack by use.
    #[must_use]
    pub fn energy(&self) -> ByUse {
        energy(&self.bursts)
    }

    /// Whether any burst has light.
    #[must_use]
    pub fn is_lit(&self) -> bool {
        self.bursts.iter().any(|burst| burst.flash > Power::ZERO)
    }

    /// What the event does to one of `strings` strings that stands at `polarisation`.
    ///
    /// The lowest voltage of each burst is at its end, when more of the branches has come in.
    #[must_use]
    pub fn pulse(&self, circuit: &Circuit, polarisation: &Polarisation, strings: f64) -> Pulse {
        pulse(&self.bursts, circuit, polarisation, strings)
    }

    /// How long the event takes.
    #[must_use]
    pub fn length(&self) -> Time {
        length(&self.bursts)
    }
}

/// As [`Event::length`], of bursts one after another.
#[must_use]
pub fn length(bursts: &[Burst]) -> Time {
    bursts
        .iter()
        .fold(Time::ZERO, |length, burst| length + burst.span)
}

/// As [`Event::energy`], of bursts one after another.
#[must_use]
pub fn energy(bursts: &[Burst]) -> ByUse {
    let mut energy = ByUse::default();
    for burst in bursts {
        energy.add(burst.what, burst.power * burst.span);
        energy.add(Use::Flash, burst.flash * burst.span);
    }
    energy
}

/// As [`Event::pulse`], of bursts one after another.
pub(crate) fn pulse(
    bursts: &[Burst],
    circuit: &Circuit,
    polarisation: &Polarisation,
    strings: f64,
) -> Pulse {
    let mut pulse = Pulse::at_rest(circuit, polarisation);
    for burst in bursts {
        pulse.add(circuit, &Pull::of(burst, strings, &circuit.times));
    }
    pulse
}

impl Pulse {
    /// The lowest voltage; `None` if the string could not carry it at any.
    #[must_use]
    pub fn lowest(&self) -> Option<Voltage> {
        (self.margin >= 0.0).then_some(self.lowest)
    }
}

impl<N: Number> Pulse<N> {
    /// Before the first burst.
    #[inline(always)]
    pub(crate) fn at_rest(circuit: &Circuit<N>, polarisation: &Polarisation<N>) -> Self {
        Self {
            charge: Charge::ZERO.everywhere(),
            heat: Energy::ZERO.everywhere(),
            lowest: circuit.open_circuit - polarisation.total(),
            margin: N::from(f64::INFINITY),
            peak: Current::ZERO.everywhere(),
            polarisation: *polarisation,
            after: *polarisation,
        }
    }

    /// Adds a burst. One that cannot be carried ends the event: it draws nothing, nor does what follows.
    #[cfg_attr(not(target_os = "none"), inline(always))]
    pub(crate) fn add(&mut self, circuit: &Circuit<N>, pull: &Pull<N>) {
        let carried = circuit.burst(pull.power, &self.after, &pull.decay);
        self.margin = self.margin.min(carried.margin);
        let possible = self.margin.at_least(N::from(0.0));
        let none = Current::ZERO.everywhere();
        let mean = Current::choose(possible, carried.mean, none);
        let last = Current::choose(possible, carried.last, none);
        let voltage = Voltage::choose(possible, carried.voltage, Voltage::ZERO.everywhere());
        self.charge += mean * pull.span;
        self.heat += carried.mean_drop * mean * pull.span;
        self.peak = self.peak.max(last);
        let lower = carried.voltage.below(self.lowest) & possible;
        self.polarisation = Polarisation::choose(lower, &carried.polarisation, &self.polarisation);
        self.lowest = self.lowest.min(voltage);
        self.after = carried.polarisation;
    }
}

/// As [`Draw::answered`], of a camera that is deaf for so many hours after a trigger by day and by night.
#[cfg_attr(not(target_os = "none"), inline(always))]
pub(crate) fn answered<N: Number>([day, night]: [N; 2], by_day: N, by_night: N) -> (N, N) {
    let busy = day * by_day + night * by_night;
    let one = N::from(1.0);
    (by_day / (one + busy), by_night / (one + busy))
}

/// When uploads happen.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub enum UploadMode {
    /// One session for each trigger.
    Each,
    /// One session a day with all that has come together, at this hour (0 to 23, local standard).
    Daily {
        /// The hour.
        hour: u8,
    },
}

/// What an upload does in a span of time.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sending<N = f64> {
    /// How many sessions.
    pub sessions: N,
    /// Pictures in each.
    pub pictures: N,
    /// Pictures taken in the span that wait for the next daily session.
    pub left_waiting: N,
}

/// Sending pictures.
#[derive(Clone, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct Upload {
    /// When.
    pub mode: UploadMode,
    /// Finding the network, registering, hanging up.
    pub session: Burst,
    /// One picture; more take longer at the same power.
    pub picture: Burst,
    /// Pictures sent for each trigger.
    #[cfg_attr(feature = "serde", serde(with = "crate::decimal"))]
    pub pictures_per_trigger: f64,
    /// Lowest voltage of the pack at which the modem works.
    pub lowest: Voltage,
}

impl Upload {
    /// What is sent in a span in which so many triggers are answered: a session for each, or what waits
    /// in the daily one, of which `daily` is the share that falls in the span. A session without
    /// pictures is left out.
    #[cfg_attr(not(target_os = "none"), inline(always))]
    #[must_use]
    pub fn sending<N: Number>(&self, triggers: N, waiting: N, daily: f64) -> Sending<N> {
        let (none, per_trigger) = (N::from(0.0), N::from(self.pictures_per_trigger));
        let (sessions, pictures, left_waiting) = match self.mode {
            UploadMode::Each => (triggers, per_trigger, none),
            UploadMode::Daily { .. } => (N::from(daily), waiting, triggers * per_trigger),
        };
        Sending {
            sessions: N::choose(none.below(pictures), sessions, none),
            pictures,
            left_waiting,
        }
    }

    /// One session with a number of pictures.
    #[must_use]
    pub fn event(&self, pictures: f64) -> Event {
        let bursts = self.bursts(pictures).into_iter();
        Event {
            bursts: bursts.collect(),
        }
    }

    /// Its bursts, where there is little room.
    pub(crate) fn bursts(&self, pictures: f64) -> Vec<Burst, 2> {
        let picture = Burst {
            span: self.picture.span * pictures,
            ..self.picture
        };
        let mut bursts = Vec::new();
        for burst in [self.session, picture] {
            if burst.span > Time::ZERO {
                // There is room for two.
                let _ = bursts.push(burst);
            }
        }
        bursts
    }
}

/// Reporting to the owner without a picture.
#[derive(Clone, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct CheckIn {
    /// How often a day, spread evenly.
    #[cfg_attr(feature = "serde", serde(with = "crate::decimal"))]
    pub per_day: f64,
    /// One report.
    pub event: Event,
    /// Lowest voltage of the pack at which the modem works.
    pub lowest: Voltage,
}

/// Everything that a camera draws.
#[derive(Clone, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct Draw {
    /// Asleep and watching, all the time.
    pub standby: Power,
    /// One trigger by day.
    pub day_trigger: Event,
    /// One trigger by night, light included.
    pub night_trigger: Event,
    /// Pictures a day that are taken by the clock, spread evenly; they count as triggers.
    #[cfg_attr(feature = "serde", serde(with = "crate::decimal"))]
    pub scheduled_per_day: f64,
    /// The camera does not trigger again for this long after an event.
    pub quiet: Time,
    /// Sending pictures, if it does.
    pub upload: Option<Upload>,
    /// Reports, if it sends any.
    pub check_in: Option<CheckIn>,
    /// What it writes on, if that is counted.
    pub card: Option<Card>,
    /// Lowest voltage of the pack at which the camera works: whatever pulls it lower switches the
    /// camera off.
    pub cut_off: Voltage,
    /// Lowest voltage of the pack at which its flash is bright enough.
    pub flash_lowest: Voltage,
}

impl Draw {
    /// A camera that is off: what the others of its figures start from.
    #[inline(always)]
    #[must_use]
    pub const fn nothing() -> Self {
        Self {
            standby: Power::ZERO,
            day_trigger: Event { bursts: Vec::new() },
            night_trigger: Event { bursts: Vec::new() },
            scheduled_per_day: 0.0,
            quiet: Time::ZERO,
            upload: None,
            check_in: None,
            card: None,
            cut_off: Voltage::ZERO,
            flash_lowest: Voltage::ZERO,
        }
    }

    /// Its largest power, for however short a time.
    #[must_use]
    pub fn heaviest(&self) -> Power {
        let check_in = self.check_in.as_ref().map(|check_in| &check_in.event);
        let events = [&self.day_trigger, &self.night_trigger];
        let bursts = events.into_iter().chain(check_in).flat_map(Event::bursts);
        let upload = self.upload.iter();
        let upload = upload.flat_map(|upload| [&upload.session, &upload.picture]);
        let powers = bursts.chain(upload).map(Burst::total);
        powers.fold(self.standby, Power::max)
    }

    /// Triggers that the camera answers in an hour in which so many come by day and by night: it
    /// is deaf while it is busy and for [`Draw::quiet`] after.
    ///
    /// ```text
    /// n = m / (1 + m τ)
    /// ```
    ///
    /// with `τ` the mean length of an event and the quiet time together.
    ///
    /// Source: the counting rate of a detector with a dead time τ that is not prolonged, for
    /// example Knoll, Radiation Detection and Measurement, chapter 4 (from memory). It takes the
    /// triggers as independent; bunched ones lose more.
    #[cfg_attr(not(target_os = "none"), inline(always))]
    #[must_use]
    pub fn answered<N: Number>(&self, by_day: N, by_night: N) -> (N, N) {
        let [day, night] = self.deaf_hours();
        answered([N::from(day), N::from(night)], by_day, by_night)
    }

    /// For how long a trigger by day and one by night leave it deaf, hours.
    #[must_use]
    pub(crate) fn deaf_hours(&self) -> [f64; 2] {
        let of = |event: &Event| (event.length() + self.quiet).as_hours();
        [of(&self.day_trigger), of(&self.night_trigger)]
    }
}
