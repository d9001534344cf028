//! What holds of the odds of any line.

use overwinter_line::odds::{Ends, Odds};

use crate::lines::{SCENARIOS, sampled};

fn every_end(odds: &Odds) -> [&Ends; 5] {
    [
        &odds.night_pictures_lost,
        &odds.uploads_ended,
        &odds.card_full,
        &odds.dead,
        &odds.record_broken,
    ]
}

/// How many of `paths` ended in each hour of so many.
pub(crate) fn by_hour(ends: &Ends, paths: u32, hours: u32) -> Vec<i64> {
    let until = |hour: u32| {
        let days = (f64::from(hour) - 0.5) / 24.0;
        (ends.ended_share(days) * f64::from(paths)).round() as i64
    };
    (0..hours)
        .map(|hour| until(hour + 1) - until(hour))
        .collect()
}

/// One path more adds one end, or none if it outlives the season, and moves no other; from one to more
/// than two groups of paths that are followed side by side.
#[test]
fn one_more_path_leaves_the_others_as_they_were() {
    let line = SCENARIOS[0].line();
    let hours = line.season.days().unsigned_abs() * 24;
    let mut before: Option<Vec<Vec<i64>>> = None;
    for paths in (1..=50).chain([100, 101, 200, 201]) {
        let odds = sampled(&line, paths, 9);
        let now: Vec<_> = every_end(&odds.cameras[0])
            .map(|ends| by_hour(ends, paths, hours))
            .into();
        if let Some(before) = before {
            for (before, now) in before.iter().zip(&now) {
                let more: Vec<i64> = now
                    .iter()
                    .zip(before)
                    .map(|(now, before)| now - before)
                    .collect();
                assert!(more.iter().all(|more| *more >= 0), "{paths}");
                let ended: i64 = more.iter().sum();
                assert!(
                    ended <= if matches!(paths, 100 | 200) { 99 } else { 1 },
                    "{paths}: {ended}"
                );
            }
        }
        before = Some(now);
    }
}

/// A hundred paths end in the same hours whether alone or among two hundred.
#[test]
fn more_paths_contain_the_first() {
    for scenario in &SCENARIOS {
        let line = scenario.line();
        let hours = line.season.days().unsigned_abs() * 24;
        let few = sampled(&line, 100, 3);
        let many = sampled(&line, 200, 3);
        let pairs = every_end(&few.cameras[0])
            .into_iter()
            .zip(every_end(&many.cameras[0]));
        for (few, many) in pairs {
            let (few, many) = (by_hour(few, 100, hours), by_hour(many, 200, hours));
            assert!(
                few.iter().zip(&many).all(|(few, many)| few <= many),
                "{}",
                scenario.name
            );
        }
        let others = sampled(&line, 100, 4);
        assert!(
            few.cameras[0].dead != others.cameras[0].dead,
            "{}",
            scenario.name
        );
    }
}

#[test]
fn shares_of_paths_come_in_order() {
    // Shares of a power of two are exact.
    const STEPS: u32 = 128;
    for scenario in &SCENARIOS {
        let line = scenario.line();
        let odds = sampled(&line, STEPS, 5);
        let days = f64::from(line.season.days());
        for ends in every_end(&odds.cameras[0]) {
            let mut last = (0.0, 0.0);
            for step in 0..STEPS {
                let share = f64::from(step) / f64::from(STEPS);
                let at = ends.days_at(share).unwrap_or(f64::INFINITY);
                // Where the days are given, more than so many have ended an hour later, and not before.
                if at.is_finite() {
                    assert!(
                        ends.ended_share(at + 0.5 / 24.0) > share,
                        "{}",
                        scenario.name
                    );
                    assert!(
                        ends.ended_share(at - 0.5 / 24.0) <= share,
                        "{}",
                        scenario.name
                    );
                } else {
                    assert!(ends.ended_share(days) <= share, "{}", scenario.name);
                }
                let risk = ends.ended_share(days * share);
                assert!(at >= last.0 && risk >= last.1, "{} {step}", scenario.name);
                last = (at, risk);
            }
        }
        let odds = &odds.cameras[0];
        let firsts = [&odds.night_pictures_lost, &odds.card_full, &odds.dead];
        for share in [0.1, 0.5, 0.9] {
            let day = |ends: &Ends| ends.days_at(share).unwrap_or(f64::INFINITY);
            assert!(
                firsts
                    .iter()
                    .all(|end| day(&odds.record_broken) <= day(end))
            );
        }
    }
}

/// A dead camera neither sends nor takes pictures by night: in every path, seasons of one path each.
#[test]
fn uploads_and_night_pictures_end_with_the_camera_at_the_latest() {
    const SEEDS: u64 = 60;
    let mut died = 0;
    for scenario in &SCENARIOS {
        let line = scenario.line();
        for seed in 1..=SEEDS {
            let odds = &sampled(&line, 1, seed).cameras[0];
            let end = |ends: &Ends| ends.days_at(0.0).unwrap_or(f64::INFINITY);
            let dead = end(&odds.dead);
            assert!(end(&odds.uploads_ended) <= dead, "{} {seed}", scenario.name);
            assert!(
                end(&odds.night_pictures_ended) <= dead,
                "{} {seed}",
                scenario.name
            );
            died += u32::from(dead.is_finite());
        }
    }
    assert!(died > 0);
}

/// What is used, lost and left is what was put in; what resistances and the cold take is no less than
/// nothing.
#[test]
fn the_mean_budget_adds_up_to_what_was_put_in() {
    for scenario in &SCENARIOS {
        let odds = sampled(&scenario.line(), 200, 5);
        let mean = &odds.cameras[0].mean;
        let used = mean.used.total().as_watt_hours();
        let lost = mean.put_in_wh - used - mean.self_discharge_wh - mean.left_wh;
        let share = |wh: f64| 100.0 * wh / mean.put_in_wh;
        println!(
            "SUMMARY\t{}\tused {:.1} %\tself-discharge {:.1} %\tleft {:.1} %\tlost {:.1} %",
            scenario.name,
            share(used),
            share(mean.self_discharge_wh),
            share(mean.left_wh),
            share(lost),
        );
        assert!(used > 0.0 && mean.self_discharge_wh > 0.0 && mean.left_wh > 0.0);
        assert!(
            (0.0..0.3).contains(&(lost / mean.put_in_wh)),
            "{}: {lost}",
            scenario.name
        );
    }
}
