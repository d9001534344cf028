//! Weather files and the expected path against tables made from the same files; see `data/README.md`.
//!
//! Another folder or file: `OVERWINTER_CLIMATE_TABLES`. Errors are in kelvins and W/m2; those of light
//! on a plane are relative, those of a store in hours.

mod days;
mod harvest;

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use overwinter_line::weather::{AirNormals, MonthAir, WeatherFile, read_weather_file};
use overwinter_model::{Day, HourlyYear, Place, Weather};
use overwinter_tests::files::{beside_checkout, data, files_at, reference_files};
use overwinter_tests::held::Held;
use overwinter_tests::points::Measure;
use overwinter_tests::surroundings::Disk;
use overwinter_tests::tables::{Row, Table, file_name};

const VARIABLE: &str = "OVERWINTER_CLIMATE_TABLES";

/// Reduced from the same file; the tables keep three digits.
const NORMALS_TOLERANCE_K: f64 = 0.05;
/// The tables keep two digits of temperature and one of light.
const SAME_HOURS_TOLERANCE_K: f64 = 0.01;
const SAME_HOURS_TOLERANCE_W_PER_M2: f64 = 0.1;
/// What is asked of an hour's monthly mean from normals. A typical year's month is one real month of 28
/// to 31 days, so the fit is held to it in nine hours of ten, not in all: the rest is that month's own.
const SHAPE_P90_K: f64 = 1.0;

/// 2027-01-01, a year without a leap day, as the files have none.
const NEW_YEAR: Day = Day::from_days_since_2000(9862);

#[test]
fn climate_tables() {
    let mut held = Held::default();
    let paths = reference_files(VARIABLE, "climate");
    let sources = Sources::new(&paths);
    for path in &paths {
        let table = Table::read(path);
        match table {
            Some(table) if is_normals(&table) => hold_normals(&mut held, &table, &sources),
            Some(table) if is_month_hour(&table) => hold_month_hour(&mut held, &table, &sources),
            Some(table) if days::is_table(&table) => days::hold(&mut held, &table, &sources),
            Some(table) if is_sites(&table) || harvest::hold(&mut held, &table, &sources) => {}
            _ if is_weather(path) || harvest::is_hours(path) => {}
            _ => held.points.skip(
                &file_name(path),
                "a kind of file that this test does not know",
            ),
        }
    }
    held.print();
    held.assert_held();
    // Another folder may hold climates that the shape was never meant for.
    if std::env::var_os(VARIABLE).is_none() {
        hold_shape(&held);
    }
}

fn hold_shape(held: &Held) {
    for climate in climates_from_normals(held) {
        let of_climate = held.points.only(|point| point.quantity == climate);
        let p90 = of_climate.quantile(0.9).unwrap_or(f64::NAN);
        assert!(p90 <= SHAPE_P90_K, "{climate}: 90 % within {p90} K");
    }
}

fn climates_from_normals(held: &Held) -> BTreeSet<&str> {
    let quantities = held
        .points
        .compared()
        .iter()
        .map(|point| point.quantity.as_str());
    quantities
        .filter(|quantity| quantity.starts_with(FROM_NORMALS))
        .collect()
}

/// The quantity's name goes on with the climate, so that each is summed up apart.
const FROM_NORMALS: &str = "air_c_from_normals";

fn is_normals(table: &Table) -> bool {
    table.has(&[
        "climate",
        "month",
        "mean_c",
        "mean_daily_max_c",
        "mean_daily_min_c",
    ])
}

fn is_month_hour(table: &Table) -> bool {
    table.has(&["month", "hour_ending_local_standard", "air_c", "ghi_w_m2"])
}

fn is_sites(table: &Table) -> bool {
    table.has(&["climate", "latitude_deg", "longitude_deg", "utc_offset_h"])
}

/// Hourly files are used by the tables made from them.
fn is_weather(path: &Path) -> bool {
    let name = file_name(path).to_lowercase();
    name.ends_with(".epw") || name.ends_with("-tmy3.csv")
}

/// Where the hourly file, the place and the normals of a climate can be found.
struct Sources {
    files: Vec<PathBuf>,
}

impl Sources {
    /// The files under test first, then this package's own, then those beside the checkout.
    fn new(under_test: &[PathBuf]) -> Self {
        let mut files = under_test.to_vec();
        files.extend(files_at(data("climate")));
        files.extend(
            beside_checkout("climate")
                .map(files_at)
                .into_iter()
                .flatten(),
        );
        Self { files }
    }

    /// The climate's year of hours, if there is a file of it in a format that the program reads, or its
    /// hours can be put into one.
    fn weather(&self, climate: &str) -> Option<WeatherFile> {
        let of_climate = |path: &&PathBuf| file_name(path).starts_with(climate);
        let of_climate = self.files.iter().filter(of_climate);
        let path = of_climate.clone().find(|path| is_weather(path)).cloned();
        let path = path.or_else(|| harvest::as_epw(climate, self))?;
        Some(read_weather_file(&Disk, path).unwrap_or_else(|error| panic!("{error}")))
    }

    /// What tables of places say about a climate's.
    fn listed<T>(&self, climate: &str, read: impl Fn(&Row) -> Option<T>) -> Option<T> {
        let tables = self.files.iter().filter_map(|path| Table::read(path));
        tables.filter(is_sites).find_map(|table| {
            let row = table.rows.iter().find(|row| row.text("climate") == climate);
            row.and_then(&read)
        })
    }

    fn place(&self, climate: &str) -> Option<Place> {
        let listed = self.listed_place(climate);
        listed.or_else(|| self.weather(climate).map(|file| *file.place()))
    }

    fn listed_place(&self, climate: &str) -> Option<Place> {
        self.listed(climate, |row| {
            let number = |column| row.number(column);
            let (latitude, longitude) = (number("latitude_deg")?, number("longitude_deg")?);
            Place::new(latitude, longitude, number("utc_offset_h")?).ok()
        })
    }

    fn elevation_m(&self, climate: &str) -> Option<f64> {
        let listed = self.listed(climate, |row| row.number("elevation_m"));
        listed.or_else(|| self.weather(climate).map(|file| file.elevation_m()))
    }

    fn normals_table(&self, climate: &str) -> Option<Table> {
        let name = format!("{climate}_normals.csv");
        let path = self.files.iter().find(|path| file_name(path) == name)?;
        Table::read(path).filter(is_normals)
    }

    fn normals(&self, climate: &str) -> Option<AirNormals> {
        let table = self.normals_table(climate)?;
        let months: Option<Vec<MonthAir>> = table.rows.iter().map(month_air).collect();
        Some(AirNormals {
            months: months?.try_into().ok()?,
        })
    }
}

fn month_air(row: &Row) -> Option<MonthAir> {
    Some(MonthAir {
        mean_c: row.number("mean_c")?,
        mean_daily_max_c: row.number("mean_daily_max_c")?,
        mean_daily_min_c: row.number("mean_daily_min_c")?,
    })
}

/// Month index and the rest of a row's key.
fn month_index(row: &Row) -> Option<usize> {
    (1..=12)
        .find(|month| row.text("month") == month.to_string())
        .map(|month| month - 1)
}

fn hold_normals(held: &mut Held, table: &Table, sources: &Sources) {
    let climate = table.rows.first().map_or("", |row| row.text("climate"));
    let Some(file) = sources.weather(climate) else {
        held.points.skip(
            &file_name(&table.path),
            "skipped: its hourly file is not here",
        );
        return;
    };
    let ours = file.normals();
    for row in &table.rows {
        let id = format!("{climate} {}", row.text("month"));
        let (Some(reference), Some(month)) = (month_air(row), month_index(row)) else {
            held.points
                .skip(&id, "month or temperatures cannot be read");
            continue;
        };
        let ours = ours.months[month];
        for (quantity, reference, ours) in [
            ("mean_c", reference.mean_c, ours.mean_c),
            (
                "mean_daily_max_c",
                reference.mean_daily_max_c,
                ours.mean_daily_max_c,
            ),
            (
                "mean_daily_min_c",
                reference.mean_daily_min_c,
                ours.mean_daily_min_c,
            ),
        ] {
            held.within(&id, quantity, reference, ours, NORMALS_TOLERANCE_K);
        }
    }
}

/// Means by month (0 to 11) and hour (0 to 23).
type MonthHours = [[f64; 24]; 12];

/// Means over a year of whatever `value` gives for a day's hours.
fn month_hours(value: impl Fn(Day) -> [f64; 24]) -> MonthHours {
    let mut means = [[0.0; 24]; 12];
    for day in (0..365).map(|days| NEW_YEAR.plus(days)) {
        let length = f64::from(day.days_in_month());
        for (mean, value) in means[day.month_index()].iter_mut().zip(value(day)) {
            *mean += value / length;
        }
    }
    means
}

fn air_by_month_hour(weather: &Weather<'_>, place: &Place) -> MonthHours {
    month_hours(|day| weather.air_of_day(place, day).map(|air| air.as_celsius()))
}

fn hold_month_hour(held: &mut Held, table: &Table, sources: &Sources) {
    let name = file_name(&table.path);
    let climate = name.strip_suffix("_month_hour.csv").unwrap_or(&name);
    match sources.weather(climate) {
        Some(file) => hold_replay(held, table, climate, &file),
        None => held
            .points
            .skip(&name, "skipped: its hourly file is not here"),
    }
    match (sources.place(climate), sources.normals(climate)) {
        (Some(place), Some(normals)) => {
            let normals = normals
                .to_model()
                .unwrap_or_else(|error| panic!("{climate}: {error}"));
            let ours = air_by_month_hour(&Weather::Normals(&normals), &place);
            let quantity = format!("{FROM_NORMALS} {climate}");
            hold_column(held, table, climate, ("air_c", &quantity), &ours, None);
        }
        _ => held
            .points
            .skip(&name, "neither its place nor its normals are here"),
    }
}

/// The file replayed hour by hour comes to the table's means.
fn hold_replay(held: &mut Held, table: &Table, climate: &str, file: &WeatherFile) {
    let hours = file.air_hours();
    let replay = HourlyYear::new(&hours).unwrap_or_else(|error| panic!("{climate}: {error}"));
    let air = air_by_month_hour(&Weather::Hours(replay), file.place());
    let tolerance = Some(SAME_HOURS_TOLERANCE_K);
    hold_column(held, table, climate, ("air_c", "air_c"), &air, tolerance);
    let light = |value: fn(&overwinter_line::weather::WeatherHour) -> f64| {
        month_hours(|day| {
            let first = usize::from(day.day_of_year() - 1) * 24;
            std::array::from_fn(|hour| value(&file.hours()[first + hour]))
        })
    };
    let tolerance = Some(SAME_HOURS_TOLERANCE_W_PER_M2);
    for (column, ours) in [
        ("ghi_w_m2", light(|hour| hour.ghi_w_per_m2)),
        ("dni_w_m2", light(|hour| hour.dni_w_per_m2)),
        ("dhi_w_m2", light(|hour| hour.dhi_w_per_m2)),
    ] {
        hold_column(held, table, climate, (column, column), &ours, tolerance);
    }
}

fn hold_column(
    held: &mut Held,
    table: &Table,
    climate: &str,
    (column, quantity): (&str, &str),
    ours: &MonthHours,
    tolerance: Option<f64>,
) {
    for row in &table.rows {
        let hour_ending = row.text("hour_ending_local_standard");
        let id = format!("{climate} {} {hour_ending}", row.text("month"));
        let hour = (0..24).find(|hour| hour_ending == (hour + 1).to_string());
        let (Some(month), Some(hour), Some(reference)) =
            (month_index(row), hour, row.number(column))
        else {
            held.points.skip(&id, "month, hour or value cannot be read");
            continue;
        };
        let ours = ours[month][hour];
        match tolerance {
            Some(tolerance) => held.within(&id, quantity, reference, ours, tolerance),
            None => held
                .points
                .compare(&id, quantity, reference, ours, Measure::Absolute),
        }
    }
}
