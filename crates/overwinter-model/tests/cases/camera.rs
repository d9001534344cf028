//! Cameras at random with all that a camera can have: a panel, a card, uploads of either kind, reports, and
//! limits above the cut-off.

use overwinter_model::draw::{Card, UploadMode};
use overwinter_model::harvest::{ChargeLimit, PanelDay, Store};
use overwinter_model::pack::Pack;
use overwinter_model::paths::Block;
use overwinter_model::season::{Camera, Feeds, Hour, Scenario};
use overwinter_model::{Power, Temperature, Time};
use proptest::prelude::*;

use super::Case;
use super::sunny::{Mast, Sunny, sunny};

/// What a camera sends.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Sends {
    Nothing,
    /// All pictures of a day in one session at this hour.
    Daily(u8),
    /// The pictures of each trigger.
    Each,
}

/// A camera and its season.
#[derive(Clone, Debug)]
pub(crate) struct Full {
    pub(crate) sunny: Sunny,
    pub(crate) has_panel: bool,
    pub(crate) card_mb: Option<f64>,
    pub(crate) sends: Sends,
    /// Pictures sent for each trigger.
    pub(crate) sent_per_trigger: f64,
    pub(crate) reports_per_day: f64,
    pub(crate) scheduled_per_day: f64,
    pub(crate) quiet_s: f64,
    /// The lowest voltages of the flash, of uploads and of reports over the cut-off.
    pub(crate) limits: [f64; 3],
    /// Share of the hour of dawn that is dark; at dusk it is half of that.
    pub(crate) twilight: f64,
    /// By how much the air gets colder over half a year, kelvin.
    pub(crate) falls_k: f64,
    /// No animals pass before this hour of a day.
    pub(crate) idle_until: u8,
    /// How long sending a picture takes.
    pub(crate) picture_s: f64,
    pub(crate) cells: Cells,
    pub(crate) lock_out: LockOut,
}

/// What the cells are like when the season begins.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Cells {
    pub(crate) shelf_years: f64,
    /// Share of their charge that is left.
    pub(crate) left: f64,
    /// So many times slower than those of the catalogue.
    pub(crate) slower: f64,
    /// Added to the volts per kelvin.
    pub(crate) more_per_k: f64,
}

/// When what a panel charges takes a charge.
#[derive(Clone, Copy, Debug)]
pub(crate) struct LockOut {
    pub(crate) lag_h: f64,
    pub(crate) warmest_c: Option<f64>,
    pub(crate) highest_w: Option<f64>,
    pub(crate) lost_per_month: f64,
}

fn cells() -> impl Strategy<Value = Cells> {
    let shelf_years = prop_oneof![2 => Just(0.0), 1 => 0.0..6.0_f64];
    let left = prop_oneof![2 => Just(1.0), 1 => 0.02..1.0_f64];
    let slower = prop_oneof![3 => Just(1.0), 1 => 1.0..200.0_f64];
    let more_per_k = prop_oneof![3 => Just(0.0), 1 => -0.0005..0.001_f64];
    (shelf_years, left, slower, more_per_k).prop_map(|(shelf_years, left, slower, more_per_k)| {
        Cells {
            shelf_years,
            left,
            slower,
            more_per_k,
        }
    })
}

fn lock_out() -> impl Strategy<Value = LockOut> {
    let lag_h = prop_oneof![2 => 0.0..8.0_f64, 1 => 8.0..100.0_f64];
    let warmest_c = prop::option::of(5.0..40.0_f64);
    let highest_w = prop::option::of(0.1..10.0_f64);
    let lost = prop_oneof![Just(0.0), 0.0..0.3_f64];
    (lag_h, warmest_c, highest_w, lost).prop_map(|(lag_h, warmest_c, highest_w, lost_per_month)| {
        LockOut {
            lag_h,
            warmest_c,
            highest_w,
            lost_per_month,
        }
    })
}

prop_compose! {
    pub(crate) fn full()(
        sunny in sunny(),
        has_panel in prop::bool::weighted(0.6),
        triggers_per_hour in prop_oneof![1 => Just(0.0), 9 => 0.02..4.0_f64],
        card_mb in prop::option::weighted(0.7, 50.0..20_000.0_f64),
        sends in prop_oneof![
            1 => Just(Sends::Nothing),
            2 => (0..24_u8).prop_map(Sends::Daily),
            2 => Just(Sends::Each),
        ],
        sent_per_trigger in 0.2..2.0_f64,
        reports_per_day in prop_oneof![Just(0.0), 0.5..6.0_f64],
        scheduled_per_day in prop_oneof![Just(0.0), 0.2..4.0_f64],
        quiet_s in 0.0..120.0_f64,
        limits in (0.85..1.3_f64, 0.9..1.25_f64, 0.9..1.25_f64),
        twilight in 0.0..1.0_f64,
        falls_k in 0.0..12.0_f64,
        idle_until in prop_oneof![2 => Just(0), 1 => 1..23_u8],
        picture_s in 0.3..4.0_f64,
        cells in cells(),
        lock_out in lock_out(),
    ) -> Full {
        let case = Case { triggers_per_hour, uploads: true, ..sunny.case.clone() };
        Full {
            sunny: Sunny { case, ..sunny }, has_panel, card_mb, sends, sent_per_trigger,
            reports_per_day, scheduled_per_day, quiet_s, limits: limits.into(), twilight, falls_k,
            idle_until, picture_s, cells, lock_out,
        }
    }
}

impl Full {
    /// The camera, with every power multiplied by `load`.
    pub(crate) fn scenario(&self, load: f64) -> Scenario {
        let mut scenario = self.sunny.case.scenario(load);
        let draw = &mut scenario.draw;
        let [flash, upload, report] = self.limits;
        draw.scheduled_per_day = self.scheduled_per_day;
        draw.quiet = Time::from_seconds(self.quiet_s);
        draw.flash_lowest = draw.cut_off * flash;
        draw.card = self.card_mb.map(|capacity_mb| Card {
            capacity_mb,
            day_trigger_mb: 2.0,
            night_trigger_mb: 1.0,
        });
        if let Some(it) = &mut draw.upload {
            it.pictures_per_trigger = self.sent_per_trigger;
            it.picture.span = Time::from_seconds(self.picture_s);
            it.lowest = draw.cut_off * upload;
        }
        match (self.sends, &mut draw.upload) {
            (Sends::Daily(hour), Some(it)) => it.mode = UploadMode::Daily { hour },
            (Sends::Each, Some(it)) => it.mode = UploadMode::Each,
            _ => draw.upload = None,
        }
        if let Some(it) = &mut draw.check_in {
            it.per_day = self.reports_per_day;
            it.lowest = draw.cut_off * report;
        }
        scenario.feeds = self.has_panel.then(|| self.feeds());
        self.cells.put_into(&mut scenario);
        scenario
    }

    fn feeds(&self) -> Feeds {
        let lag = Time::from_hours(self.lock_out.lag_h);
        match self.sunny.feeds() {
            Feeds::Pack { .. } => Feeds::Pack { lag },
            Feeds::Store(store) => Feeds::Store(Store {
                limit: ChargeLimit {
                    warmest: self.lock_out.warmest_c.map(Temperature::from_celsius),
                    highest: self.lock_out.highest_w.map(Power::from_watts),
                    ..store.limit
                },
                lag,
                self_discharge_per_month: self.lock_out.lost_per_month,
                ..store
            }),
        }
    }

    pub(crate) fn has_store(&self) -> bool {
        self.has_panel && self.sunny.store_wh.is_some()
    }

    /// An hour of a plain case with twilight, in a season that gets colder.
    fn hour(&self, number: usize, hour: &Hour) -> Hour {
        let dark_share = match hour.of_day {
            6 => self.twilight,
            17 => 0.5 * self.twilight,
            _ => hour.dark_share,
        };
        let passes = hour.day_triggers + hour.night_triggers;
        let triggers = if hour.of_day < self.idle_until {
            0.0
        } else {
            passes
        };
        let colder_k = self.falls_k * number as f64 / (183.0 * 24.0);
        let colder = |air: Temperature| Temperature::from_kelvin(air.as_kelvin() - colder_k);
        Hour {
            air: colder(hour.air),
            coldest: colder(hour.coldest),
            day_triggers: triggers * (1.0 - dark_share),
            night_triggers: triggers * dark_share,
            dark_share,
            ..*hour
        }
    }

    /// The season. Its panel's days take longer than following it.
    pub(crate) fn season(&self) -> Season {
        let mast = Mast::of(&self.sunny);
        let days: Vec<(Vec<Hour>, Option<PanelDay>)> = if self.has_panel {
            let days = mast.days(&self.sunny).into_iter();
            days.map(|(hours, panel)| (hours, Some(panel))).collect()
        } else {
            let hours: Vec<Hour> = self.sunny.case.hours().collect();
            hours.chunks(24).map(|day| (day.to_vec(), None)).collect()
        };
        let days = days
            .into_iter()
            .enumerate()
            .map(|(number, (mut hours, panel))| {
                for (of_day, hour) in hours.iter_mut().enumerate() {
                    *hour = self.hour(number * 24 + of_day, hour);
                }
                Day { hours, panel }
            });
        Season {
            days: days.collect(),
            clearness: mast.clearness,
        }
    }
}

impl Cells {
    fn put_into(self, scenario: &mut Scenario) {
        let mut cell = *scenario.pack.cell();
        for branch in &mut cell.branches {
            branch.time = branch.time * self.slower;
        }
        cell.open_circuit_per_k += self.more_per_k;
        let (series, parallel) = (scenario.pack.series(), scenario.pack.parallel());
        scenario.pack = Pack::new(&cell, series, parallel).expect("it has as many cells");
        let room = scenario.pack.at(Temperature::REFERENCE);
        let shelf = Time::from_days(self.shelf_years * 365.25);
        scenario.start = room.stored(&scenario.pack.full(), shelf);
        for cell in [&mut scenario.start.ordinary, &mut scenario.start.weakest] {
            cell.wells = cell.wells.scaled(self.left);
        }
    }
}

/// Hours of a day and what a panel brings on it.
#[derive(Clone)]
struct Day {
    hours: Vec<Hour>,
    panel: Option<PanelDay>,
}

/// The days of a camera's season.
#[derive(Clone)]
pub(crate) struct Season {
    days: Vec<Day>,
    /// Mean clearness of its days.
    pub(crate) clearness: f64,
}

impl Season {
    /// Without its days from this one on.
    pub(crate) fn shortened(mut self, days: usize) -> Self {
        self.days.truncate(days);
        self
    }

    /// The mean season by the hour.
    pub(crate) fn by_hour<'a>(&self, scenario: &'a Scenario) -> Camera<'a> {
        let mut camera = Camera::new(scenario);
        for hour in self.days.iter().flat_map(|day| &day.hours) {
            if camera.hour(hour, 1, &mut |_| {}).is_break() {
                break;
            }
        }
        camera
    }

    /// With every hour changed.
    pub(crate) fn with_hours(mut self, change: impl Fn(&mut Hour)) -> Self {
        let hours = self.days.iter_mut().flat_map(|day| &mut day.hours);
        hours.for_each(change);
        self
    }

    pub(crate) fn blocks(&self, scenario: &Scenario, per_block: usize) -> Vec<Block> {
        let (draw, cell) = (&scenario.draw, scenario.pack.cell());
        let blocks = self.days.iter().flat_map(|day| {
            let blocks = day.hours.chunks(per_block).filter_map(|hours| {
                let block = Block::of(hours, draw, cell)?;
                Some(match &day.panel {
                    Some(panel) => block.lit(hours, panel, self.clearness),
                    None => block,
                })
            });
            blocks.collect::<Vec<_>>()
        });
        blocks.collect()
    }
}
