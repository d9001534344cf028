//! Cameras at random with a panel.

use overwinter_model::harvest::{
    ChargeLimit, Controller, Mount, Panel, PanelDay, Plane, SkyDay, Store, Surroundings,
};
use overwinter_model::paths::Block;
use overwinter_model::season::{Feeds, Hour, Outcome, Scenario, Seen, run};
use overwinter_model::{Day, Energy, Place, Power, Temperature, Time, Voltage};
use proptest::prelude::*;

use super::{Case, case};

/// A panel in a season that clouds over and clears up, and what it charges.
#[derive(Clone, Debug)]
pub(crate) struct Sunny {
    pub(crate) case: Case,
    /// At noon of a clear day.
    pub(crate) peak_w: f64,
    /// How dull each day of a fortnight is, 0 to 1; the fortnights are alike.
    pub(crate) dull: [f64; 14],
    pub(crate) store_wh: Option<f64>,
    /// Colder than this the store is weak.
    pub(crate) weak_c: Option<f64>,
    pub(crate) lag_h: f64,
}

pub(crate) fn sunny() -> impl Strategy<Value = Sunny> {
    let store = prop_oneof![Just(None), (0.5..40.0_f64).prop_map(Some)];
    let dull = prop::array::uniform14(0.0..1.0_f64);
    let weak = prop::option::of(-30.0..30.0_f64);
    (case(), 0.0..10.0_f64, dull, store, weak, 0.0..8.0_f64).prop_map(
        |(case, peak_w, dull, store_wh, weak_c, lag_h)| Sunny {
            case,
            peak_w,
            dull,
            store_wh,
            weak_c,
            lag_h,
        },
    )
}

impl Sunny {
    pub(crate) fn feeds(&self) -> Feeds {
        let lag = Time::from_hours(self.lag_h);
        match self.store_wh {
            None => Feeds::Pack { lag },
            Some(wh) => Feeds::Store(Store {
                capacity: Energy::from_watt_hours(wh),
                charge_efficiency: 0.85,
                limit: ChargeLimit {
                    coldest: Some(Temperature::from_celsius(0.0)),
                    warmest: None,
                    highest: Some(Power::from_watts(wh / 2.0)),
                },
                lag,
                self_discharge_per_month: 0.02,
                weak_below: self.weak_c.map(Temperature::from_celsius),
            }),
        }
    }

    pub(crate) fn hours(&self) -> impl Iterator<Item = Hour> {
        let (peak_w, dull) = (self.peak_w, self.dull);
        self.case.hours().enumerate().map(move |(number, hour)| {
            let up = ((f64::from(hour.of_day) - 6.0) / 12.0 * std::f64::consts::PI).sin();
            let clear = 1.0 - dull[number / 24 % 14];
            Hour {
                panel: Power::from_watts(peak_w * clear * up.max(0.0)),
                ..hour
            }
        })
    }

    /// Blocks of three hours, lit if there is a panel.
    pub(crate) fn blocks(&self, scenario: &Scenario, has_panel: bool) -> Vec<Block> {
        let (draw, cell) = (&scenario.draw, scenario.pack.cell());
        let of = |hours: &[Hour]| Block::of(hours, draw, cell);
        if !has_panel {
            let hours: Vec<Hour> = self.case.hours().collect();
            return hours.chunks(3).filter_map(of).collect();
        }
        let mast = Mast::of(self);
        let days = mast.days(self);
        let blocks = days.iter().flat_map(|(hours, panel)| {
            let lit = |hours| Some(of(hours)?.lit(hours, panel, mast.clearness));
            hours.chunks(3).filter_map(lit).collect::<Vec<_>>()
        });
        blocks.collect()
    }

    pub(crate) fn run(&self, steps: u32) -> Outcome {
        self.watch(steps, |_| {})
    }

    pub(crate) fn watch(&self, steps: u32, observe: impl FnMut(&Seen)) -> Outcome {
        let mut scenario = self.case.scenario(1.0);
        scenario.feeds = Some(self.feeds());
        run(&scenario, self.hours(), steps, observe)
    }

    /// How things stand at the end of each hour.
    pub(crate) fn by_hour(&self) -> Vec<Seen> {
        let mut hours = Vec::new();
        self.watch(1, |seen| {
            // Parts of a step are seen, too.
            let hour = seen.after.as_hours().round();
            if (hours.len() as f64) < hour && (seen.after.as_hours() - hour).abs() < 1e-6 {
                hours.push(*seen);
            }
        });
        hours
    }
}

/// A panel on a mast at 45 degrees north through half a year from the first of November, every day
/// as clear.
pub(crate) struct Mast {
    pub(crate) mount: Mount,
    pub(crate) clearness: f64,
}

impl Mast {
    pub(crate) fn of(sunny: &Sunny) -> Self {
        Self {
            mount: Mount {
                panel: Panel::rated(Power::from_watts(sunny.peak_w)),
                plane: Plane::new(60.0, 180.0).unwrap(),
                around: Surroundings::open(),
                controller: Controller::MaximumPower { efficiency: 0.9 },
                charged: Voltage::from_volts(3.7),
            },
            clearness: 0.15 + 0.5 * sunny.dull[0],
        }
    }

    /// The hours of each day and what the panel brings in it.
    pub(crate) fn days(&self, sunny: &Sunny) -> Vec<(Vec<Hour>, PanelDay)> {
        let place = Place::new(45.0, 10.0, 1.0).unwrap();
        let hours: Vec<Hour> = sunny.case.hours().collect();
        let days = hours.chunks(24).enumerate();
        days.map(|(number, hours)| {
            let day = Day::from_days_since_2000(9801 + number as i32);
            let air: [Temperature; 24] = std::array::from_fn(|hour| hours[hour].air);
            let sky = SkyDay::new(&place, day, 0.0, Time::ZERO);
            let panel = self.mount.day(&sky, day, &air);
            let powers = panel.at_clearness(self.clearness);
            let hours = hours.iter().zip(powers);
            let hours = hours.map(|(hour, panel)| Hour { panel, ..*hour });
            (hours.collect(), panel)
        })
        .collect()
    }
}
