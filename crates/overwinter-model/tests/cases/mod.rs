//! Cameras and seasons at random, for the laws and for the paths.

#![allow(dead_code, reason = "each test program uses its part of it")]

pub(crate) mod camera;
pub(crate) mod driver;
pub(crate) mod sunny;

use overwinter_model::cell::catalogue::CATALOGUE;
use overwinter_model::draw::{Burst, Card, CheckIn, Draw, Event, Upload, UploadMode, Use};
use overwinter_model::pack::Pack;
use overwinter_model::paths::{AirChances, CameraChances, MonthChances};
use overwinter_model::random::{AnomalyLaw, GammaQuantile};
use overwinter_model::season::{Hour, Outcome, Scenario, run};
use overwinter_model::{Power, Temperature, Time};
use proptest::prelude::*;

/// A camera and a season as a few numbers, so that a failing case can be read.
#[derive(Clone, Debug)]
pub(crate) struct Case {
    pub(crate) cell: usize,
    pub(crate) series: u8,
    pub(crate) parallel: u8,
    pub(crate) standby_mw: f64,
    pub(crate) flash_w: f64,
    pub(crate) shot_w: f64,
    pub(crate) video_s: f64,
    pub(crate) triggers_per_hour: f64,
    pub(crate) cut_off_share: f64,
    pub(crate) mean_c: f64,
    pub(crate) swing_c: f64,
    pub(crate) uploads: bool,
}

prop_compose! {
    pub(crate) fn case()(
        cell in 0..CATALOGUE.len(),
        series in 1..=8_u8,
        parallel in 1..=3_u8,
        standby_mw in 0.05..40.0_f64,
        flash_w in prop_oneof![Just(0.0), 0.2..12.0_f64],
        shot_w in 0.1..2.0_f64,
        video_s in prop_oneof![Just(0.0), 1.0..30.0_f64],
        triggers_per_hour in prop_oneof![Just(0.0), 0.01..5.0_f64],
        cut_off_share in 0.3..0.85_f64,
        mean_c in -30.0..30.0_f64,
        swing_c in 0.0..12.0_f64,
        uploads in any::<bool>(),
    ) -> Case {
        Case {
            cell, series, parallel, standby_mw, flash_w, shot_w, video_s, triggers_per_hour,
            cut_off_share, mean_c, swing_c, uploads,
        }
    }
}

fn burst(span_s: f64, watts: f64, what: Use, flash_w: f64) -> Burst {
    Burst {
        span: Time::from_seconds(span_s),
        power: Power::from_watts(watts),
        what,
        flash: Power::from_watts(flash_w),
    }
}

impl Case {
    /// The camera, with every power multiplied by `load`.
    pub(crate) fn scenario(&self, load: f64) -> Scenario {
        let cell = &CATALOGUE[self.cell].cell;
        let pack = Pack::new(cell, self.series, self.parallel).unwrap();
        // The case's loads are those of a pack of eight small cells; a bigger pack gets bigger ones.
        let scale = load * f64::from(self.series) * f64::from(cell.in_series) / 8.0;
        let picture = |what, flash: f64| {
            let mut event = Event::default();
            event
                .push(burst(2.0, self.shot_w * scale, what, 0.0))
                .unwrap();
            event
                .push(burst(0.3, self.shot_w * scale, what, flash * scale))
                .unwrap();
            event
                .push(burst(
                    self.video_s,
                    self.shot_w * scale,
                    Use::Video,
                    flash * scale / 2.0,
                ))
                .unwrap();
            event
        };
        let cut_off = pack.fresh_voltage() * self.cut_off_share;
        let mut report = Event::default();
        report
            .push(burst(20.0, 0.4 * scale, Use::CheckIn, 0.0))
            .unwrap();
        Scenario {
            start: pack.full(),
            pack,
            draw: Draw {
                standby: Power::from_milliwatts(self.standby_mw * scale),
                day_trigger: picture(Use::DayPictures, 0.0),
                night_trigger: picture(Use::NightPictures, self.flash_w),
                scheduled_per_day: 1.0,
                quiet: Time::from_seconds(30.0),
                upload: self.uploads.then(|| Upload {
                    mode: UploadMode::Daily { hour: 13 },
                    session: burst(25.0, 0.5 * scale, Use::UploadSession, 0.0),
                    picture: burst(1.0, 1.6 * scale, Use::UploadData, 0.0),
                    pictures_per_trigger: 1.0,
                    lowest: cut_off * 1.05,
                }),
                check_in: self.uploads.then(|| CheckIn {
                    per_day: 2.0,
                    event: report,
                    lowest: cut_off * 1.05,
                }),
                card: None,
                cut_off,
                flash_lowest: cut_off * 1.1,
            },
            feeds: None,
        }
    }

    /// Half a year of days that are all alike, dark from 18 to 6.
    pub(crate) fn hours(&self) -> impl Iterator<Item = Hour> {
        let (mean, swing, rate) = (self.mean_c, self.swing_c, self.triggers_per_hour);
        (0..183 * 24_u32).map(move |hour| {
            let of_day = hour % 24;
            let dark_share = if (6..18).contains(&of_day) { 0.0 } else { 1.0 };
            let angle = (f64::from(of_day) - 15.0) / 24.0 * std::f64::consts::TAU;
            Hour {
                of_day: of_day as u8,
                air: Temperature::from_celsius(mean + swing * angle.cos()),
                coldest: Temperature::from_celsius(mean + swing * angle.cos() - swing / 3.0),
                day_triggers: rate * (1.0 - dark_share),
                night_triggers: rate * dark_share,
                dark_share,
                panel: Power::ZERO,
            }
        })
    }

    /// With a card of so many megabytes.
    pub(crate) fn run_with_card(&self, capacity_mb: f64) -> Outcome {
        let mut scenario = self.scenario(1.0);
        scenario.draw.card = Some(Card {
            capacity_mb,
            day_trigger_mb: 2.0,
            night_trigger_mb: 1.0,
        });
        run(&scenario, self.hours(), 1, |_| {})
    }

    pub(crate) fn run(&self, load: f64, steps: u32) -> Outcome {
        run(&self.scenario(load), self.hours(), steps, |_| {})
    }
}

/// How days swing.
pub(crate) fn air_chances() -> AirChances {
    let month = MonthChances {
        law: AnomalyLaw::new([0.7, 0.2], -0.3).unwrap(),
        temperature_sd_k: 4.5,
        range_sd_k: 3.5,
        clearness_sd: 0.15,
    };
    AirChances {
        months: [month; 12],
        winters_sd_k: 1.0,
    }
}

/// How cameras differ.
pub(crate) fn camera_chances() -> CameraChances {
    CameraChances {
        stream: 7,
        day_share: GammaQuantile::new(1.35).unwrap(),
        rate_sd_ln: 0.5,
        airtime_sd_ln: 0.3,
        model: 8,
        purchase: 9,
    }
}
