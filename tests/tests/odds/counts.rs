//! Sampled triggers against the rates that they are drawn from.

use overwinter_model::lanes::Lanes;
use overwinter_model::paths::{Block, CameraChances, Luck, Prepared, Sampled, Traffic, follow};
use overwinter_model::random::GammaQuantile;
use overwinter_model::season::{Hour, Scenario};
use overwinter_model::{Activity, Counts, Day, HourRate, Pattern, Place, Power, Temperature};

use crate::lines::SCENARIOS;
use crate::{LANES, Sample, drawn, expect};

fn chances(dispersion: f64, rate_sd_ln: f64) -> CameraChances {
    CameraChances {
        stream: 11,
        day_share: GammaQuantile::new(dispersion).unwrap_or_else(|why| panic!("{why}")),
        rate_sd_ln,
        airtime_sd_ln: 0.3,
        model: 13,
        purchase: 12,
    }
}

/// Triggers of a camera's days, each in three blocks, of which the first and the last have their share by
/// night.
fn daily(
    mean: f64,
    chances: &CameraChances,
    groups: u32,
    days: u32,
    mut see: impl FnMut(&[f64; LANES], [&Lanes<LANES>; 2]),
) {
    let parts = [(0.1, 0.3), (0.35, 0.0), (0.05, 0.2)];
    for drawn in drawn(groups) {
        let mut traffic = chances.traffic(&drawn);
        for day in 0..days {
            let mut lights = [Lanes::all(0.0), Lanes::all(0.0)];
            for (block, (by_day, by_night)) in (0..).zip(parts) {
                let (seen_by_day, seen_by_night) =
                    traffic.of_block(day, block, (mean * by_day, mean * by_night));
                lights[0] += seen_by_day;
                lights[1] += seen_by_night;
            }
            see(&(lights[0] + lights[1]).0, [&lights[0], &lights[1]]);
        }
    }
}

/// Mean, dispersion and days without any. Standard errors as in the model's own test of the law: the
/// fourth cumulant of a negative binomial count is `V (V'^2 + V V'')` with `V = m + m^2/k` (Morris 1982,
/// Annals of Statistics 10(1)).
#[test]
fn days_are_negative_binomial_whatever_the_blocks() {
    for (mean, k) in [(0.3, 0.45), (6.0, 1.35), (6.0, 20.0), (30.0, 0.45)] {
        let what = |figure: &str| format!("{mean} a day, dispersion {k}: {figure}");
        let (mut counts, mut squares, mut none, mut both) = (
            Sample::default(),
            Sample::default(),
            Sample::default(),
            Sample::default(),
        );
        daily(
            mean,
            &chances(k, 0.0),
            40,
            60,
            |today, [by_day, by_night]| {
                for count in today {
                    counts.add(*count);
                    squares.add((count - mean).powi(2));
                    none.add(f64::from(u8::from(*count < 0.5)));
                }
                for (by_day, by_night) in by_day.0.iter().zip(by_night.0) {
                    both.add((by_day - mean / 2.0) * (by_night - mean / 2.0));
                }
            },
        );
        let n = counts.count;
        let variance = mean + mean * mean / k;
        let slope = 1.0 + 2.0 * mean / k;
        let fourth = variance * (slope * slope + variance * 2.0 / k);
        expect(&what("mean"), counts.mean(), mean, (variance / n).sqrt());
        let error = ((2.0 * variance * variance + fourth) / n).sqrt();
        expect(&what("variance"), squares.mean(), variance, error);
        let empty = (1.0 + mean / k).powf(-k);
        let error = (empty * (1.0 - empty) / n).sqrt();
        expect(&what("days without any"), none.mean(), empty, error);
        // Day and night share the day's traffic. The error is the sample's own.
        let shared = mean * mean / 4.0 / k;
        expect(
            &what("day with night"),
            both.mean(),
            shared,
            (both.variance() / n).sqrt(),
        );
    }
}

/// Rates of paths: lognormal with the mean that was said. With so many events in a season the counts
/// themselves hardly add to it.
#[test]
fn rates_lie_apart_as_far_as_they_are_unknown() {
    const DAYS: u32 = 30;
    let (mean, k, sd) = (300.0, 900.0, 0.6);
    let mut logarithms = Sample::default();
    for drawn in drawn(120) {
        let chances = chances(k, sd);
        let mut traffic = chances.traffic(&drawn);
        let mut total = Lanes::all(0.0);
        for day in 0..DAYS {
            let (by_day, by_night) = traffic.of_block(day, 0, (mean, 0.0));
            total += by_day + by_night;
        }
        let days = f64::from(DAYS);
        total
            .0
            .iter()
            .for_each(|total| logarithms.add((total / days / mean).ln()));
    }
    let n = logarithms.count;
    let counting = (1.0 / mean + 1.0 / k) / f64::from(DAYS);
    let variance = sd * sd + counting;
    expect(
        "mean of ln",
        logarithms.mean(),
        -sd * sd / 2.0 - counting / 2.0,
        (variance / n).sqrt(),
    );
    expect(
        "variance of ln",
        logarithms.variance(),
        variance,
        variance * (2.0 / n).sqrt(),
    );
}

/// Keeps what is drawn of each block of the day.
struct Kept<'a> {
    drawn: Sampled<'a, LANES>,
    blocks: Vec<Seen>,
}

/// By day and by night.
#[derive(Clone, Copy, Default)]
struct Seen {
    expected: [f64; 2],
    squares: [f64; 2],
    seen: [f64; 2],
}

impl Seen {
    /// Fails if a block was not told of the triggers `expected` in it, or did not come by as many.
    #[track_caller]
    fn hold(&self, what: &str, light: usize, expected: f64, groups: f64) {
        let told = self.expected[light] / groups;
        assert!(
            (told - expected).abs() < 1e-9 * (1.0 + expected),
            "{what}: {told}"
        );
        if expected > 0.0 {
            let paths = groups * LANES as f64;
            let squares = self.squares[light] / groups;
            let error = ((expected + squares / DISPERSION) * paths).sqrt();
            expect(what, self.seen[light], expected * paths, error);
        } else {
            assert!(self.seen[light] <= 0.0, "{what}");
        }
    }
}

impl Traffic<LANES> for Kept<'_> {
    const ASKED_AT_COLDEST: bool = false;

    fn of_block(
        &mut self,
        day: u32,
        block: u32,
        expected: (f64, f64),
    ) -> (Lanes<LANES>, Lanes<LANES>) {
        let (by_day, by_night) = self.drawn.of_block(day, block, expected);
        let kept = &mut self.blocks[block as usize];
        for (light, (expected, seen)) in [(expected.0, by_day), (expected.1, by_night)]
            .into_iter()
            .enumerate()
        {
            kept.expected[light] += expected;
            kept.squares[light] += expected * expected;
            kept.seen[light] += seen.0.iter().sum::<f64>();
        }
        (by_day, by_night)
    }
}

/// Hours of days in November at 55 degrees north, all at 5 degrees Celsius.
fn hours(activity: &Activity, days: i32) -> Vec<Hour> {
    let place = Place::new(55.0, 15.0, 1.0).unwrap_or_else(|why| panic!("{why}"));
    let air = Temperature::from_celsius(5.0);
    // 2026-11-01.
    let first = Day::from_days_since_2000(9801);
    let rates = (0..days).map(|day| activity.rates_of_day(&place, first.plus(day), 0.0));
    let hours = rates.flat_map(|rates| (0..).zip(rates));
    let hour = |(of_day, rate): (u8, HourRate)| Hour {
        of_day,
        air,
        coldest: air,
        day_triggers: rate.per_hour * (1.0 - rate.night_share),
        night_triggers: rate.per_hour * rate.night_share,
        dark_share: rate.dark_share,
        panel: Power::ZERO,
    };
    hours.map(hour).collect()
}

fn activity(pattern: Pattern) -> Activity {
    let counts = Counts {
        false_share: 0.2,
        ..Counts::USUAL
    };
    let activity = Activity::new([7.0; 12], pattern).and_then(|a| a.with_counts(counts));
    activity.unwrap_or_else(|why| panic!("{why}"))
}

/// Follows groups of paths through `hours`, taken `length` at a time, and keeps their triggers.
fn followed(scenario: &Scenario, hours: &[Hour], length: usize, groups: u32) -> Vec<Seen> {
    let prepared = Prepared::new(scenario);
    let chances = chances(DISPERSION, 0.0);
    let blocks = hours.chunks(length);
    let blocks: Vec<Block> = blocks
        .filter_map(|hours| Block::of(hours, &scenario.draw, scenario.pack.cell()))
        .collect();
    let per_day = 24 / length;
    let mut seen = vec![Seen::default(); per_day];
    for drawn in drawn(groups) {
        let mut kept = Kept {
            drawn: chances.traffic(&drawn),
            blocks: seen,
        };
        let luck = Luck::<LANES>::NONE;
        let air = &[];
        follow::<_, LANES>(
            &prepared.as_said(),
            &blocks,
            per_day,
            air,
            &luck,
            &mut kept,
            &mut |_, _| {},
        );
        seen = kept.blocks;
    }
    seen
}

const DISPERSION: f64 = 1.35;

/// Blocks of every length take each hour's triggers, by day and by night, to their own block.
#[test]
fn hours_and_lights_get_their_shares() {
    const GROUPS: u32 = 12;
    let line = SCENARIOS[2].line();
    let camera = &line.cameras[0];
    let scenario = camera.scenario(&camera.pack);
    let scenario = scenario.unwrap_or_else(|why| panic!("{why}"));
    let by_hour = std::array::from_fn(|hour| match hour {
        6 => 1.0,
        17 => 3.0,
        _ => 0.0,
    });
    for pattern in [
        Pattern::Even,
        Pattern::Night,
        Pattern::Twilight,
        Pattern::ByHour(by_hour),
    ] {
        let hours = hours(&activity(pattern), 20);
        for length in [1, 3, 6, 12] {
            let blocks = followed(&scenario, &hours, length, GROUPS);
            for (number, seen) in blocks.iter().enumerate() {
                let of_block = |hour: &&Hour| usize::from(hour.of_day) / length == number;
                let hours = || hours.iter().filter(of_block);
                let expected = [
                    hours().map(|hour| hour.day_triggers).sum::<f64>(),
                    hours().map(|hour| hour.night_triggers).sum::<f64>(),
                ];
                for (light, expected) in expected.into_iter().enumerate() {
                    let what = format!("{pattern:?}, block {number} of {length} h, light {light}");
                    seen.hold(&what, light, expected, f64::from(GROUPS));
                }
            }
        }
    }
}
