//! Sampled paths through a season, several side by side.
//!
//! [`crate::season::run`] follows one camera along the expected path, hour by hour. Here the same
//! equations run on `L` paths at once, each with its own weather, animals, cells and draw, in steps
//! of a block of hours. What the blocks share is worked out once.
//!
//! The steps are longer, so each is taken in another way. The charge of a block is foreseen with the
//! open-circuit voltage of the block before. The state at the block's coldest hour then lies between
//! its start and its end: that is where voltages are asked, and the voltage there puts the charge
//! right.

mod block;
mod cells;
mod chances;
mod demand;
mod failures;
mod lengths;
mod light;
mod luck;
mod pulses;
mod sampled;
mod solar;
mod step;
mod tables;

pub use block::Block;
pub use chances::{AirChances, CameraChances, MonthChances, POWER_SD_LN};
pub use lengths::{FORESEEN_BLOCK_H, FORESEEN_DAYS};
pub use luck::{DayAir, Expected, Luck, Traffic};
pub use sampled::{Drawn, Sampled, SampledAir};
pub use step::{Today, follow};

use crate::cell::Beyond;
use crate::draw::{Burst, ByUse, Draw, Event, Use};
use crate::harvest::FromPanel;
use crate::lanes::Lanes;
use crate::pack::Pack;
use crate::season::{Cause, Ends, Scenario};
use crate::units::{Energy, Time};

use cells::LaneCells;
use pulses::{LaneEvent, LaneUpload};
use solar::LaneFeeds;

/// A scenario with all that paths and days share worked out: some 40 KB of tables, best kept in a box.
pub struct Prepared<'a> {
    scenario: &'a Scenario,
    cells: LaneCells<'a>,
    /// Strings in parallel, which share every load evenly.
    strings: f64,
    day: LaneEvent,
    night: LaneEvent,
    lit: bool,
    upload: Option<LaneUpload>,
    check_in: Option<LaneEvent>,
    feeds: Option<LaneFeeds<'a>>,
    energies: Energies,
    /// What the camera asks of a cell, against the published points.
    beyond: Beyond,
}

/// Energy of each event at the pack.
struct Energies {
    day: Energy,
    night: Energy,
    session: Energy,
    picture: Energy,
    check_in: Energy,
}

/// When something ended in each lane, in days since the season began; infinite where it did not.
pub type EndDays<const L: usize> = Lanes<L>;

/// What became of the paths of a camera.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Followed<const L: usize> {
    /// What came to an end, and when.
    pub ends: Ends<EndDays<L>>,
    /// Why the camera stopped.
    pub causes: [Option<Cause>; L],
    /// Share of the charge left at the end.
    pub charge_left: Lanes<L>,
    /// How often the camera did what.
    pub counts: Counts<L>,
    /// In the cells and in a store at the start, and what warmth of the air added: see
    /// [`crate::season::Ledger::put_in`].
    pub put_in: Energy<Lanes<L>>,
    /// Lost to self-discharge.
    pub self_discharge: Energy<Lanes<L>>,
    /// In the cells and in a store at the end.
    pub left: Energy<Lanes<L>>,
    /// What a panel brought.
    pub panel: FromPanel<Lanes<L>>,
}

/// How often a camera did what, to its end.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Counts<const L: usize> {
    /// Seconds that it was alive.
    pub alive_s: Lanes<L>,
    /// Triggers answered by day.
    pub by_day: Lanes<L>,
    /// Triggers answered by night.
    pub by_night: Lanes<L>,
    /// Sessions with pictures.
    pub sessions: Lanes<L>,
    /// Pictures sent.
    pub sent: Lanes<L>,
    /// Reports.
    pub check_ins: Lanes<L>,
}

impl<'a> Prepared<'a> {
    /// Works out what all paths of `scenario` share.
    #[must_use]
    pub fn new(scenario: &'a Scenario) -> Self {
        let draw = &scenario.draw;
        let pack = &scenario.pack;
        let strings = f64::from(scenario.pack.parallel());
        let times = scenario.pack.cell().branches.map(|branch| branch.time);
        let event = |event| LaneEvent::new(event, strings, &times);
        Self {
            scenario,
            cells: LaneCells::new(&scenario.pack),
            strings,
            day: event(&draw.day_trigger),
            night: event(&draw.night_trigger),
            lit: draw.night_trigger.is_lit(),
            upload: draw
                .upload
                .as_ref()
                .map(|upload| LaneUpload::new(upload, strings, &times)),
            check_in: draw
                .check_in
                .as_ref()
                .filter(|check_in| check_in.per_day > 0.0)
                .map(|check_in| event(&check_in.event)),
            feeds: scenario
                .feeds
                .as_ref()
                .and_then(|feeds| LaneFeeds::of(feeds, &scenario.pack)),
            energies: Energies::of(draw),
            beyond: heaviest(draw).map_or(Beyond::NOWHERE, |burst| {
                let current = burst.total() / strings / pack.fresh_voltage();
                Beyond::of(&pack.cell().tested, current, burst.span)
            }),
        }
    }

    /// The cells.
    #[must_use]
    pub fn pack(&self) -> &Pack {
        &self.scenario.pack
    }

    /// Energy at the pack by use, of one lane of `counts`, whose camera draws `power` times and
    /// sends `airtime` times as long as the scenario says.
    #[must_use]
    pub fn used<const L: usize>(&self, counts: &Counts<L>, luck: &Luck<L>, lane: usize) -> ByUse {
        let of = |lanes: &Lanes<L>| lanes.0.get(lane).copied().unwrap_or(0.0);
        let draw = &self.scenario.draw;
        let power = of(&luck.power);
        let on_air = power * of(&luck.airtime);
        let mut used = ByUse::default();
        let alive = Time::from_seconds(of(&counts.alive_s));
        used.add(Use::Standby, draw.standby * alive * power);
        used.add_all(&draw.day_trigger.energy(), of(&counts.by_day) * power);
        used.add_all(&draw.night_trigger.energy(), of(&counts.by_night) * power);
        if let Some(upload) = &draw.upload {
            let mut add = |burst: &Burst, times: f64| {
                used.add(burst.what, burst.power * burst.span * (times * on_air));
            };
            add(&upload.session, of(&counts.sessions));
            add(&upload.picture, of(&counts.sent));
        }
        if let Some(check_in) = &draw.check_in {
            used.add_all(&check_in.event.energy(), of(&counts.check_ins) * on_air);
        }
        used
    }
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
    bursts.reduce(|a, b| if b.total() > a.total() { b } else { a })
}

impl Energies {
    fn of(draw: &Draw) -> Self {
        let burst = |burst: &Burst| burst.total() * burst.span;
        let event = |event: &Event| event.energy().total();
        let upload = draw.upload.as_ref();
        Self {
            day: event(&draw.day_trigger),
            night: event(&draw.night_trigger),
            session: upload.map_or(Energy::ZERO, |upload| burst(&upload.session)),
            picture: upload.map_or(Energy::ZERO, |upload| burst(&upload.picture)),
            check_in: draw
                .check_in
                .as_ref()
                .map_or(Energy::ZERO, |check_in| event(&check_in.event)),
        }
    }
}

impl<const L: usize> Followed<L> {
    /// At the start of the season.
    const NOTHING_YET: Self = Self {
        ends: Ends::all(Lanes::all(f64::INFINITY)),
        causes: [None; L],
        charge_left: Lanes::all(0.0),
        counts: Counts {
            alive_s: Lanes::all(0.0),
            by_day: Lanes::all(0.0),
            by_night: Lanes::all(0.0),
            sessions: Lanes::all(0.0),
            sent: Lanes::all(0.0),
            check_ins: Lanes::all(0.0),
        },
        put_in: Energy::<Lanes<L>>::NONE,
        self_discharge: Energy::<Lanes<L>>::NONE,
        left: Energy::<Lanes<L>>::NONE,
        panel: FromPanel::<Lanes<L>>::NONE,
    };
}
