//! What a block's coldest hour finds failing, and who dies of it.

use super::block::Light;
use super::cells::{LaneState, Resisting};
use super::demand::Done;
use super::pulses::{Pulling, Session, Standing};
use super::step::Paths;
use super::{Block, EndDays, Traffic};
use crate::lanes::{LaneMask, Lanes};
use crate::number::{Mask, Number};
use crate::season::{Cause, Ending, Task};
use crate::units::{Temperature, Voltage};

/// The string at a block's coldest hour.
pub(super) struct Coldest<const L: usize> {
    pub(super) reference: Resisting<L>,
    /// The cells, which give `usable` of their capacity.
    pub(super) there: LaneState<L>,
    pub(super) usable: Lanes<L>,
    /// What the day is warmer than expected at that hour, kelvin.
    pub(super) warmer_k: Lanes<L>,
    /// The string at the block's lowest temperature: no event of the block finds it worse.
    pub(super) worst: Standing<L>,
}

/// An event that is asked about: how often it comes in which light.
struct Asked<'a, const L: usize> {
    task: Task,
    light: &'a Light,
    times: Lanes<L>,
    /// The temperature, where the clock decides it.
    kelvin: Option<Lanes<L>>,
    /// The voltage under which its failing is of interest.
    limit: Voltage<Lanes<L>>,
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
    pub(super) fn find_failures<T: Traffic<L>>(
        &mut self,
        block: &Block,
        coldest: &Coldest<L>,
        done: &Done<L>,
    ) -> Lanes<L> {
        let limits = &self.cameras.draw.limits;
        let cut_off = limits.cut_off;
        let days = (self.seconds + block.span.as_seconds() * block.coldest_from) / 86_400.0;
        let Standing {
            circuit,
            polarisation,
        } = &coldest.worst;
        let asleep = self.asleep(&coldest.worst);
        let drop = circuit.ohmic * asleep.current + asleep.overpotential;
        let resting = circuit.open_circuit - polarisation.total() - drop * self.on_pack.asleep;
        let off = resting.below(cut_off).ones() * self.on_pack.asleep;
        let mut died = off * code(Cause::VoltageAsleep);
        if block.day.hours > 0.0 {
            let asked = Asked {
                task: Task::DayTrigger,
                light: &block.day,
                times: done.by_day,
                kelvin: None,
                limit: cut_off,
            };
            let _ = self.find::<T>(&mut died, &self.cameras.draw.day, &asked, coldest);
        }
        if block.night.hours > 0.0 {
            self.find_by_night::<T>(&mut died, block, coldest, done, days);
        }
        let either = block.either_light();
        let radio = |task: Task, times| Asked {
            task,
            light: &either,
            times,
            kelvin: None,
            limit: task.lowest(limits).max(cut_off),
        };
        let mut unsent = Lanes::all(0.0);
        if let (Some(upload), true) = (&self.cameras.draw.upload, any(done.sessions)) {
            let session = Session {
                upload,
                pictures: done.pictures,
            };
            let asked = Asked {
                kelvin: block.daily_upload_k.map(|k| coldest.warmer_k + k),
                ..radio(Task::Session, done.sessions)
            };
            unsent = self.find::<T>(&mut died, &session, &asked, coldest);
        }
        if let Some(event) = &self.cameras.draw.check_in {
            let asked = radio(Task::CheckIn, Lanes::all(done.check_ins));
            unsent = unsent.max(self.find::<T>(&mut died, event, &asked, coldest));
        }
        note(&mut self.followed.ends[Ending::Uploads], unsent, days);
        died
    }

    /// Finds what fails by night. Once night pictures are lost only death is of interest.
    #[inline(always)]
    fn find_by_night<T: Traffic<L>>(
        &mut self,
        died: &mut Lanes<L>,
        block: &Block,
        coldest: &Coldest<L>,
        done: &Done<L>,
        days: f64,
    ) {
        let prepared = self.prepared;
        let limits = &self.cameras.draw.limits;
        let lost_at = self.followed.ends[Ending::NightPictures];
        let lost = lost_at.below(Lanes::all(f64::INFINITY));
        let cut_off = limits.cut_off;
        let bright = Task::NightTrigger.lowest(limits);
        let asked = Asked {
            task: Task::NightTrigger,
            light: &block.night,
            times: done.by_night,
            kelvin: None,
            limit: if prepared.lit {
                Voltage::choose(lost, cut_off, bright)
            } else {
                cut_off
            },
        };
        let failed = self.find::<T>(died, &self.cameras.draw.night, &asked, coldest);
        if prepared.lit {
            note(&mut self.followed.ends[Ending::NightPictures], failed, days);
        }
    }

    /// Asks for the lowest voltage under `what`: adds who dies of it, and gives 1 where it fails, else 0. Who
    /// is dead fails at nothing.
    #[inline(always)]
    fn find<T: Traffic<L>>(
        &self,
        died: &mut Lanes<L>,
        what: &impl Pulling<L>,
        asked: &Asked<'_, L>,
        coldest: &Coldest<L>,
    ) -> Lanes<L> {
        let draw = &self.prepared.scenario.draw;
        let kelvin = asked
            .kelvin
            .unwrap_or_else(|| coldest.asked::<T>(asked.light, asked.times));
        let lowest = self.lowest(what, coldest, Temperature::from_si(kelvin), asked);
        let dead = lowest.below(self.cameras.draw.limits.cut_off).ones();
        let cause = dead * code(asked.task.cause(draw));
        *died = Lanes::choose(above_zero(*died), *died, cause);
        lowest.below(asked.limit).ones()
    }

    /// The lowest voltage under `what`, in each lane in which it comes and might pull the string
    /// under the limit; infinite in the others, whatever their neighbours need.
    #[inline(always)]
    fn lowest(
        &self,
        what: &impl Pulling<L>,
        coldest: &Coldest<L>,
        temperature: Temperature<Lanes<L>>,
        asked: &Asked<'_, L>,
    ) -> Voltage<Lanes<L>> {
        let never = Voltage::from_si(Lanes::all(f64::INFINITY));
        let mut which = self.alive * self.on_pack.events * above_zero(asked.times).ones();
        if self.prepared.cells.worst_when_cold() {
            let surely = what.surely_above(&coldest.worst, asked.limit);
            which *= surely.below(asked.limit).ones();
        }
        if !any(which) {
            return never;
        }
        let cells = &self.prepared.cells;
        let factors = cells.factors(temperature);
        let resisting = coldest.reference.at(&factors);
        let open_circuit = cells.open_circuit(&coldest.there, coldest.usable, factors.held_back);
        let open_circuit = open_circuit + cells.shift(temperature);
        let standing = Standing {
            circuit: cells.circuit(open_circuit, &resisting, &factors),
            polarisation: coldest.worst.polarisation,
        };
        let lowest = what.pulse(&standing).lowest;
        Voltage::choose(above_zero(which), lowest, never)
    }
}

/// Where a number is above 0.
#[inline(always)]
pub(super) fn above_zero<const L: usize>(x: Lanes<L>) -> LaneMask<L> {
    Lanes::all(0.0).below(x)
}

/// Whether any of these numbers, of 0 or more, is above 0.
#[inline(always)]
pub(super) fn any<const L: usize>(x: Lanes<L>) -> bool {
    above_zero(x).any()
}

/// Notes `days` where `which` is not 0 and nothing is noted yet.
#[inline(always)]
pub(super) fn note<const L: usize>(
    at: &mut EndDays<L>,
    which: Lanes<L>,
    days: impl Into<Lanes<L>>,
) {
    *at = Lanes::choose(above_zero(which), at.min(days.into()), *at);
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
