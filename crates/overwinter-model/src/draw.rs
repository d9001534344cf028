//! What a camera draws: asleep all the time, and in bursts for pictures, light and uploads.

mod by_use;
mod card;

use heapless::Vec;
use serde::{Deserialize, Serialize};

pub use by_use::{ByUse, Use};
pub use card::Card;

use crate::circuit::{Circuit, Load};
use crate::units::{Charge, Current, Energy, Power, Time, Voltage};

/// The most bursts of one event.
pub const MAX_BURSTS: usize = 6;

/// One part of an event: a constant power at the pack for a while.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
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

/// A burst on a string that carries it.
struct Carried {
    charge: Charge,
    /// In the string's resistances.
    heat: Energy,
    /// Current at the end.
    last: Current,
    /// Polarisation at the end.
    after: Voltage,
}

impl Burst {
    /// What the burst, a constant power, does to one of `strings` strings; `None` if it cannot be
    /// carried. Its mean current and its mean polarisation belong to each other: see
    /// [`Circuit::mean_current`].
    fn carried(&self, circuit: &Circuit, polarisation: Voltage, strings: f64) -> Option<Carried> {
        let load = Load::Power((self.power + self.flash) / strings);
        let decay = circuit.mean_decay(self.span);
        let mean = circuit.mean_current(load, polarisation, decay)?;
        let after = circuit.relax(polarisation, mean, self.span);
        let last = circuit.current(load, after)?;
        let mean_polarisation = circuit.mean_polarisation(polarisation, mean, decay);
        Some(Carried {
            charge: mean * self.span,
            heat: (mean_polarisation + circuit.ohmic * mean) * mean * self.span,
            last,
            after,
        })
    }
}

/// Something that the camera does now and then: bursts one after another.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
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
pub struct Pulse {
    /// Charge drawn from each string.
    pub charge: Charge,
    /// Energy turned to heat in the resistances of each string.
    pub heat: Energy,
    /// Lowest voltage on the way; `None` if the string could not carry it at any voltage.
    pub lowest: Option<Voltage>,
    /// The largest current through a string.
    pub peak: Current,
    /// What the polarisation of a string has risen to at the lowest voltage.
    pub polarisation: Voltage,
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
    /// The lowest voltage of each burst is at its end, when the slow resistance has come in.
    #[must_use]
    pub fn pulse(&self, circuit: &Circuit, polarisation: Voltage, strings: f64) -> Pulse {
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
    polarisation: Voltage,
    strings: f64,
) -> Pulse {
    let mut pulse = Pulse {
        charge: Charge::ZERO,
        heat: Energy::ZERO,
        lowest: Some(circuit.open_circuit - polarisation),
        peak: Current::ZERO,
        polarisation,
    };
    let mut slow = polarisation;
    for burst in bursts {
        let Some(carried) = burst.carried(circuit, slow, strings) else {
            return Pulse {
                lowest: None,
                ..pulse
            };
        };
        slow = carried.after;
        pulse.charge += carried.charge;
        pulse.heat += carried.heat;
        pulse.peak = pulse.peak.max(carried.last);
        let voltage = circuit.voltage(carried.last, slow);
        if pulse.lowest.is_none_or(|lowest| voltage < lowest) {
            pulse.lowest = Some(voltage);
            pulse.polarisation = slow;
        }
    }
    pulse
}

/// When uploads happen.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum UploadMode {
    /// One session for each trigger.
    Each,
    /// One session a day with all that has come together, at this hour (0 to 23, local standard).
    Daily {
        /// The hour.
        hour: u8,
    },
}

/// Sending pictures.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Upload {
    /// When.
    pub mode: UploadMode,
    /// Finding the network, registering, hanging up.
    pub session: Burst,
    /// One picture; more take longer at the same power.
    pub picture: Burst,
    /// Pictures sent for each trigger.
    #[serde(with = "crate::number")]
    pub pictures_per_trigger: f64,
    /// Lowest voltage of the pack at which the modem works.
    pub lowest: Voltage,
}

impl Upload {
    /// One session with a number of pictures.
    #[must_use]
    pub fn bursts(&self, pictures: f64) -> Vec<Burst, 2> {
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
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct CheckIn {
    /// How often a day, spread evenly.
    #[serde(with = "crate::number")]
    pub per_day: f64,
    /// One report.
    pub event: Event,
    /// Lowest voltage of the pack at which the modem works.
    pub lowest: Voltage,
}

/// Everything that a camera draws.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Draw {
    /// Asleep and watching, all the time.
    pub standby: Power,
    /// One trigger by day.
    pub day_trigger: Event,
    /// One trigger by night, light included.
    pub night_trigger: Event,
    /// Pictures a day that are taken by the clock, spread evenly; they count as triggers.
    #[serde(with = "crate::number")]
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
    /// A camera that is off.
    #[inline(always)]
    pub(crate) const fn nothing() -> Self {
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
    #[must_use]
    pub fn answered(&self, by_day: f64, by_night: f64) -> (f64, f64) {
        let busy = (self.day_trigger.length() + self.quiet).as_hours() * by_day
            + (self.night_trigger.length() + self.quiet).as_hours() * by_night;
        (by_day / (1.0 + busy), by_night / (1.0 + busy))
    }
}
