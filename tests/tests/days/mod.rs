//! What single days do: statistics of weather files, and the built-in climates made from them.

use std::path::Path;

use overwinter_line::weather::{DayStatistics, WeatherFile, climate, read_weather_file};
use overwinter_model::{MonthSpread, Spread};
use overwinter_tests::files::data;
use overwinter_tests::held::Held;
use overwinter_tests::surroundings::Disk;
use overwinter_tests::tables::{Row, Table, file_name};

use crate::Sources;

/// Asked of statistics from the same hours. The tables keep four digits, and a correlation near zero has
/// no percent: there as much is allowed as the last hour of sun shifts it.
const TOLERANCE: f64 = 0.01;
const LEAST_TOLERANCE: f64 = 0.0005;

/// Built-in climates and the files that they were made from.
const BUILT_IN: [(&str, &str); 3] = [
    ("greensboro", "temperate-warm"),
    ("chicago", "temperate-inland"),
    ("northway", "boreal-inland"),
];

pub(super) fn is_table(table: &Table) -> bool {
    table.has(&["climate", "period", "sd_daily_mean_detrended_c"])
}

/// Every period of the table, and the built-in climate that was made from its file.
pub(super) fn hold(held: &mut Held, table: &Table, sources: &Sources) {
    let climate = table.rows.first().map_or("", |row| row.text("climate"));
    let Some(file) = sources.weather(climate) else {
        held.points.skip(
            &file_name(&table.path),
            "skipped: its hourly file is not here",
        );
        return;
    };
    for row in &table.rows {
        hold_period(held, climate, row, &file);
    }
    if let Some((_, built_in)) = BUILT_IN.iter().find(|(of, _)| *of == climate) {
        hold_built_in(held, built_in, &file);
    }
}

fn hold_period(held: &mut Held, climate: &str, row: &Row, file: &WeatherFile) {
    let id = format!("{climate} {}", row.text("period"));
    let Some(months) = months(row.text("period")) else {
        held.points.skip(&id, "a period that is not known");
        return;
    };
    let ours = file.day_statistics(&months);
    for (column, ours) in columns(&ours) {
        match row.number(column) {
            Some(reference) => {
                let tolerance = (TOLERANCE * reference.abs()).max(LEAST_TOLERANCE);
                held.within(&id, column, reference, ours, tolerance);
            }
            None => held.points.skip(&id, "a value cannot be read"),
        }
    }
}

/// Indices of a period's months.
fn months(period: &str) -> Option<Vec<usize>> {
    match period {
        "nov-mar" => Some(vec![10, 11, 0, 1, 2]),
        "apr-oct" => Some((3..10).collect()),
        "year" => Some((0..12).collect()),
        month => {
            let month: usize = month.parse().ok()?;
            (1..=12).contains(&month).then(|| vec![month - 1])
        }
    }
}

fn columns(ours: &DayStatistics) -> [(&'static str, f64); 8] {
    [
        ("sd_daily_mean_detrended_c", ours.temperature_sd_k),
        ("lag1_daily_mean_detrended", ours.temperature_lag1),
        ("daily_range_c", ours.range_mean_k),
        ("daily_range_sd_c", ours.range_sd_k),
        ("clearness_mean", ours.clearness_mean),
        ("clearness_sd", ours.clearness_sd),
        ("clearness_lag1", ours.clearness_lag1),
        ("correlation_temperature_clearness", ours.correlation),
    ]
}

/// The climate holds what its file gives, rounded to 0.1 K and 0.01.
fn hold_built_in(held: &mut Held, name: &str, file: &WeatherFile) {
    let built_in = climate(name).unwrap_or_else(|| panic!("{name} is gone"));
    let spread = file.spread().unwrap_or_else(|error| panic!("{error}"));
    for (month, (file, ours)) in spread.months().iter().zip(&built_in.days).enumerate() {
        let id = format!("{name} {}", month + 1);
        for (quantity, file, ours, tolerance) in [
            ("sd_k", file.temperature_sd_k, ours.temperature_sd_k, 0.05),
            ("range_sd_k", file.range_sd_k, ours.range_sd_k, 0.05),
            ("clearness", file.clearness_mean, ours.clearness_mean, 0.005),
            ("clearness_sd", file.clearness_sd, ours.clearness_sd, 0.005),
            (
                "clearness_lag1",
                file.clearness_lag1,
                ours.clearness_lag1,
                0.005,
            ),
            ("correlation", file.correlation, ours.correlation, 0.005),
        ] {
            let quantity = format!("built_in_{quantity}");
            held.within(&id, &quantity, file, ours, tolerance + 1e-9);
        }
    }
}

/// A line's climate passes on what its file's days do; hours that are replayed stray from nothing.
#[test]
fn a_line_strays_as_its_weather_file_does_unless_it_is_replayed() {
    let path = data("climate").join("greensboro-tmy3.csv");
    let file = read_weather_file(&Disk, &path).unwrap_or_else(|error| panic!("{error}"));
    let spread = file.spread().unwrap_or_else(|error| panic!("{error}"));
    assert_eq!(line_spread(&path, "normals"), spread);
    let still = line_spread(&path, "hours");
    assert!(still.winters_sd_k() <= 0.0);
    for (still, month) in still.months().iter().zip(spread.months()) {
        let only_mean = MonthSpread {
            clearness_mean: month.clearness_mean,
            ..MonthSpread::default()
        };
        assert_eq!(*still, only_mean);
    }
}

fn line_spread(weather: &Path, weather_use: &str) -> Spread {
    let line = format!(
        "[site]\nweather = '{}'\nweather_use = \"{weather_use}\"\n\
         [season]\nstart = 2026-11-01\nend = 2026-12-01\n\
         [pack]\ncell = \"alkaline-aa\"\n[activity]\ntriggers_per_day = 8\n\
         [[camera]]\nname = \"ford\"\n",
        weather.display()
    );
    let path = Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("{weather_use}.toml"));
    std::fs::write(&path, line).unwrap_or_else(|error| panic!("{error}"));
    let line =
        overwinter_line::line::load(&Disk, &path).unwrap_or_else(|error| panic!("{error:?}"));
    line.climate.spread().clone()
}
