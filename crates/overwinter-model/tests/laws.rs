//! Laws that hold for every cell, camera and season, whatever the parameters.

mod cases;

use cases::{Case, case};
use overwinter_model::draw::Card;
use overwinter_model::season::{Ending, Hour, Outcome, run};
use overwinter_model::{Power, Time, Voltage};
use proptest::prelude::*;

/// When the first thing ends.
fn first_end(outcome: &Outcome) -> Time {
    [
        &outcome.ends[Ending::NightPictures],
        &outcome.ends[Ending::Uploads],
        &outcome.ends[Ending::Camera],
    ]
    .into_iter()
    .flatten()
    .fold(outcome.followed, |first, end| first.min(end.after))
}

/// `a` and `b` agree to half a percent, or to one hour, which is what a season is made of.
fn near(a: Time, b: Time) -> bool {
    (a.as_hours() - b.as_hours()).abs() <= (0.005 * a.as_hours()).max(1.0 + 1e-9)
}

/// A share of the load that moves an end by far less than half a percent, unless the end is missed
/// by a hair. Of 30,000 cases four needed it, and of them one more than 0.00003: 0.0001.
const HAIR: f64 = 0.001;

/// The `end` of half-hourly steps is that of hourly ones, or it lies between the ends of hourly
/// steps under a load that is a hair heavier and a hair lighter.
///
/// A flash is asked from dusk to dawn only, an upload once a day. What just holds at the last
/// occasion of one day fails at the first of the next, and then no step is short enough to tell
/// on which side of the limit the voltage lies.
fn end_hardly_moves(case: &Case, end: impl Fn(&Outcome) -> Time) -> Result<(), TestCaseError> {
    let (whole, half) = (end(&case.run(1.0, 1)), end(&case.run(1.0, 2)));
    if !near(whole, half) {
        let (first, last) = (end(&case.run(1.0 + HAIR, 1)), end(&case.run(1.0 - HAIR, 1)));
        prop_assert!(
            first <= half && half <= last,
            "{whole:?} {half:?} not in {first:?} {last:?}"
        );
    }
    Ok(())
}

/// A voltage that decides on a flash lies within the step's error of its limit when the night ends:
/// with hourly steps the flash still works, and is next asked at dusk.
#[test]
fn a_flash_that_just_holds_at_dawn_fails_at_dusk() {
    let case = Case {
        cell: 4,
        series: 2,
        parallel: 3,
        standby_mw: 10.33,
        flash_w: 2.83,
        shot_w: 0.7415,
        video_s: 19.87,
        triggers_per_hour: 2.4447,
        cut_off_share: 0.7,
        mean_c: 7.656,
        swing_c: 3.35,
        uploads: true,
    };
    let lost = |case: &Case, steps| {
        let outcome = case.run(1.0, steps);
        outcome.ends[Ending::NightPictures].map(|end| end.after.as_hours())
    };
    // Of a hundred limits about one lies between what the two find at a dawn.
    let limits = (0..2000).map(|step| Case {
        cut_off_share: 0.7 + f64::from(step) * 5e-5,
        ..case.clone()
    });
    let apart = |case: &Case| match (lost(case, 1), lost(case, 2)) {
        (Some(whole), Some(half)) => whole > half + 2.0,
        _ => false,
    };
    let case = limits.into_iter().find(apart).expect("one of 2000");
    end_hardly_moves(&case, first_end).unwrap();
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
        let full = |outcome: &Outcome| outcome.ends[Ending::CardRoom].map(|end| end.after);
        if let Some(big) = full(&big) {
            prop_assert!(full(&small).is_some_and(|small| small <= big), "{:?} {big:?}", full(&small));
        }
        prop_assert!(small.kept <= big.kept && big.kept <= big.triggers - big.dark_triggers + 1e-9);
        // A full card moves no energy.
        prop_assert_eq!(small.ledger, big.ledger);
        prop_assert_eq!(small.ends[Ending::Camera], big.ends[Ending::Camera]);
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
        let full = outcome.ends[Ending::CardRoom].expect("it holds less than was written").after;
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
        end_hardly_moves(&case, |outcome| outcome.followed)?;
        end_hardly_moves(&case, first_end)?;
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
        prop_assert!(outcome.ends[Ending::Camera].is_none());
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
            all &= (-1e-9..=1.0 + 1e-9).contains(&seen.charge_left);
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
