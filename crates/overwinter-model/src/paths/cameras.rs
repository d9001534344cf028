//! The cameras of lanes: one scenario, and of each lane what its own camera draws.

use super::Prepared;
use super::pulses::{LaneBurst, LaneEvent, LaneUpload};
use crate::cell::Beyond;
use crate::circuit::BRANCHES;
use crate::draw::{Burst, CheckIn, Draw, Upload};
use crate::lanes::Lanes;
use crate::season::Limits;
use crate::units::{Energy, Power, Time, Voltage};

/// Cameras side by side, which differ in the figures of their draw.
pub struct Cameras<'a, 'b, const L: usize> {
    pub(super) prepared: &'a Prepared<'b>,
    pub(super) draw: LaneDraw<L>,
}

/// What each lane's camera draws, with all that does not move from day to day worked out.
pub(super) struct LaneDraw<const L: usize> {
    pub(super) standby: Power<Lanes<L>>,
    pub(super) day: LaneEvent<L>,
    pub(super) night: LaneEvent<L>,
    pub(super) upload: Option<LaneUpload<L>>,
    pub(super) check_in: Option<LaneEvent<L>>,
    pub(super) energies: Energies<L>,
    /// For how long a trigger by day and one by night leave a camera deaf, hours.
    pub(super) deaf_hours: [Lanes<L>; 2],
    /// What a trigger by day and one by night write on the card, megabytes.
    pub(super) written_mb: [Lanes<L>; 2],
    pub(super) limits: Limits<Lanes<L>>,
    /// What a camera asks of a cell, against the published points.
    pub(super) beyond: Beyond<Lanes<L>>,
}

/// Energy of each event at the pack.
pub(super) struct Energies<const L: usize> {
    pub(super) day: Energy<Lanes<L>>,
    pub(super) night: Energy<Lanes<L>>,
    pub(super) session: Energy<Lanes<L>>,
    pub(super) picture: Energy<Lanes<L>>,
    pub(super) check_in: Energy<Lanes<L>>,
}

/// The draws of lanes, and how they are shared out.
struct Gather<'a, const L: usize> {
    draws: [&'a Draw; L],
    strings: f64,
    times: [Time; BRANCHES],
}

impl<'b> Prepared<'b> {
    /// Cameras that draw as the scenario says.
    #[must_use]
    pub fn as_said<const L: usize>(&self) -> Cameras<'_, 'b, L> {
        self.gather([&self.scenario.draw; L])
    }

    /// Cameras that draw so, each in its lane. They do what the scenario's does, as often and by the same
    /// clock; only its powers, times, sizes and voltages are another's.
    #[must_use]
    pub fn cameras<const L: usize>(&self, draws: &[Draw; L]) -> Cameras<'_, 'b, L> {
        self.gather(draws.each_ref())
    }

    #[inline(never)]
    fn gather<const L: usize>(&self, draws: [&Draw; L]) -> Cameras<'_, 'b, L> {
        let pack = &self.scenario.pack;
        let gather = Gather {
            draws,
            strings: self.strings,
            times: pack.cell().branches.map(|branch| branch.time),
        };
        let current = |burst: &Burst| burst.total() / self.strings / pack.fresh_voltage();
        let tested = &pack.cell().tested;
        let beyond = draws.map(|draw| {
            heaviest(draw).map_or(Beyond::NOWHERE, |burst| {
                Beyond::of(tested, current(burst), burst.span)
            })
        });
        Cameras {
            prepared: self,
            draw: LaneDraw {
                beyond: beyond_of(&beyond),
                ..gather.lane_draw()
            },
        }
    }
}

fn beyond_of<const L: usize>(lanes: &[Beyond; L]) -> Beyond<Lanes<L>> {
    Beyond {
        heavier: Lanes(lanes.each_ref().map(|it| it.heavier)),
        heavier_in_frost: Lanes(lanes.each_ref().map(|it| it.heavier_in_frost)),
        pulse: Lanes(lanes.each_ref().map(|it| it.pulse)),
        coldest: Lanes(lanes.each_ref().map(|it| it.coldest)),
    }
}

impl<const L: usize> Gather<'_, L> {
    fn of(&self, each: impl Fn(&Draw) -> f64) -> Lanes<L> {
        Lanes(self.draws.map(each))
    }

    fn energy(&self, each: impl Fn(&Draw) -> Energy) -> Energy<Lanes<L>> {
        Energy::from_si(self.of(|draw| each(draw).as_joules()))
    }

    fn volts(&self, each: impl Fn(&Limits) -> Voltage) -> Voltage<Lanes<L>> {
        Voltage::from_si(self.of(|draw| each(&draw.limits()).as_volts()))
    }

    /// A burst that a camera may not have: no power for no time then.
    fn burst<'d>(&'d self, each: impl Fn(&'d Draw) -> Option<&'d Burst>) -> LaneBurst<L> {
        let watts = |draw| each(draw).map_or(0.0, |burst| burst.total().as_watts());
        let seconds = |draw| each(draw).map_or(0.0, |burst| burst.span.as_seconds());
        LaneBurst {
            power: Power::from_si(Lanes(self.draws.map(watts))) / Lanes::all(self.strings),
            span: Time::from_si(Lanes(self.draws.map(seconds))),
        }
    }

    /// The bursts of lanes in their order: a camera with fewer than another has empty ones at the end.
    fn event<'d>(&'d self, each: impl Fn(&'d Draw) -> &'d [Burst]) -> LaneEvent<L> {
        let longest = self.draws.iter().map(|draw| each(draw).len()).max();
        let bursts = 0..longest.unwrap_or(0);
        let bursts = bursts.map(|number| self.burst(|draw| each(draw).get(number)));
        LaneEvent::new(bursts, &self.times)
    }

    fn lane_draw(&self) -> LaneDraw<L> {
        let said = self.draws.first();
        let uploads = said.is_some_and(|draw| draw.upload.is_some());
        let reports = said.and_then(|draw| draw.check_in.as_ref());
        let check_in = |draw: &'_ Draw| draw.check_in.as_ref().map_or(Energy::ZERO, report_energy);
        let sent = |draw: &'_ Draw, of: fn(&Upload) -> &Burst| {
            draw.upload
                .as_ref()
                .map_or(Energy::ZERO, |it| energy(of(it)))
        };
        let deaf = self.draws.map(Draw::deaf_hours);
        let written = self.draws.map(|draw| {
            draw.card.map_or([0.0; 2], |card| {
                [card.day_trigger_mb, card.night_trigger_mb]
            })
        });
        LaneDraw {
            standby: Power::from_si(self.of(|draw| draw.standby.as_watts())),
            day: self.event(|draw| draw.day_trigger.bursts()),
            night: self.event(|draw| draw.night_trigger.bursts()),
            upload: uploads.then(|| {
                let of = |of: fn(&Upload) -> &Burst| {
                    self.burst(move |draw| draw.upload.as_ref().map(of))
                };
                LaneUpload::new(of(|it| &it.session), of(|it| &it.picture), &self.times)
            }),
            check_in: reports
                .is_some_and(|it| it.per_day > 0.0)
                .then(|| self.event(report_bursts)),
            energies: Energies {
                day: self.energy(|draw| draw.day_trigger.energy().total()),
                night: self.energy(|draw| draw.night_trigger.energy().total()),
                session: self.energy(|draw| sent(draw, |it| &it.session)),
                picture: self.energy(|draw| sent(draw, |it| &it.picture)),
                check_in: self.energy(check_in),
            },
            deaf_hours: pair(deaf),
            written_mb: pair(written),
            limits: Limits {
                cut_off: self.volts(|limits| limits.cut_off),
                flash: self.volts(|limits| limits.flash),
                session: self.volts(|limits| limits.session),
                check_in: self.volts(|limits| limits.check_in),
            },
            beyond: beyond_of(&[Beyond::NOWHERE; L]),
        }
    }
}

/// Lanes of the first numbers and of the second.
fn pair<const L: usize>(lanes: [[f64; 2]; L]) -> [Lanes<L>; 2] {
    [
        Lanes(lanes.map(|[first, _]| first)),
        Lanes(lanes.map(|[_, second]| second)),
    ]
}

fn energy(burst: &Burst) -> Energy {
    burst.total() * burst.span
}

fn report_energy(check_in: &CheckIn) -> Energy {
    check_in.event.energy().total()
}

fn report_bursts(draw: &Draw) -> &[Burst] {
    draw.check_in.as_ref().map_or(&[], |it| it.event.bursts())
}

/// The burst with the largest power.
fn heaviest(draw: &Draw) -> Option<&Burst> {
    let upload = draw
        .upload
        .iter()
        .flat_map(|upload| [&upload.session, &upload.picture]);
    let check_in = draw
        .check_in
        .iter()
        .flat_map(|check_in| check_in.event.bursts());
    let triggers = draw
        .day_trigger
        .bursts()
        .iter()
        .chain(draw.night_trigger.bursts());
    let bursts = triggers.chain(upload).chain(check_in);
    bursts.reduce(|a: &Burst, b| if b.total() > a.total() { b } else { a })
}
