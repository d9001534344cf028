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
mod cameras;
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
pub use cameras::Cameras;
pub use chances::{AirChances, CameraChances, MonthChances};
pub use lengths::{FORESEEN_BLOCK_H, FORESEEN_DAYS};
pub use luck::{DayAir, Expected, Luck, Traffic};
pub use sampled::{Drawn, Sampled, SampledAir};
pub use step::{Today, follow};

use crate::draw::{Burst, ByUse, Draw, Use};
use crate::harvest::FromPanel;
use crate::lanes::Lanes;
use crate::pack::Pack;
use crate::season::{Cause, Ends, Scenario};
use crate::units::{Energy, Time};

use cells::LaneCells;
use solar::LaneFeeds;

/// A scenario with all that paths and days share worked out: some 40 KB of tables, best kept in a box.
pub struct Prepared<'a> {
    scenario: &'a Scenario,
    cells: LaneCells<'a>,
    /// Strings in parallel, which share every load evenly.
    strings: f64,
    lit: bool,
    feeds: Option<LaneFeeds<'a>>,
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
        Self {
            scenario,
            cells: LaneCells::new(&scenario.pack),
            strings: f64::from(scenario.pack.parallel()),
            lit: scenario.draw.night_trigger.is_lit(),
            feeds: scenario
                .feeds
                .as_ref()
                .and_then(|feeds| LaneFeeds::of(feeds, &scenario.pack)),
        }
    }

    /// The cells.
    #[must_use]
    pub fn pack(&self) -> &Pack {
        &self.scenario.pack
    }
}

impl<const L: usize> Counts<L> {
    /// Energy at the pack by use, of a lane whose camera draws `draw` and sends `airtime` times as long as
    /// that says.
    #[must_use]
    pub fn used(&self, lane: usize, draw: &Draw, airtime: f64) -> ByUse {
        let of = |lanes: &Lanes<L>| lanes.0.get(lane).copied().unwrap_or(0.0);
        let mut used = ByUse::default();
        let alive = Time::from_seconds(of(&self.alive_s));
        used.add(Use::Standby, draw.standby * alive);
        used.add_all(&draw.day_trigger.energy(), of(&self.by_day));
        used.add_all(&draw.night_trigger.energy(), of(&self.by_night));
        if let Some(upload) = &draw.upload {
            let mut add = |burst: &Burst, times: f64| {
                used.add(burst.what, burst.power * burst.span * (times * airtime));
            };
            add(&upload.session, of(&self.sessions));
            add(&upload.picture, of(&self.sent));
        }
        if let Some(check_in) = &draw.check_in {
            used.add_all(&check_in.event.energy(), of(&self.check_ins) * airtime);
        }
        used
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
