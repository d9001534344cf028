//! What a camera does in a block, and what that draws.

use super::Block;
use super::cameras::{Energies, LaneDraw};
use super::pulses::{Session, Standing, add_charge};
use super::solar::Wanted;
use super::step::Paths;
use crate::circuit::Drawn;
use crate::draw::answered;
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
        let deaf = self.cameras.draw.deaf_hours;
        let (by_day, by_night) = answered(deaf, day.per(hours), night.per(hours));
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
        let strings = Lanes::all(self.prepared.strings);
        let power = self.cameras.draw.standby / strings;
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
        let LaneDraw {
            day,
            night,
            upload,
            check_in,
            ..
        } = &self.cameras.draw;
        let mut events = Charge::<Lanes<L>>::NONE;
        add_charge(&mut events, day, standing, done.by_day, events_on_pack);
        add_charge(&mut events, night, standing, done.by_night, events_on_pack);
        if let Some(upload) = upload {
            let session = Session {
                upload,
                pictures: done.pictures,
            };
            let times = done.sessions * self.luck.airtime;
            add_charge(&mut events, &session, standing, times, events_on_pack);
        }
        if let Some(check_in) = check_in {
            let times = self.luck.airtime * done.check_ins;
            add_charge(&mut events, check_in, standing, times, events_on_pack);
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
        } = self.cameras.draw.energies;
        let asleep = self.cameras.draw.standby * Self::span(block);
        let seen = day * done.by_day + night * done.by_night + asleep;
        let sent = (picture * done.pictures + session) * done.sessions
            + check_in * Lanes::all(done.check_ins);
        let all = seen + sent * self.luck.airtime;
        Wanted {
            all,
            events: (all - asleep).max(Energy::ZERO.everywhere()),
        }
    }

    /// The span of a block in each lane.
    #[inline(always)]
    pub(super) fn span(block: &Block) -> Time<Lanes<L>> {
        block.span.everywhere()
    }
}
