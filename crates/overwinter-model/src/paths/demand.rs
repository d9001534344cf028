//! What a camera does in a block, and what that draws.

use super::pulses::{LEAST_VOLTS, Pull, Session, Standing};
use super::solar::Wanted;
use super::step::Paths;
use super::{Block, Joules, Prepared};
use crate::lanes::{Lanes, Root};

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
    /// How often the camera does what: triggers as far as it is not deaf (see
    /// [`crate::draw::Draw::answered`]), and what the clock says.
    #[inline(always)]
    pub(super) fn done(&mut self, block: &Block, (day, night): (Lanes<L>, Lanes<L>)) -> Done<L> {
        let draw = &self.prepared.scenario.draw;
        let hours = block.span.as_hours();
        let deaf = |event: &crate::draw::Event| (event.length() + draw.quiet).as_hours() / hours;
        let busy = day * deaf(&draw.day_trigger) + night * deaf(&draw.night_trigger);
        let answered = Lanes::all(1.0) / (busy + 1.0);
        let clock = draw.scheduled_per_day / 24.0;
        let by_day = day * answered + clock * block.day.hours;
        let by_night = night * answered + clock * block.night.hours;
        let (mut sessions, mut pictures) = (Lanes::all(0.0), Lanes::all(0.0));
        if let Some(upload) = &self.prepared.upload {
            let per_trigger = upload.pictures_per_trigger;
            if !upload.daily {
                sessions = by_day + by_night;
                pictures = Lanes::all(per_trigger);
            } else {
                if block.daily_upload_k.is_some() {
                    pictures = self.waiting;
                    sessions = Lanes::all(0.0).below(pictures);
                    self.waiting = Lanes::all(0.0);
                }
                self.waiting += (by_day + by_night) * per_trigger;
            }
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

    /// Current asleep. It is so small that two rounds give its every digit.
    #[inline(always)]
    pub(super) fn asleep(&self, standing: &Standing<L>) -> Lanes<L> {
        let watts = self.prepared.scenario.draw.standby.as_watts() / self.prepared.strings;
        let power = self.luck.power * watts;
        let inner = (standing.open_circuit - standing.polarisation).max(Lanes::all(LEAST_VOLTS));
        let first = power / inner;
        power / (inner - standing.ohmic * first).max(Lanes::all(LEAST_VOLTS))
    }

    /// Charge that a block draws from a string, with what it draws `asleep` and the share of its events
    /// that a store leaves to it.
    #[inline(always)]
    pub(super) fn coulombs<R: Root>(
        &self,
        standing: &Standing<L>,
        done: &Done<L>,
        asleep: Lanes<L>,
        events_on_pack: Lanes<L>,
    ) -> Lanes<L> {
        let Prepared {
            day,
            night,
            upload,
            check_in,
            ..
        } = self.prepared;
        let power = self.luck.power;
        let mut coulombs = Lanes::all(0.0);
        coulombs += day.pulse::<R>(standing, power).coulombs * done.by_day;
        coulombs += night.pulse::<R>(standing, power).coulombs * done.by_night;
        if let Some(upload) = upload {
            let session = Session {
                upload,
                pictures: done.pictures,
            };
            let pulse = session.pulse::<R>(standing, power);
            coulombs += pulse.coulombs * done.sessions * self.luck.airtime;
        }
        if let Some(check_in) = check_in {
            let pulse = check_in.pulse::<R>(standing, power);
            coulombs += pulse.coulombs * self.luck.airtime * done.check_ins;
        }
        asleep + coulombs * events_on_pack
    }

    /// What the camera wants in a block.
    #[inline(always)]
    pub(super) fn wanted(&self, block: &Block, done: &Done<L>) -> Wanted<L> {
        let Joules {
            day,
            night,
            session,
            picture,
            check_in,
        } = self.prepared.joules;
        let asleep = (self.prepared.scenario.draw.standby * block.span).as_joules();
        let seen = done.by_day * day + done.by_night * night + asleep;
        let sent = done.sessions * (done.pictures * picture + session) + done.check_ins * check_in;
        let power = self.luck.power;
        let all_j = (seen + sent * self.luck.airtime) * power;
        Wanted {
            all_j,
            events_j: (all_j - power * asleep).max(Lanes::all(0.0)),
        }
    }
}
