//! Runs a season and writes every number of it as bits.

use overwinter_model::installation::Installation;
use overwinter_model::season::{Camera, End, Ending, Outcome, Seen};
use overwinter_model::{Time, Voltage};

use crate::Line;

/// The voltages of one day.
#[derive(Clone, Copy)]
struct Today {
    number: u32,
    /// Lowest voltage asleep.
    asleep: Voltage,
    /// Lowest voltage under any event; `None` if one could not be carried.
    lowest: Option<Voltage>,
}

impl Today {
    fn new(number: u32, seen: &Seen) -> Self {
        Self {
            number,
            asleep: seen.asleep,
            lowest: seen.lowest,
        }
    }

    fn see(&mut self, seen: &Seen) {
        self.asleep = self.asleep.min(seen.asleep);
        self.lowest = match (self.lowest, seen.lowest) {
            (Some(so_far), Some(lowest)) => Some(so_far.min(lowest)),
            _ => None,
        };
    }

    fn write(&self, out: &mut impl FnMut(&[u8])) {
        Line::new(out, "day")
            .whole(self.number)
            .bits(self.asleep.as_volts())
            .bits_if_any(self.lowest.map(Voltage::as_volts))
            .end();
    }
}

/// Runs a camera through its season and gives `out` one line at a time: each day's voltages, then
/// what became of the camera, all numbers as bits in SI.
pub fn answer(installation: &Installation, out: &mut impl FnMut(&[u8])) {
    let mut camera = Camera::new(&installation.scenario);
    follow(&mut camera, installation, out);
    close(&camera, out);
}

/// As `season::run` does, by hand: an outcome of its own beside the camera's would be half a kilobyte
/// more of the stack.
#[inline(never)]
fn follow(camera: &mut Camera<'_>, installation: &Installation, out: &mut impl FnMut(&[u8])) {
    let mut today: Option<Today> = None;
    let mut observe = |seen: &Seen| {
        // A step that ends at midnight belongs to the day before.
        let number = (seen.after.as_days() - 1e-9) as u32;
        match &mut today {
            Some(day) if day.number == number => day.see(seen),
            _ => {
                if let Some(over) = today.replace(Today::new(number, seen)) {
                    over.write(out);
                }
            }
        }
    };
    // By reference: a day of hours is not to be copied about a small stack.
    for hour in &mut installation.hours() {
        if camera.hour(&hour, 1, &mut observe).is_break() {
            break;
        }
    }
    if let Some(last) = today {
        last.write(out);
    }
}

#[inline(never)]
fn close(camera: &Camera<'_>, out: &mut impl FnMut(&[u8])) {
    write_outcome(&camera.clone().finish(), out);
}

fn write_outcome(outcome: &Outcome, out: &mut impl FnMut(&[u8])) {
    Line::new(out, "days")
        .bits(outcome.followed.as_days())
        .end();
    for (name, ending) in [
        ("night-pictures-lost", Ending::NightPictures),
        ("uploads-failed", Ending::Uploads),
        ("card-full", Ending::CardRoom),
        ("dead", Ending::Camera),
    ] {
        write_end(name, outcome.ends[ending].as_ref(), out);
    }
    for (name, number) in [
        ("triggers", outcome.triggers),
        ("dark-triggers", outcome.dark_triggers),
        ("kept", outcome.kept),
        ("charge-left", outcome.charge_left),
        ("put-in", outcome.ledger.put_in.as_joules()),
        ("resistive", outcome.ledger.resistive.as_joules()),
        ("held-back", outcome.ledger.held_back.as_joules()),
        ("self-discharge", outcome.ledger.self_discharge.as_joules()),
        ("left", outcome.ledger.left.as_joules()),
        ("offered", outcome.ledger.panel.offered.as_joules()),
        ("kept-out", outcome.ledger.panel.kept_out.as_joules()),
        ("spilled", outcome.ledger.panel.spilled.as_joules()),
        (
            "charging-loss",
            outcome.ledger.panel.charging_loss.as_joules(),
        ),
    ] {
        Line::new(out, name).bits(number).end();
    }
    for (_, energy) in outcome.ledger.used.iter() {
        Line::new(out, "used").bits(energy.as_joules()).end();
    }
    let store_empty = outcome.ends[Ending::Store].map(|end| end.after);
    for (name, after) in [
        ("under-floor", outcome.under_floor),
        ("store-empty", store_empty),
    ] {
        Line::new(out, name)
            .bits_if_any(after.map(Time::as_seconds))
            .end();
    }
}

fn write_end(name: &str, end: Option<&End>, out: &mut impl FnMut(&[u8])) {
    let line = Line::new(out, name);
    match end {
        None => line.word("-"),
        Some(end) => line
            .word(end.cause.key())
            .bits(end.after.as_seconds())
            .bits(end.air.as_kelvin())
            .bits_if_any(end.voltage.map(Voltage::as_volts))
            .bits(end.charge_left),
    }
    .end();
}
