//! What a block's coldest hour finds failing, and who dies of it.

use super::block::Light;
use super::cells::{Resisting, inverse};
use super::demand::Done;
use super::pulses::{Pull, Session, Standing};
use super::step::Paths;
use super::{Block, Traffic};
use crate::lanes::{Lanes, Root};
use crate::season::Cause;

/// The string at a block's coldest hour.
pub(super) struct Coldest<const L: usize> {
    pub(super) reference: Resisting<L>,
    pub(super) open_circuit: Lanes<L>,
    pub(super) polarisation: Lanes<L>,
    /// What the day is warmer than expected at that hour, kelvin.
    pub(super) warmer_k: Lanes<L>,
    /// The string at the block's lowest temperature: no event of the block finds it worse.
    pub(super) worst: Standing<L>,
}

impl<const L: usize> Coldest<L> {
    /// Temperature at which an event is asked that came so many `times` in a light: the coldest of so
    /// many moments. Moments are taken to be evenly spread between the coldest and as much above the
    /// mean, so the coldest of n lies a share of 1 / (n + 1) above the lowest.
    #[inline(always)]
    fn asked<T: Traffic<L>>(&self, light: &Light, times: Lanes<L>) -> Lanes<L> {
        let lowest = self.warmer_k + light.coldest_k;
        if T::ASKED_AT_COLDEST {
            return lowest;
        }
        lowest + Lanes::all(2.0 * light.above_coldest_k) / (times + 1.0)
    }
}

impl<const L: usize> Paths<'_, '_, L> {
    /// Notes what fails in a block, and gives the cause of each death as [`code`]s, 0 where there is none.
    #[inline(always)]
    pub(super) fn find_failures<R: Root, T: Traffic<L>>(
        &mut self,
        block: &Block,
        coldest: &Coldest<L>,
        done: &Done<L>,
        asleep_volts: Lanes<L>,
    ) -> Lanes<L> {
        let prepared = self.prepared;
        let draw = &prepared.scenario.draw;
        let cut_off = Lanes::all(draw.cut_off.as_volts());
        let days = (self.seconds + block.span.as_seconds() * block.coldest_from) / 86_400.0;
        let shift = prepared.cells.shift(coldest.warmer_k + block.coldest_k());
        let resting = coldest.open_circuit + shift - coldest.polarisation - asleep_volts;
        let mut died = resting.below(cut_off) * self.on_pack.asleep * code(Cause::VoltageAsleep);
        let mut pulled = |lowest: Lanes<L>, cause: Cause| {
            let dead = lowest.below(cut_off);
            died = died.choose(died, dead * code(cause));
        };

        if block.day.hours > 0.0 {
            let kelvin = coldest.asked::<T>(&block.day, done.by_day);
            let lowest = self.ask::<R>(&prepared.day, coldest, kelvin, done.by_day, cut_off);
            pulled(lowest, Cause::VoltageUnderPicture);
        }
        if block.night.hours > 0.0 {
            let kelvin = coldest.asked::<T>(&block.night, done.by_night);
            let bright = Lanes::all(draw.flash_lowest.max(draw.cut_off).as_volts());
            let already_lost = self
                .followed
                .night_pictures_lost
                .below(Lanes::all(f64::INFINITY));
            let limit = if prepared.lit {
                already_lost.choose(cut_off, bright)
            } else {
                cut_off
            };
            let lowest = self.ask::<R>(&prepared.night, coldest, kelvin, done.by_night, limit);
            let cause = if prepared.lit {
                Cause::VoltageUnderFlash
            } else {
                Cause::VoltageUnderPicture
            };
            pulled(lowest, cause);
            let dim = lowest.below(limit) * self.alive;
            if prepared.lit {
                note(&mut self.followed.night_pictures_lost, dim, days);
            }
        }
        let mut unsent = Lanes::all(0.0);
        if let (Some(upload), true) = (&prepared.upload, done.sessions.any()) {
            let either = block.either_light();
            let kelvin = match block.daily_upload_k {
                Some(kelvin) => coldest.warmer_k + kelvin,
                None => coldest.asked::<T>(&either, done.sessions),
            };
            let session = Session {
                upload,
                pictures: done.pictures,
            };
            let limit = Lanes::all(upload.lowest_v).max(cut_off);
            let lowest = self.ask::<R>(&session, coldest, kelvin, done.sessions, limit);
            pulled(lowest, Cause::VoltageUnderUpload);
            unsent = lowest.below(limit);
        }
        if let (Some(event), Some(check_in)) = (&prepared.check_in, &draw.check_in) {
            let times = Lanes::all(done.check_ins);
            let kelvin = coldest.asked::<T>(&block.either_light(), times);
            let limit = Lanes::all(check_in.lowest.max(draw.cut_off).as_volts());
            let lowest = self.ask::<R>(event, coldest, kelvin, times, limit);
            pulled(lowest, Cause::VoltageUnderUpload);
            unsent = unsent.max(lowest.below(limit));
        }
        note(&mut self.followed.uploads_failed, unsent * self.alive, days);
        died
    }

    /// The lowest voltage under `what`, in each lane in which it comes and might pull the string
    /// under `limit`; infinite in the others, whatever their neighbours need.
    #[inline(always)]
    fn ask<R: Root>(
        &self,
        what: &impl Pull<L>,
        coldest: &Coldest<L>,
        kelvin: Lanes<L>,
        times: Lanes<L>,
        limit: Lanes<L>,
    ) -> Lanes<L> {
        let power = self.luck.power;
        let mut asked = self.alive * self.on_pack.events * Lanes::all(0.0).below(times);
        if self.prepared.cells.worst_when_cold() {
            asked *= what.surely_above(&coldest.worst, power, limit).below(limit);
        }
        if !asked.any() {
            return Lanes::all(f64::INFINITY);
        }
        let cells = &self.prepared.cells;
        let (ohmic, slow) = cells.resistances_at(&coldest.reference, inverse(kelvin));
        let standing = Standing {
            open_circuit: coldest.open_circuit + cells.shift(kelvin),
            polarisation: coldest.polarisation,
            ohmic,
            slow,
        };
        let lowest = what.pulse::<R>(&standing, power).lowest;
        asked.choose(lowest, Lanes::all(f64::INFINITY))
    }
}

/// Notes `days` where `which` is not 0 and nothing is noted yet.
#[inline(always)]
pub(super) fn note<const L: usize>(at: &mut Lanes<L>, which: Lanes<L>, days: impl Into<Lanes<L>>) {
    *at = which.choose(at.min(days.into()), *at);
}

/// The causes as numbers, which lanes can choose between.
const CAUSES: [Cause; 5] = [
    Cause::VoltageAsleep,
    Cause::VoltageUnderPicture,
    Cause::VoltageUnderFlash,
    Cause::VoltageUnderUpload,
    Cause::WeakestCellEmpty,
];

/// The number of a cause, 1 or more.
#[inline(always)]
pub(super) fn code(cause: Cause) -> f64 {
    (1..)
        .zip(CAUSES)
        .find(|(_, is)| *is == cause)
        .map_or(0.0, |(n, _)| f64::from(n))
}

/// The cause of a number.
pub(super) fn cause_of(code: f64) -> Option<Cause> {
    (1..)
        .zip(CAUSES)
        .find(|(n, _)| (f64::from(*n) - code).abs() < 0.5)
        .map(|(_, cause)| cause)
}
