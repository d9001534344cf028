//! Laws that hold for every cell, camera and season, whatever the parameters.

use overwinter_model::cell::catalogue::CATALOGUE;
use overwinter_model::draw::{Burst, Card, CheckIn, Draw, Event, Upload, UploadMode, Use};
use overwinter_model::pack::Pack;
use overwinter_model::season::{Hour, Outcome, Scenario, run};
use overwinter_model::{Power, Temperature, Time, Voltage};
use proptest::prelude::*;

/// A camera and a season as a few numbers, so that a failing case can be read.
#[derive(Clone, Debug)]
struct Case {
    cell: usize,
    series: u8,
    parallel: u8,
    standby_mw: f64,
    flash_w: f64,
    shot_w: f64,
    video_s: f64,
    triggers_per_hour: f64,
    cut_off_share: f64,
    mean_c: f64,
    swing_c: f64,
    uploads: bool,
}

prop_compose! {
    fn case()(
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
    fn scenario(&self, load: f64) -> Scenario {
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
        }
    }

    /// Half a year of days that are all alike, dark from 18 to 6.
    fn hours(&self) -> impl Iterator<Item = Hour> {
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
            }
        })
    }

    /// With a card of so many megabytes.
    fn run_with_card(&self, capacity_mb: f64) -> Outcome {
        let mut scenario = self.scenario(1.0);
        scenario.draw.card = Some(Card {
            capacity_mb,
            day_trigger_mb: 2.0,
            night_trigger_mb: 1.0,
        });
        run(&scenario, self.hours(), 1, |_| {})
    }

    fn run(&self, load: f64, steps: u32) -> Outcome {
        run(&self.scenario(load), self.hours(), steps, |_| {})
    }
}

/// When the first thing ends.
fn first_end(outcome: &Outcome) -> Time {
    [
        &outcome.night_pictures_lost,
        &outcome.uploads_failed,
        &outcome.dead,
    ]
    .into_iter()
    .flatten()
    .fold(outcome.followed, |first, end| first.min(end.after))
}

/// `a` and `b` agree to half a percent, or to one hour, which is what a season is made of.
fn near(a: Time, b: Time) -> bool {
    (a.as_hours() - b.as_hours()).abs() <= (0.005 * a.as_hours()).max(1.0 + 1e-9)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(150))]

    #[test]
    fn energy_in_is_used_lost_and_left(case in case()) {
        let outcome = case.run(1.0, 1);
        let imbalance = outcome.ledger.imbalance();
        prop_assert!(imbalance.abs() < 1e-5, "{imbalance} {:?}", outcome.ledger);
    }

    #[test]
    fn more_load_never_lasts_longer(case in case(), more in 1.0..4.0_f64) {
        let (light, heavy) = (case.run(1.0, 1), case.run(more, 1));
        prop_assert!(heavy.followed <= light.followed, "{:?} {:?}", heavy.followed, light.followed);
        let (light, heavy) = (first_end(&light), first_end(&heavy));
        prop_assert!(heavy <= light, "{heavy:?} {light:?}");
    }

    #[test]
    fn a_bigger_card_never_fills_earlier(case in case(), mb in 1.0..20_000.0_f64, more in 1.0..4.0_f64) {
        let (small, big) = (case.run_with_card(mb), case.run_with_card(mb * more));
        let full = |outcome: &Outcome| outcome.card_full.map(|end| end.after);
        if let Some(big) = full(&big) {
            prop_assert!(full(&small).is_some_and(|small| small <= big), "{:?} {big:?}", full(&small));
        }
        prop_assert!(small.kept <= big.kept && big.kept <= big.triggers - big.dark_triggers + 1e-9);
        // A full card moves no energy.
        prop_assert_eq!(small.ledger, big.ledger);
        prop_assert_eq!(small.dead, big.dead);
    }

    #[test]
    fn a_card_is_full_when_its_triggers_are_answered(case in case(), share in 0.1..1.0_f64) {
        let all = case.run(1.0, 1);
        prop_assume!(all.triggers > 1.0);
        let mut scenario = case.scenario(1.0);
        let mb = all.triggers * share;
        scenario.draw.card = Some(Card { capacity_mb: mb, day_trigger_mb: 1.0, night_trigger_mb: 1.0 });
        let mut before = Outcome::default();
        let outcome = run(&scenario, case.hours(), 1, |_| {});
        let full = outcome.card_full.expect("it holds less than was written").after;
        // The same season cut off after and before the hour in which the card was full.
        let hours = full.as_hours().ceil() as usize;
        let written = run(&scenario, case.hours().take(hours), 1, |_| {}).triggers;
        if hours > 1 {
            before = run(&scenario, case.hours().take(hours - 1), 1, |_| {});
        }
        prop_assert!(before.triggers <= mb && mb <= written * (1.0 + 1e-9), "{} {mb} {written}", before.triggers);
    }

    #[test]
    fn more_cells_in_parallel_never_last_shorter(case in case()) {
        let more = Case { parallel: case.parallel + 1, ..case.clone() };
        let (few, many) = (case.run(1.0, 1), more.run(1.0, 1));
        prop_assert!(few.followed <= many.followed, "{:?} {:?}", few.followed, many.followed);
        let (few, many) = (first_end(&few), first_end(&many));
        prop_assert!(few <= many, "{few:?} {many:?}");
    }

    #[test]
    fn halving_the_step_hardly_moves_the_ends(case in case()) {
        let (whole, half) = (case.run(1.0, 1), case.run(1.0, 2));
        prop_assert!(near(whole.followed, half.followed), "{:?} {:?}", whole.followed, half.followed);
        let (whole, half) = (first_end(&whole), first_end(&half));
        prop_assert!(near(whole, half), "{whole:?} {half:?}");
    }

    #[test]
    fn zero_load_leaves_self_discharge(case in case()) {
        let mut scenario = case.scenario(1.0);
        scenario.draw.standby = Power::ZERO;
        scenario.draw.scheduled_per_day = 0.0;
        scenario.draw.upload = None;
        scenario.draw.check_in = None;
        scenario.draw.cut_off = Voltage::ZERO;
        let quiet = case.hours().map(|hour| Hour { day_triggers: 0.0, night_triggers: 0.0, ..hour });
        let outcome = run(&scenario, quiet, 1, |_| {});
        let ledger = &outcome.ledger;
        prop_assert!(outcome.dead.is_none());
        prop_assert!(ledger.used.total().as_joules() == 0.0);
        prop_assert!(ledger.self_discharge.as_joules() > 0.0);
        let kept = (ledger.left + ledger.self_discharge) / ledger.put_in;
        prop_assert!((kept - 1.0).abs() < 1e-9, "{kept}");
    }

    #[test]
    fn every_number_is_a_number(case in case(), load in 0.0..50.0_f64) {
        let scenario = case.scenario(load);
        let mut all = true;
        let outcome = run(&scenario, case.hours(), 1, |seen| {
            all &= seen.charge_left.is_finite() && seen.asleep.is_finite();
            all &= (-1e-9..=1.0).contains(&seen.charge_left);
            all &= seen.lowest.is_none_or(|lowest| lowest.is_finite() && lowest <= seen.asleep);
        });
        prop_assert!(all);
        let ledger = &outcome.ledger;
        let parts = [ledger.put_in, ledger.used.total(), ledger.resistive, ledger.held_back,
            ledger.self_discharge, ledger.left];
        prop_assert!(parts.iter().all(|part| part.is_finite()), "{ledger:?}");
        prop_assert!(outcome.followed.is_finite() && outcome.triggers.is_finite());
    }
}
