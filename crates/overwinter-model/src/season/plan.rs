//! What a step will draw, and what it will find failing, before anything is moved.
//!
//! A load that pulls the pack under its own lowest voltage fails: the flash is too dim, the modem
//! gives up, and both still draw. A load that pulls it under the camera's cut-off switches the
//! camera off, whatever load it is.

use super::step::Step;
use super::{Cause, Hour};
use crate::circuit::{Circuit, Load};
use crate::draw::{ByUse, Draw, Event, UploadMode, Use};
use crate::units::{Charge, Current, Energy, Time, Voltage, mean};

/// One string of the pack as a step finds it.
pub(super) struct Standing {
    pub(super) circuit: Circuit,
    pub(super) polarisation: Voltage,
    /// Strings in parallel, which share every load evenly.
    pub(super) strings: f64,
}

/// Why something cannot be done now.
#[derive(Clone, Copy)]
pub(super) struct Failure {
    pub(super) cause: Cause,
    /// The voltage that decided, if there was one.
    pub(super) voltage: Option<Voltage>,
}

/// A step, worked out but not taken.
#[derive(Clone, Copy, Default)]
pub(super) struct Plan {
    /// Charge from each string.
    pub(super) charge: Charge,
    /// That charge at the voltage that the circuit had with nothing connected, of all strings.
    pub(super) released: Energy,
    /// Energy turned to heat in the cells' resistances, of all strings.
    pub(super) heat: Energy,
    /// Energy at the pack.
    pub(super) used: ByUse,
    /// Voltage asleep.
    pub(super) asleep: Voltage,
    /// Lowest voltage under any event; `None` if one could not be carried.
    pub(super) lowest: Option<Voltage>,
    /// Largest current through a string, and the string's polarisation then.
    pub(super) peak: (Current, Voltage),
    /// Triggers answered.
    pub(super) triggers: f64,
    /// Those of them that come by night.
    pub(super) night_triggers: f64,
    /// Triggers by night that had to do without the flash.
    pub(super) dark_triggers: f64,
    /// What the answered triggers write on the card, megabytes.
    pub(super) card_mb: f64,
    /// Pictures that wait for the daily session.
    pub(super) waiting_pictures: f64,
    pub(super) flash_failed: Option<Failure>,
    pub(super) upload_failed: Option<Failure>,
    pub(super) dead: Option<Failure>,
}

/// The camera's events and what is known of its day so far.
pub(super) struct Planner<'a> {
    pub(super) draw: &'a Draw,
    /// Pictures that this hour's daily session sends; 0 in every other hour.
    pub(super) to_send: f64,
}

impl Planner<'_> {
    /// Works out a step of `span` within `hour` that the pack runs, into a plan that is empty yet:
    /// plans are the largest things of a step, and a small stack has no room for copies.
    pub(super) fn plan(&self, plan: &mut Plan, standing: &Standing, step: &Step<'_>) {
        if self.sleep(plan, standing, step.span) {
            self.events(plan, Some(standing), step);
        }
    }

    /// The same for a step that a store runs, behind a converter whose voltage does not sag.
    pub(super) fn plan_on_store(&self, plan: &mut Plan, step: &Step<'_>) {
        plan.used.add(Use::Standby, self.draw.standby * step.span);
        self.events(plan, None, step);
    }

    /// All that comes beside standby, from the pack as it stands or from a store.
    fn events(&self, plan: &mut Plan, standing: Option<&Standing>, step: &Step<'_>) {
        let (hour, hours) = (step.hour, step.span.as_hours());
        let (day, night) = self.draw.answered(hour.day_triggers, hour.night_triggers);
        let clock = self.draw.scheduled_per_day / 24.0;
        let by_day = (day + clock * (1.0 - hour.dark_share)) * hours;
        let by_night = (night + clock * hour.dark_share) * hours;
        plan.triggers = by_day + by_night;
        plan.night_triggers = by_night;
        plan.card_mb = self
            .draw
            .card
            .map_or(0.0, |card| card.written_mb(by_day, by_night));

        self.day_picture(plan, standing, by_day);
        self.night_picture(plan, standing, by_night);
        self.upload(plan, standing, hour, hours);
        self.check_in(plan, standing, hours);
    }

    /// Standby for the whole of `span`. False if the camera is off.
    fn sleep(&self, plan: &mut Plan, standing: &Standing, span: Time) -> bool {
        let Standing {
            circuit,
            polarisation,
            strings,
        } = standing;
        let load = Load::Power(self.draw.standby / *strings);
        let current = circuit.current(load, *polarisation);
        let voltage = current.map(|current| circuit.voltage(current, *polarisation));
        match (current, voltage) {
            (Some(current), Some(voltage)) if voltage >= self.draw.cut_off => {
                plan.draw(standing, current * span);
                plan.heat = (*polarisation + circuit.ohmic * current) * current * span * *strings;
                plan.peak = (current, *polarisation);
                plan.used.add(Use::Standby, self.draw.standby * span);
                plan.asleep = voltage;
                plan.lowest = Some(voltage);
                true
            }
            _ => {
                plan.asleep = voltage.unwrap_or(Voltage::ZERO);
                plan.lowest = voltage;
                plan.dead = Some(Failure {
                    cause: Cause::VoltageAsleep,
                    voltage,
                });
                false
            }
        }
    }

    fn day_picture(&self, plan: &mut Plan, standing: Option<&Standing>, times: f64) {
        if times > 0.0 {
            let event = &self.draw.day_trigger;
            self.carry(plan, standing, event, times, Cause::VoltageUnderPicture);
        }
    }

    /// A picture by night: lost if the flash is too dim.
    fn night_picture(&self, plan: &mut Plan, standing: Option<&Standing>, times: f64) {
        if times <= 0.0 {
            return;
        }
        let event = &self.draw.night_trigger;
        if !event.is_lit() {
            self.carry(plan, standing, event, times, Cause::VoltageUnderPicture);
            return;
        }
        let cause = Cause::VoltageUnderFlash;
        let voltage = self.carry(plan, standing, event, times, cause);
        let lowest = self.draw.flash_lowest.max(self.draw.cut_off);
        if voltage.is_none_or(|voltage| voltage < lowest) {
            plan.flash_failed = Some(Failure { cause, voltage });
            plan.dark_triggers = times;
        }
    }

    fn upload(&self, plan: &mut Plan, standing: Option<&Standing>, hour: &Hour, hours: f64) {
        let Some(upload) = &self.draw.upload else {
            return;
        };
        let pictures = plan.triggers * upload.pictures_per_trigger;
        let (times, pictures) = match upload.mode {
            UploadMode::Each => (plan.triggers, upload.pictures_per_trigger),
            UploadMode::Daily { hour: at } => {
                plan.waiting_pictures = pictures;
                (if hour.of_day == at { hours } else { 0.0 }, self.to_send)
            }
        };
        if times > 0.0 && pictures > 0.0 {
            self.send(
                plan,
                standing,
                &upload.event(pictures),
                times,
                upload.lowest,
            );
        }
    }

    fn check_in(&self, plan: &mut Plan, standing: Option<&Standing>, hours: f64) {
        if let Some(check_in) = &self.draw.check_in
            && check_in.per_day > 0.0
        {
            let times = check_in.per_day / 24.0 * hours;
            self.send(plan, standing, &check_in.event, times, check_in.lowest);
        }
    }

    /// A radio's `event`: a failure is noted, and the camera goes on without.
    fn send(
        &self,
        plan: &mut Plan,
        standing: Option<&Standing>,
        event: &Event,
        times: f64,
        lowest: Voltage,
    ) {
        let cause = Cause::VoltageUnderUpload;
        let voltage = self.carry(plan, standing, event, times, cause);
        if voltage.is_none_or(|voltage| voltage < lowest) {
            plan.upload_failed = plan.upload_failed.or(Some(Failure { cause, voltage }));
        }
    }

    /// Draws `event`, `times` over, and gives the lowest voltage under it, or `None` if the pack
    /// cannot carry it at any. Under the cut-off the camera is dead of `cause`. A store carries
    /// everything, at a voltage that is high enough for all.
    fn carry(
        &self,
        plan: &mut Plan,
        standing: Option<&Standing>,
        event: &Event,
        times: f64,
        cause: Cause,
    ) -> Option<Voltage> {
        plan.used.add_all(&event.energy(), times);
        let Some(standing) = standing else {
            return Some(Voltage::from_volts(f64::INFINITY));
        };
        let Standing {
            circuit,
            polarisation,
            strings,
        } = standing;
        let pulse = event.pulse(circuit, *polarisation, *strings);
        plan.lowest = match (plan.lowest, pulse.lowest) {
            (Some(so_far), Some(lowest)) => Some(so_far.min(lowest)),
            _ => None,
        };
        if pulse.lowest.is_none_or(|lowest| lowest < self.draw.cut_off) {
            let failure = Failure {
                cause,
                voltage: pulse.lowest,
            };
            plan.dead = plan.dead.or(Some(failure));
        }
        if pulse.peak > plan.peak.0 {
            plan.peak = (pulse.peak, pulse.polarisation);
        }
        plan.draw(standing, pulse.charge * times);
        plan.heat += pulse.heat * (times * *strings);
        pulse.lowest
    }
}

impl Plan {
    /// Draws a charge from each string.
    fn draw(&mut self, standing: &Standing, charge: Charge) {
        self.charge += charge;
        self.released += charge * standing.circuit.open_circuit * standing.strings;
    }

    /// Makes a plan for the pack alone one for a pack beside a store, where `on_store` is the plan for
    /// the store alone and leaves so small a share to the pack. One that is left nothing fails at
    /// nothing.
    pub(super) fn beside_store(&mut self, on_store: &Self, left_to_pack: f64) {
        if left_to_pack > 0.0 {
            self.scale(left_to_pack);
        } else {
            let asleep = self.asleep;
            *self = *on_store;
            self.asleep = asleep;
            self.lowest = Some(asleep);
        }
    }

    /// Leaves so small a share of the draw to the pack.
    fn scale(&mut self, share: f64) {
        self.charge = self.charge * share;
        self.released = self.released * share;
        self.heat = self.heat * share;
    }

    /// Makes of the plan of a step's start what is drawn in the step, where its end is planned as `end`.
    /// Voltages and failures stay those of the start.
    pub(super) fn draw_mean_with(&mut self, end: &Self) {
        self.used.make_mean_with(&end.used);
        self.charge = mean(self.charge, end.charge);
        self.released = mean(self.released, end.released);
        self.heat = mean(self.heat, end.heat);
        self.triggers = mean(self.triggers, end.triggers);
        self.night_triggers = mean(self.night_triggers, end.night_triggers);
        self.dark_triggers = mean(self.dark_triggers, end.dark_triggers);
        self.card_mb = mean(self.card_mb, end.card_mb);
        self.waiting_pictures = mean(self.waiting_pictures, end.waiting_pictures);
    }
}
