//! What a camera's own gauge makes of the first days of its season, as bits.

use overwinter_model::gauge::{
    Answered, Correction, Gauge, GaugeError, MOST_SAVED_BYTES, Passed, SavedError, UnderLoad,
    newest,
};
use overwinter_model::installation::Installation;
use overwinter_model::{Temperature, Voltage};

use crate::Line;

/// Readings, as shares of what the pack has with nothing connected, beside its polarisation: near
/// it, then two that deny it, of which the second is believed.
const READINGS: [f64; 6] = [0.995, 1.004, 1.0, 0.99, 0.8, 0.8];

/// Between two of them: not a whole day, so that days are cut.
const HOURS_BETWEEN: u32 = 40;

/// How far ahead it looks: an emulated hour is dear.
const MOST_HOURS: u32 = 10 * 24;

/// Two places to save to in turn: what a camera has outside its memory.
pub type Slots = [[u8; MOST_SAVED_BYTES]; 2];

/// Slots as they are before the first save.
pub const ERASED: Slots = [[0xff; MOST_SAVED_BYTES]; 2];

/// Gives `out` the gauge after each reading, and what it expects once it has been saved to erased slots
/// and resumed.
pub fn gauge(
    installation: &Installation,
    blob_checksum: u32,
    slots: &mut Slots,
    out: &mut impl FnMut(&[u8]),
) {
    if take_readings(slots, installation, blob_checksum, out).is_err() {
        Line::new(out, "gauge-failed").end();
        return;
    }
    write_forecast(slots, installation, blob_checksum, out);
}

/// What the gauge expects that was saved last.
#[inline(never)]
fn write_forecast(
    [slot_0, slot_1]: &Slots,
    installation: &Installation,
    blob_checksum: u32,
    out: &mut impl FnMut(&[u8]),
) {
    let saved = newest(blob_checksum, slot_0, slot_1).unwrap_or_default();
    let Ok(gauge) = Gauge::resume(installation, blob_checksum, saved) else {
        Line::new(out, "gauge-lost").end();
        return;
    };
    let mut forecast = gauge.forecast(MOST_HOURS);
    while forecast.advance(1) {}
    Line::new(out, "gauge-forecast")
        .bits(forecast.hours_left())
        .bits(forecast.night_pictures_left())
        .bits_if_any(forecast.end().map(|end| end.after.as_seconds()))
        .end();
}

/// Takes the readings, and saves after each.
#[inline(never)]
fn take_readings(
    slots: &mut Slots,
    installation: &Installation,
    blob_checksum: u32,
    out: &mut impl FnMut(&[u8]),
) -> Result<(), Failed> {
    let gauge = &mut Gauge::new(installation, blob_checksum);
    for (number, &share) in (0_u32..).zip(&READINGS) {
        let air = Temperature::from_celsius(-8.0 + 3.0 * f64::from(number));
        pass(gauge, number, air)?;
        observe(gauge, installation, air, share, out);
        save(gauge, slots, out)?;
    }
    Ok(())
}

/// Every other time it is told what went by.
#[inline(never)]
fn pass(gauge: &mut Gauge<'_>, number: u32, air: Temperature) -> Result<(), GaugeError> {
    let known = number % 2 == 1;
    let (by_day, by_night) = (number, 3 * number);
    gauge.pass(&Passed {
        hours: HOURS_BETWEEN,
        air: known.then_some(air),
        answered: known.then_some(Answered { by_day, by_night }),
    })
}

/// A reading of this share of what the pack has with nothing connected.
#[inline(never)]
fn observe(
    gauge: &mut Gauge<'_>,
    installation: &Installation,
    air: Temperature,
    share: f64,
    out: &mut impl FnMut(&[u8]),
) {
    let measured = unloaded(gauge, installation, air) * share;
    let correction = match gauge.observe(air, UnderLoad::Asleep, measured) {
        Ok(Correction::Taken) => "taken",
        Ok(Correction::Doubted) => "doubted",
        Ok(Correction::FoundAnew) => "found-anew",
        Err(_) => "refused",
    };
    Line::new(out, "gauge")
        .word(correction)
        .whole(gauge.hour())
        .bits(gauge.depth())
        .bits(gauge.depth_sd())
        .end();
}

#[inline(never)]
fn save(
    gauge: &mut Gauge<'_>,
    [slot_0, slot_1]: &mut Slots,
    out: &mut impl FnMut(&[u8]),
) -> Result<(), SavedError> {
    let slot = if gauge.next_slot() == 0 {
        slot_0
    } else {
        slot_1
    };
    let length = gauge.save(slot)?;
    let saved = slot.get(..length).unwrap_or_default();
    Line::new(out, "gauge-saved")
        .whole(overwinter_model::blob::checksum(saved))
        .end();
    Ok(())
}

/// What the model holds the pack's voltage for with nothing connected.
fn unloaded(gauge: &Gauge<'_>, installation: &Installation, air: Temperature) -> Voltage {
    let pack = installation.scenario.pack.at(air);
    let cells = &gauge.state().cells;
    pack.string_circuit(cells).open_circuit - pack.polarisation(cells).total()
}

/// Why is in the model's hands; here it only must not happen.
struct Failed;

impl From<GaugeError> for Failed {
    fn from(_: GaugeError) -> Self {
        Self
    }
}

impl From<SavedError> for Failed {
    fn from(_: SavedError) -> Self {
        Self
    }
}
