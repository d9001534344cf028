//! Sampled days against the spread that they are drawn from.

use overwinter_line::weather::{Climate, climates, read_weather_file};
use overwinter_model::lanes::Lanes;
use overwinter_model::paths::{AirChances, Drawn, MonthChances, SampledAir};
use overwinter_model::random::AnomalyLaw;
use overwinter_model::{Day, MonthSpread, Spread};
use overwinter_tests::files::{beside_checkout, data};
use overwinter_tests::surroundings::Disk;
use overwinter_tests::tables::Table;

use crate::{LANES, SEED, Sample, drawn, expect};

/// 2027-01-01.
const NEW_YEAR: Day = Day::from_days_since_2000(9862);

/// Groups of 16 paths.
const GROUPS: u32 = 60;

fn law(month: &MonthSpread) -> AnomalyLaw {
    let persistence = [month.temperature_lag1, month.clearness_lag1];
    AnomalyLaw::new(persistence, month.correlation).unwrap_or_else(|why| panic!("{why}"))
}

/// As the program takes a spread, with the winters' own standard deviation as given.
fn chances(spread: &Spread, winters_sd_k: f64) -> AirChances {
    AirChances {
        months: spread.months().map(|month| MonthChances {
            law: law(&month),
            temperature_sd_k: month.temperature_sd_k,
            range_sd_k: month.range_sd_k,
            clearness_sd: month.clearness_sd,
        }),
        winters_sd_k,
    }
}

/// Temperature above the expected and range beyond it, of each of the `days` from 1 January on, kelvin;
/// a list for each path.
fn paths(chances: &AirChances, days: i32) -> Vec<Vec<[f64; 2]>> {
    let groups = drawn(GROUPS).flat_map(|drawn| {
        let mut air = SampledAir::new(drawn, chances);
        let mut paths = vec![Vec::new(); LANES];
        for day in 0..days {
            let today = air.next_day(NEW_YEAR.plus(day).month_index());
            let lanes = today.warmer_k.0.into_iter().zip(today.wider_k.0);
            for (path, (warmer_k, wider_k)) in paths.iter_mut().zip(lanes) {
                path.push([warmer_k, wider_k]);
            }
        }
        paths
    });
    groups.collect()
}

/// The built-in climates, and those of the weather files of the reference.
fn spreads() -> Vec<(String, Spread)> {
    let spread = |climate: &Climate| climate.spread().unwrap_or_else(|why| panic!("{why}"));
    let built_in = climates().into_iter();
    let mut spreads: Vec<_> = built_in.map(|c| (c.name.clone(), spread(&c))).collect();
    for (name, file, _) in files() {
        spreads.push((name.to_owned(), file));
    }
    spreads
}

/// Spreads of the reference's hours that are weather files, with their own statistics of days.
fn files() -> Vec<(&'static str, Spread, Option<Table>)> {
    let mut found = Vec::new();
    for (name, file) in [
        ("greensboro", Some(data("climate/greensboro-tmy3.csv"))),
        ("chicago", beside_checkout("climate/chicago-tmy3.epw")),
        ("po-valley", beside_checkout("climate/po-valley-45n8e.epw")),
    ] {
        let Some(file) = file else {
            println!("skipped: the hours of {name} are not here");
            continue;
        };
        let read = read_weather_file(&Disk, file).unwrap_or_else(|why| panic!("{why}"));
        let spread = read.spread().unwrap_or_else(|why| panic!("{why}"));
        let table = beside_checkout(&format!("climate/{name}_day_statistics.csv"));
        found.push((name, spread, table.and_then(|table| Table::read(&table))));
    }
    found
}

/// One month's days over all paths.
#[derive(Clone, Copy, Default)]
struct MonthDays {
    warmer_k: Sample,
    wider_k: Sample,
    /// Products of a day's anomalies and the day's before, in the month before too.
    next_day: Sample,
    next_range: Sample,
    both: Sample,
}

/// Standard errors: of the mean and the variance of an autoregressive series as for a long one, which
/// pieces of it do not exceed; of correlations by Bartlett's formula.
#[test]
fn days_stray_as_the_spread_says() {
    for (name, spread) in spreads() {
        let mut months = [MonthDays::default(); 12];
        let sd = |month: usize| spread.month(month);
        for path in paths(&chances(&spread, 0.0), 365) {
            let mut before: Option<[f64; 2]> = None;
            for (day, [warmer_k, wider_k]) in (0..).zip(path) {
                let index = NEW_YEAR.plus(day).month_index();
                let month = &mut months[index];
                month.warmer_k.add(warmer_k);
                month.wider_k.add(wider_k);
                let units = [
                    warmer_k / sd(index).temperature_sd_k,
                    wider_k / sd(index).range_sd_k,
                ];
                month.both.add(units[0] * units[1]);
                if let Some(before) = before {
                    month.next_day.add(units[0] * before[0]);
                    month.next_range.add(units[1] * before[1]);
                }
                before = Some(units);
            }
        }
        for (index, days) in months.iter().enumerate() {
            let what = |figure: &str| format!("{name}, month {}: {figure}", index + 1);
            let target = spread.month(index);
            let (phi, n) = (target.temperature_lag1, days.warmer_k.count);
            let sd_k = target.temperature_sd_k;
            let error = sd_k * ((1.0 + phi) / (1.0 - phi) / n).sqrt();
            expect(&what("mean"), days.warmer_k.mean(), 0.0, error);
            let variance = sd_k * sd_k;
            let error = variance * (2.0 * (1.0 + phi * phi) / (1.0 - phi * phi) / n).sqrt();
            let found = days.warmer_k.squares / n;
            expect(&what("variance"), found, variance, error);
            let lag1 = days.next_day.mean() / (found / variance);
            let error = ((1.0 - phi * phi) / n).sqrt();
            expect(&what("lag-1"), lag1, phi, error);
            let error = target.range_sd_k / n.sqrt();
            expect(&what("mean range"), days.wider_k.mean(), 0.0, error);
            let variance = target.range_sd_k * target.range_sd_k;
            let found = days.wider_k.squares / n;
            expect(
                &what("variance of range"),
                found,
                variance,
                variance * (2.0 / n).sqrt(),
            );
            expect(
                &what("lag-1 of range"),
                days.next_range.mean(),
                0.0,
                1.0 / n.sqrt(),
            );
            expect(
                &what("range and mean"),
                days.both.mean(),
                0.0,
                1.0 / n.sqrt(),
            );
        }
    }
}

/// Variance between paths of the mean of their first 90 days: that of the winters, and what the days'
/// own covariances leave of the means of days.
#[test]
fn winters_lie_apart_as_the_spread_says() {
    const DAYS: usize = 90;
    for (name, spread) in spreads() {
        let winters_sd_k = spread.winters_sd_k();
        let paths = paths(&chances(&spread, winters_sd_k), DAYS as i32);
        let means = paths
            .iter()
            .map(|path| path.iter().map(|[warmer_k, _]| warmer_k).sum::<f64>());
        let found = Sample::of(means.map(|sum| sum / DAYS as f64));
        let month = |day: usize| spread.month(NEW_YEAR.plus(day as i32).month_index());
        let mut sum = 0.0;
        for first in 0..DAYS {
            let mut kept = month(first).temperature_sd_k;
            sum += kept * kept;
            for later in first + 1..DAYS {
                kept *= month(later).temperature_lag1;
                sum += 2.0 * kept * month(later).temperature_sd_k;
            }
        }
        let expected = winters_sd_k * winters_sd_k + sum / (DAYS * DAYS) as f64;
        let n = found.count;
        expect(
            &format!("{name}: mean of winters"),
            found.mean(),
            0.0,
            (expected / n).sqrt(),
        );
        let error = expected * (2.0 / n).sqrt();
        expect(
            &format!("{name}: variance of winters"),
            found.variance(),
            expected,
            error,
        );
        println!(
            "{name}\tmeans of {DAYS} days lie {:.2} K apart, {:.2} asked",
            found.variance().sqrt(),
            expected.sqrt()
        );
    }
}

/// What is left of a month's days about their straight line by least squares.
fn without_trend(days: &[f64]) -> Vec<f64> {
    let n = days.len() as f64;
    let steps = || (0..days.len()).map(|day| day as f64 - (n - 1.0) / 2.0);
    let mean = days.iter().sum::<f64>() / n;
    let slope = steps().zip(days).map(|(step, day)| step * day).sum::<f64>()
        / steps().map(|step| step * step).sum::<f64>();
    let line = steps().map(|step| mean + slope * step);
    days.iter()
        .zip(line)
        .map(|(day, line)| day - line)
        .collect()
}

/// The days of November to March about each month's trend, as the reference looks at its one year: paths
/// show the same spread and persistence although they are drawn with more of both. Spreads to a tenth,
/// since those of neighbouring months are drawn together (October's and April's reach into winter), and
/// persistence to 0.1, since all climates are drawn with the same.
#[test]
fn months_of_paths_look_like_those_of_the_reference() {
    let winter = [0, 1, 2, 10, 11];
    for (name, spread, table) in files() {
        let row = table
            .iter()
            .flat_map(|table| &table.rows)
            .find(|row| row.text("period") == "nov-mar");
        let Some(row) = row else {
            println!("skipped: the days of {name} are not here");
            continue;
        };
        let (mut squares, mut products, mut freedom) = (0.0, 0.0, 0.0);
        let mut ranges = Sample::default();
        for path in paths(&chances(&spread, spread.winters_sd_k()), 365) {
            for month in winter {
                let days = (0..)
                    .zip(&path)
                    .filter(|(day, _)| NEW_YEAR.plus(*day).month_index() == month);
                let (air, wider): (Vec<f64>, Vec<f64>) =
                    days.map(|(_, [air, wider])| (air, wider)).unzip();
                let left = without_trend(&air);
                squares += left.iter().map(|left| left * left).sum::<f64>();
                products += left.windows(2).map(|pair| pair[0] * pair[1]).sum::<f64>();
                freedom += left.len() as f64 - 2.0;
                wider.into_iter().for_each(|wider| ranges.add(wider));
            }
        }
        let ours = [
            ("sd_daily_mean_detrended_c", (squares / freedom).sqrt(), 0.1),
            ("daily_range_sd_c", ranges.variance().sqrt(), 0.1),
        ];
        for (column, ours, tolerance) in ours {
            let reference = row.number(column).unwrap_or(f64::NAN);
            println!("POINT\t{name}\t{column}\treference {reference:.3}\tours {ours:.3}");
            assert!(
                (ours / reference - 1.0).abs() < tolerance,
                "{name} {column}"
            );
        }
        let reference = row.number("lag1_daily_mean_detrended").unwrap_or(f64::NAN);
        let ours = products / squares;
        println!(
            "POINT\t{name}\tlag1_daily_mean_detrended\treference {reference:.3}\tours {ours:.3}"
        );
        assert!((ours - reference).abs() < 0.1, "{name}");
    }
}

/// Clearness keeps its spread and its persistence, and goes with temperature as the climate says: cold
/// and clear together in an inland winter. January and July have the two laws of a climate.
#[test]
fn sky_and_temperature_go_together_as_the_spread_says() {
    const DAYS: u32 = 6_000;
    for (name, spread) in spreads() {
        let chances = chances(&spread, 0.0);
        for index in [0, 6] {
            let month = spread.month(index);
            let correlation = law(month).correlation();
            assert!((correlation - month.correlation).abs() < 1e-9, "{name}");
            let drawn = Drawn::<LANES> {
                key: SEED,
                paths: std::array::from_fn(|lane| lane as u32),
            };
            let mut air = SampledAir::new(drawn, &chances);
            let mut next_day = || {
                let day = air.next_day(index);
                let units = |lanes: Lanes<LANES>, sd: f64| lanes.0.map(|anomaly| anomaly / sd);
                (
                    units(day.warmer_k, month.temperature_sd_k),
                    units(day.clearer, month.clearness_sd),
                )
            };
            let (mut both, mut sky, mut spread) =
                (Sample::default(), Sample::default(), Sample::default());
            let (_, mut before) = next_day();
            for _ in 1..DAYS {
                let (t, c) = next_day();
                for lane in 0..LANES {
                    both.add(t[lane] * c[lane]);
                    sky.add(before[lane] * c[lane]);
                    spread.add(c[lane] * c[lane]);
                }
                before = c;
            }
            let n = both.count;
            let [phi_t, phi_c] = [month.temperature_lag1, month.clearness_lag1];
            // Variance of a product of two normal numbers of correlation r: 1 + r^2. The products of one
            // day and the next are correlated by no more than the series themselves, multiplied.
            let kept = (phi_t * phi_c).max(phi_c * phi_c);
            let spread_of = |r: f64| ((1.0 + r * r) * (1.0 + kept) / (1.0 - kept) / n).sqrt();
            for (figure, found, expected) in [
                ("correlation", both.mean(), month.correlation),
                ("lag-1 of clearness", sky.mean(), phi_c),
                ("variance of clearness", spread.mean(), 1.0),
            ] {
                let what = format!("{name}, month {}: {figure}", index + 1);
                expect(&what, found, expected, spread_of(expected));
            }
        }
    }
}
