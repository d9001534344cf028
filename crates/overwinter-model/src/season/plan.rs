//! What a step will draw, and what it will find failing, before anything is moved.
//!
//! A load that pulls the pack under its own lowest voltage fails: the flash is too dim, the modem
//! gives up, and both still draw. A load that pulls it under the camera's cut-off switches the
//! camera off, whatever load it is.

use heapless::Vec;

use super::step::Step;
use super::store::Served;
use super::{Cause, Task};
use crate::circuit::{Circuit, Polarisation};
use crate::draw::{self, Burst, ByUse, Draw, UploadMode, Use};
use crate::units::{Charge, Current, Energy, Time, Voltage, mean};

/// One string of the pack as a step finds it.
pub(super) struct Standing {
    pub(super) circuit: Circuit,
    pub(super) polarisation: Polarisation,
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

impl Failure {
    /// Whether it is one: the voltage is lower, or there is none at which the load can be carried.
    fn is_under(&self, lowest: Voltage) -> bool {
        self.voltage.is_none_or(|voltage| voltage < lowest)
    }
}

/// What the camera does so many times in a step.
struct Doing<'a> {
    task: Task,
    bursts: &'a [Burst],
    times: f64,
}

/// An upload, so many times in a step: none at all as it is at first.
#[derive(Default)]
struct Session {
    bursts: Vec<Burst, 2>,
    times: f64,
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
    pub(super) peak: (Current, Polarisation),
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
    /// Share of standby that the pack carries: a store that is too cold for more may carry the rest.
    pub(super) asleep_on_pack: f64,
}

impl Planner<'_> {
    /// Works out a step that the pack runs, into a plan that is empty yet: plans are the largest things of
    /// a step, and a small stack has no room for copies.
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
        let draw = self.draw;
        let (day, night) = draw.answered(hour.day_triggers, hour.night_triggers);
        let clock = draw.scheduled_per_day / 24.0;
        let by_day = (day + clock * (1.0 - hour.dark_share)) * hours;
        let by_night = (night + clock * hour.dark_share) * hours;
        plan.triggers = by_day + by_night;
        plan.night_triggers = by_night;
        plan.card_mb = draw
            .card
            .map_or(0.0, |card| card.written_mb(by_day, by_night));

        let session = &self.session(plan, step);
        let check_in = draw.check_in.as_ref();
        for doing in &[
            Doing {
                task: Task::DayTrigger,
                bursts: draw.day_trigger.bursts(),
                times: by_day,
            },
            Doing {
                task: Task::NightTrigger,
                bursts: draw.night_trigger.bursts(),
                times: by_night,
            },
            Doing {
                task: Task::Session,
                bursts: &session.bursts,
                times: session.times,
            },
            Doing {
                task: Task::CheckIn,
                bursts: check_in.map_or(&[], |it| it.event.bursts()),
                times: check_in.map_or(0.0, |it| it.per_day / 24.0 * hours),
            },
        ] {
            if doing.times > 0.0 {
                self.carry(plan, standing, doing);
            }
        }
    }

    /// What a step uploads, and what it leaves to the daily session.
    fn session(&self, plan: &mut Plan, step: &Step<'_>) -> Session {
        let Some(upload) = &self.draw.upload else {
            return Session::default();
        };
        let now = upload.mode
            == (UploadMode::Daily {
                hour: step.hour.of_day,
            });
        let daily = if now { step.span.as_hours() } else { 0.0 };
        let sending = upload.sending(plan.triggers, self.to_send, daily);
        plan.waiting_pictures = sending.left_waiting;
        Session {
            bursts: upload.bursts(sending.pictures),
            times: sending.sessions,
        }
    }

    /// Standby for the whole of `span`. False if the camera is off.
    fn sleep(&self, plan: &mut Plan, standing: &Standing, span: Time) -> bool {
        let Standing {
            circuit,
            polarisation,
            strings,
        } = standing;
        let drawn = circuit.drawn(self.draw.standby / *strings, polarisation);
        let current = (drawn.margin >= 0.0).then_some(drawn.current);
        let drop = circuit.ohmic * drawn.current + drawn.overpotential + polarisation.total();
        let voltage = current.map(|_| circuit.open_circuit - drop);
        match (current, voltage) {
            _ if self.asleep_on_pack <= 0.0 => {
                plan.used.add(Use::Standby, self.draw.standby * span);
                plan.asleep = voltage.unwrap_or(Voltage::ZERO);
                plan.lowest = Some(plan.asleep);
                true
            }
            (Some(current), Some(voltage)) if voltage >= self.draw.cut_off => {
                let on_pack = span * self.asleep_on_pack;
                plan.draw(standing, current * on_pack);
                plan.heat = drop * current * on_pack * *strings;
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

    /// Draws what is done, and notes what fails of it for want of voltage: a picture by night is lost if
    /// the flash is too dim, a radio's failure is borne. Under the cut-off the camera is dead of it. A
    /// store carries everything, at a voltage that is high enough for all.
    fn carry(&self, plan: &mut Plan, standing: Option<&Standing>, doing: &Doing<'_>) {
        plan.add_use(doing);
        let Some(standing) = standing else {
            return;
        };
        let Standing {
            circuit,
            polarisation,
            strings,
        } = standing;
        let pulse = draw::pulse(doing.bursts, circuit, polarisation, *strings);
        plan.lowest = match (plan.lowest, pulse.lowest()) {
            (Some(so_far), Some(lowest)) => Some(so_far.min(lowest)),
            _ => None,
        };
        if pulse.peak > plan.peak.0 {
            plan.peak = (pulse.peak, pulse.polarisation);
        }
        plan.draw(standing, pulse.charge * doing.times);
        plan.heat += pulse.heat * (doing.times * *strings);
        let failure = Failure {
            cause: doing.task.cause(self.draw),
            voltage: pulse.lowest(),
        };
        if failure.is_under(self.draw.cut_off) {
            plan.dead.get_or_insert(failure);
        }
        if failure.is_under(doing.task.lowest(&self.draw.limits())) {
            plan.note(failure, doing.times);
        }
    }
}

impl Plan {
    /// Not part of its caller, which would keep an empty plan on the stack to copy it from; nor is what
    /// follows, for like reasons.
    #[inline(never)]
    pub(super) fn clear(&mut self) {
        *self = Self::default();
    }

    /// Notes what failed so many times.
    fn note(&mut self, failure: Failure, times: f64) {
        match failure.cause {
            Cause::VoltageUnderFlash => {
                self.flash_failed = Some(failure);
                self.dark_triggers = times;
            }
            Cause::VoltageUnderUpload => {
                self.upload_failed.get_or_insert(failure);
            }
            _ => {}
        }
    }

    #[inline(never)]
    fn add_use(&mut self, doing: &Doing<'_>) {
        self.used.add_all(&draw::energy(doing.bursts), doing.times);
    }

    /// Draws a charge from each string.
    fn draw(&mut self, standing: &Standing, charge: Charge) {
        self.charge += charge;
        self.released += charge * standing.circuit.open_circuit * standing.strings;
    }

    /// Makes a plan for the pack alone one for a pack beside a store, where `on_store` is the plan for
    /// the store alone. A pack that is left nothing fails at nothing. Where the store carries only the
    /// camera asleep, the planner knew.
    pub(super) fn beside_store(&mut self, on_store: &Self, served: &Served) {
        if served.only_asleep {
            return;
        }
        if served.left_to_pack > 0.0 {
            self.scale(served.left_to_pack);
        } else {
            let asleep = self.asleep;
            *self = *on_store;
            self.asleep = asleep;
            self.lowest = Some(asleep);
        }
    }

    /// Books what the camera got in so large a share of a step, at the end of which its pack is empty.
    /// What a store gives it gives in the whole step.
    pub(super) fn book_used(&self, used: &mut ByUse, served: Option<&Served>, share: f64) {
        let of_pack = served.map_or(1.0, |served| served.left_to_pack);
        if served.is_some_and(|served| served.only_asleep) {
            let of_store = (1.0 - of_pack) * (1.0 - share);
            used.add_all(&self.used, share);
            used.add(Use::Standby, self.used.get(Use::Standby) * of_store);
        } else {
            used.add_all(&self.used, 1.0 - of_pack + of_pack * share);
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
