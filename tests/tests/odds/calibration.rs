//! Whether the true end falls into the band as often as the band promises.

use std::sync::Arc;

use overwinter::line::Line;
use overwinter::odds::Ends;

use crate::dice::Dice;
use crate::lines::{SCENARIOS, sampled};
use crate::truth;

/// Cameras whose band it is asked of.
const TRUE_CAMERAS: u32 = 2_000;

/// Half an hour: ends are counted by the hour.
const HALF_SLOT: f64 = 0.5 / 24.0;

/// Share of the ends of `truth` from the 10th to the 90th in a hundred of `forecast`. An end at either
/// edge is half in: nights are alike, so many paths share an hour.
fn held(forecast: &Ends, truth: &Ends) -> Option<[f64; 3]> {
    let (low, high) = (forecast.days_at(0.1)?, forecast.days_at(0.9)?);
    let before = |days: f64| {
        (truth.ended_share(days - HALF_SLOT) + truth.ended_share(days + HALF_SLOT)) / 2.0
    };
    Some([low, high, before(high) - before(low)])
}

/// True cameras are drawn by another seed. A share of 80 in 100 has a standard error of 1.0 here, of
/// which the band's own edges, from 8000 paths, are a quarter: 78 to 82 is two of them, so that one
/// scenario in twenty would fail for nothing with other seeds.
#[test]
fn the_band_holds_the_true_end_in_eight_of_ten() {
    for scenario in &SCENARIOS {
        let line = scenario.line();
        let forecast = sampled(&line, 8_000, 1);
        let truth = sampled(&line, TRUE_CAMERAS, 20_261_125);
        let (forecast, truth) = (&forecast.cameras[0], &truth.cameras[0]);
        for (end, forecast, truth) in [
            ("dead", &forecast.dead, &truth.dead),
            (
                "record broken",
                &forecast.record_broken,
                &truth.record_broken,
            ),
        ] {
            let Some([low, high, share]) = held(forecast, truth) else {
                panic!(
                    "{} {end}: fewer than 9 in 10 end within the season",
                    scenario.name
                )
            };
            println!(
                "SUMMARY\t{}\t{end}\tp10 {low:.1} p90 {high:.1} days\theld {share:.3}",
                scenario.name
            );
            assert!(
                (0.78..=0.82).contains(&share),
                "{} {end}: {share}",
                scenario.name
            );
        }
    }
}

/// Share of these ends that came before the day in which `days` lies, and half of those on it.
fn passed(ends: &[f64], days: f64) -> f64 {
    let before = ends.partition_point(|end| *end < days.floor());
    let until = ends.partition_point(|end| *end < days.floor() + 1.0);
    (before + until) as f64 / 2.0 / ends.len() as f64
}

/// What the band of a scenario's end held of cameras that are no paths.
struct Held {
    cameras: f64,
    inside: f64,
}

/// The line with cells of which nothing is doubted: that the model may be wrong in the cold is known to
/// sampled paths only.
fn without_doubt(mut line: Line) -> Line {
    for camera in &mut line.cameras {
        Arc::make_mut(&mut camera.pack.cell).cell.cold_uncertainty = 0.0;
    }
    line
}

/// 2000 cameras that share nothing with the sampled paths but what is said of them: followed by the hour,
/// see [`truth`]. All together, 80 in 100 have a standard error of 1.0 (0.9 by the cameras, 0.4 by the
/// band's edges); one scenario's 400 have 2.1, and are held to four of them.
#[test]
fn the_band_holds_cameras_that_are_no_paths() {
    let cameras = TRUE_CAMERAS / SCENARIOS.len() as u32;
    let mut all = Held {
        cameras: 0.0,
        inside: 0.0,
    };
    for (seed, scenario) in (0..).zip(&SCENARIOS) {
        let line = without_doubt(scenario.line());
        let odds = sampled(&line, 8_000, 1);
        let mut dice = Dice(seed << 32);
        let ends: Vec<_> = (0..cameras)
            .map(|_| truth::ends(&line, &line.cameras[0], &mut dice))
            .collect();
        let odds = &odds.cameras[0];
        for (index, (end, ends_of)) in
            [("dead", &odds.dead), ("record broken", &odds.record_broken)]
                .into_iter()
                .enumerate()
        {
            let mut truth: Vec<f64> = ends.iter().map(|ends| ends[index]).collect();
            truth.sort_by(f64::total_cmp);
            let at = |share| ends_of.days_at(share).unwrap_or(f64::INFINITY);
            let [low, middle, high] = [0.1, 0.5, 0.9].map(at);
            let share = passed(&truth, high) - passed(&truth, low);
            let of_truth = |share: f64| truth[(share * truth.len() as f64) as usize];
            println!(
                "SUMMARY\t{}\t{end}\tp10 {low:.1} p50 {middle:.1} p90 {high:.1} days\tby the hour {:.1} {:.1} {:.1}\theld {share:.3}",
                scenario.name,
                of_truth(0.1),
                of_truth(0.5),
                of_truth(0.9),
            );
            assert!(
                (0.715..=0.885).contains(&share),
                "{} {end}: {share}",
                scenario.name
            );
            all.cameras += 1.0;
            all.inside += share;
        }
    }
    let share = all.inside / all.cameras;
    println!("SUMMARY\tall\theld {share:.3}");
    assert!((0.78..=0.82).contains(&share), "{share}");
}
