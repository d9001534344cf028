//! What a camera does in a block, and what that draws.

use super::pulses::{Session, Standing, add_charge};
use super::solar::Wanted;
use super::step::Paths;
use super::{Block, Energies, Prepared};
use crate::circuit::Drawn;
use crate::lanes::Lanes;
use crate::number::Number;
use crate::units::{Charge, Energy, Time};

/// How often a block does what.
pub(super) struct Done<const L: usize> {
    pub(super) by_day: Lanes<L>,
    pub(super) by_night: Lanes<L>,
    pub(super) sessions: Lanes<L>,
    /// Pictures in each session.
    pub(super) pictures: Lanes<L>,
    pub(super) check_ins: f64,
}

impl<const L: usize> Paths<'_, '_, L> {
    /// How often the camera does what: triggers as far as it is not deaf, and what the clock says.
    #[inline(always)]
    pub(super) fn done(&mut self, block: &Block, (day, night): (Lanes<L>, Lanes<L>)) -> Done<L> {
        let draw = &self.prepared.scenario.draw;
        let hours = block.span.as_hours();
        let (by_day, by_night) = draw.answered(day.per(hours), night.per(hours));
        let clock = draw.scheduled_per_day / 24.0;
        let by_day = by_day * hours + Lanes::all(clock * block.day.hours);
        let by_night = by_night * hours + Lanes::all(clock * block.night.hours);
        let (mut sessions, mut pictures) = (Lanes::all(0.0), Lanes::all(0.0));
        if let Some(upload) = &draw.upload {
            let now = block.daily_upload_k.is_some();
            let daily = if now { 1.0 } else { 0.0 };
            let sending = upload.sending(by_day + by_night, self.waiting, daily);
            if now {
                self.waiting = Lanes::all(0.0);
            }
            self.waiting += sending.left_waiting;
            (sessions, pictures) = (sending.sessions, sending.pictures);
        }
        let reports = draw.check_in.as_ref().map_or(0.0, |c| c.per_day);
        Done {
            by_day,
            by_night,
            sessions,
            pictures,
            check_ins: reports / 24.0 * hours,
        }
    }

    /// What the camera draws asleep.
    #[inline(always)]
    pub(super) fn asleep(&self, standing: &Standing<L>) -> Drawn<Lanes<L>> {
        let standby = self.prepared.scenario.draw.standby / self.prepared.strings;
        let power = standby.everywhere() * self.luck.power;
        standing.circuit.drawn(power, &standing.polarisation)
    }

    /// Charge that a block draws from a string, with what it draws `asleep` and the share of its events
    /// that a store leaves to it.
    #[inline(always)]
    pub(super) fn charge(
        &self,
        standing: &Standing<L>,
        done: &Done<L>,
        asleep: Charge<Lanes<L>>,
        events_on_pack: Lanes<L>,
    ) -> Charge<Lanes<L>> {
        let Prepared {
            day,
            night,
            upload,
            check_in,
            ..
        } = self.prepared;
        let seen = (standing, self.luck.power);
        let mut events = Charge::<Lanes<L>>::NONE;
        add_charge(&mut events, day, seen, done.by_day, events_on_pack);
        add_charge(&mut events, night, seen, done.by_night, events_on_pack);
        if let Some(upload) = upload {
            let session = Session {
                upload,
                pictures: done.pictures,
            };
            let times = done.sessions * self.luck.airtime;
            add_charge(&mut events, &session, seen, times, events_on_pack);
        }
        if let Some(check_in) = check_in {
            let times = self.luck.airtime * done.check_ins;
            add_charge(&mut events, check_in, seen, times, events_on_pack);
        }
        asleep + events * events_on_pack
    }

    /// What the camera wants in a block.
    #[inline(always)]
    pub(super) fn wanted(&self, block: &Block, done: &Done<L>) -> Wanted<L> {
        let Energies {
            day,
            night,
            session,
            picture,
            check_in,
        } = self.prepared.energies;
        let of = |energy: Energy, times: Lanes<L>| energy.everywhere() * times;
        let standby = self.prepared.scenario.draw.standby * block.span;
        let asleep = standby.everywhere::<Lanes<L>>();
        let seen = of(day, done.by_day) + of(night, done.by_night) + asleep;
        let sent = (of(picture, done.pictures) + session.everywhere()) * done.sessions
            + of(check_in, Lanes::all(done.check_ins));
        let power = self.luck.power;
        let all = (seen + sent * self.luck.airtime) * power;
        Wanted {
            all,
            events: (all - asleep * power).max(Energy::ZERO.everywhere()),
        }
    }

    /// The span of a block in each lane.
    #[inline(always)]
    pub(super) fn span(block: &Block) -> Time<Lanes<L>> {
        block.span.everywhere()
    }
}
