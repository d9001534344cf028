//! Whether the true end falls into the band as often as the band promises.

use std::sync::Arc;

use overwinter_line::line::Line;
use overwinter_line::odds::{Ends, Lost, Odds};
use overwinter_model::cell::BeyondPoints;

use crate::dice::Dice;
use crate::lines::{SCENARIOS, sampled};
use crate::truth::Expected;

/// Cameras whose band it is asked of.
const TRUE_CAMERAS: u32 = 2_000;

/// Paths of the band.
const BAND_PATHS: u32 = 4_000;

/// True cameras are drawn by another seed, 2000 in each scenario. All scenarios together, 80 in 100 have a
/// standard error of 0.5 (0.4 by the cameras, 0.3 by the bands' edges), so that 78 to 82 would fail for
/// nothing with one in ten thousand other seeds; one scenario's have 1.1, and are held to four of them.
#[test]
fn the_band_holds_the_true_end_in_eight_of_ten() {
    let mut tally = Tally::default();
    let mut dice = Dice(1);
    for scenario in &SCENARIOS {
        let line = scenario.line();
        let forecast = sampled(&line, BAND_PATHS, 1);
        let truth = sampled(&line, TRUE_CAMERAS, 20_261_125);
        let truth = &truth.cameras[0].paths;
        let dead: Vec<f64> = truth.iter().map(|ends| ends.camera).collect();
        let broken: Vec<f64> = truth.iter().map(|ends| ends.record).collect();
        let held = Held {
            name: scenario.name,
            season_days: f64::from(line.season.days()),
            forecast: &forecast.cameras[0],
        };
        held.add_to(&mut tally, &mut dice, [&dead, &broken], 0.044);
    }
    tally.hold();
}

/// A forecast that ends are held against.
struct Held<'a> {
    name: &'a str,
    season_days: f64,
    forecast: &'a Odds,
}

impl Held<'_> {
    /// Of the ends of cameras and of their records, infinite beyond the season, so many lie between a tenth
    /// and nine tenths of the forecast: by `within` of eight in ten.
    fn add_to(&self, tally: &mut Tally, dice: &mut Dice, truth: [&[f64]; 2], within: f64) {
        for ((end, lost), truth) in [("dead", Lost::Camera), ("broken", Lost::Record)]
            .into_iter()
            .zip(truth)
        {
            let forecast = &self.forecast.lost[lost];
            let ranks = truth.iter().map(|days| self.rank(forecast, *days, dice));
            let inside = ranks.filter(|rank| (0.1..0.9).contains(rank)).count();
            let share = inside as f64 / truth.len() as f64;
            let [low, middle, high] =
                [0.1, 0.5, 0.9].map(|share| forecast.days_at(share).unwrap_or(f64::INFINITY));
            println!(
                "SUMMARY\t{}\t{end}\tp10 {low:.1} p50 {middle:.1} p90 {high:.1} days\theld {share:.3}",
                self.name
            );
            assert!((share - 0.8).abs() < within, "{} {end}: {share}", self.name);
            tally.add(end, share);
        }
    }

    /// Share of the forecast that has ended by then. Of those that end on the same day, and of all beyond the
    /// season, by lot: nights are alike, and nobody tells what comes after the season.
    fn rank(&self, forecast: &Ends, days: f64, dice: &mut Dice) -> f64 {
        let [before, until] = if days < self.season_days {
            [days.floor(), days.floor() + 1.0].map(|day| forecast.ended_share(day))
        } else {
            [forecast.ended_share(self.season_days), 1.0]
        };
        before + (until - before) * dice.uniform()
    }
}

/// Shares held of each end, over the scenarios.
#[derive(Default)]
struct Tally(Vec<(&'static str, f64)>);

impl Tally {
    fn add(&mut self, end: &'static str, share: f64) {
        self.0.push((end, share));
    }

    /// All scenarios together hold 78 to 82 in 100.
    fn hold(&self) {
        for end in ["dead", "broken"] {
            let shares = self.0.iter().filter(|(of, _)| *of == end);
            let all = shares.map(|(_, share)| share).sum::<f64>() / SCENARIOS.len() as f64;
            println!("SUMMARY\tall scenarios\t{end}\theld {all:.3}");
            assert!((0.78..=0.82).contains(&all), "{end}: {all}");
        }
    }
}

/// The line with cells of which nothing is doubted: that the model may be wrong in the cold is known to
/// sampled paths only.
fn without_doubt(mut line: Line) -> Line {
    for camera in &mut line.cameras {
        Arc::make_mut(&mut camera.pack.cell).cell.beyond_points = BeyondPoints::NOWHERE;
    }
    line
}

/// 2000 cameras that share nothing with the sampled paths but what is said of them: followed by the hour,
/// see [`Expected`]. All together, 80 in 100 have a standard error of 1.0 (0.9 by the cameras, 0.3 by the
/// bands' edges), so that 78 to 82 would fail for nothing with one in twenty other seeds; one scenario's
/// 400 have 2.1, and are held to four of them.
#[test]
fn the_band_holds_cameras_that_are_no_paths() {
    let cameras = TRUE_CAMERAS / SCENARIOS.len() as u32;
    let mut tally = Tally::default();
    let mut lot = Dice(2);
    for (seed, scenario) in (0..).zip(&SCENARIOS) {
        let line = without_doubt(scenario.line());
        let forecast = sampled(&line, BAND_PATHS, 1);
        let mut dice = Dice(seed << 32);
        let expected = Expected::new(&line, &line.cameras[0]);
        let drawn = (0..cameras).map(|_| expected.ends(&mut dice));
        let (dead, broken): (Vec<f64>, Vec<f64>) =
            drawn.map(|[dead, broken]| (dead, broken)).unzip();
        let held = Held {
            name: scenario.name,
            season_days: f64::from(line.season.days()),
            forecast: &forecast.cameras[0],
        };
        held.add_to(&mut tally, &mut lot, [&dead, &broken], 0.085);
    }
    tally.hold();
}
