//! The model's sun against published and computed tables; see `data/README.md` for their sources.
//!
//! Another folder or file: `OVERWINTER_SUN_TABLES`. Errors are in degrees and hours; those of light
//! are relative.

mod light;
mod published;

use std::collections::HashMap;

use overwinter_model::{
    CIVIL_TWILIGHT_ALTITUDE_DEG, Day, Place, SUNRISE_ALTITUDE_DEG, SunAbove, SunDay, Time,
    sun_position,
};
use overwinter_tests::files::{data, reference_files};
use overwinter_tests::held::Held;
use overwinter_tests::tables::{Row, Table, file_name};
use time::{Date, Month};

/// What the method claims.
const ELEVATION_TOLERANCE_DEG: f64 = 0.02;
/// 0.05 degrees, except near the zenith and its opposite, where a small arc is a large angle.
const AZIMUTH_TOLERANCE_DEG: f64 = 0.05;
const HIGHEST_ELEVATION_DEG: f64 = 80.0;

/// Latitude, longitude and height above the sea in metres of each named site.
type Sites = HashMap<String, (f64, f64, f64)>;

#[test]
fn sun_tables() {
    let mut held = Held::default();
    let mut tables = Vec::new();
    for path in reference_files("OVERWINTER_SUN_TABLES", "sun") {
        match Table::read(&path) {
            Some(table) => tables.push(table),
            None => held.points.skip(&file_name(&path), "not a table"),
        }
    }
    let own_sites = Table::read(&data("sun").join("sites.csv"));
    let sites = sites(own_sites.iter().chain(&tables));
    for table in &tables {
        if table.has(&[
            "time_utc",
            "elevation_deg",
            "azimuth_deg_from_north",
            "site",
        ]) {
            hold_positions(
                &mut held,
                table,
                &sites,
                ["elevation_deg", "azimuth_deg_from_north"],
            );
        } else if table.has(&[
            "time_utc",
            "sun_elevation_deg",
            "sun_azimuth_deg_from_north",
        ]) {
            let columns = ["sun_elevation_deg", "sun_azimuth_deg_from_north"];
            hold_positions(&mut held, table, &sites, columns);
        } else if table.has(&["solar_day", "sun_-0.8333_up_utc", "civil_-6_up_utc"]) {
            hold_crossings(&mut held, table, &sites, &FORTNIGHTLY);
        } else if table.has(&["solar_day", "sunrise_utc", "civil_dawn_utc"]) {
            hold_crossings(&mut held, table, &sites, &DAY_LENGTH);
        } else if table.has(&["local_date", "rises_local", "sets_local"]) {
            hold_local_dates(&mut held, table);
        } else if table.has(&["case", "quantity", "value", "unit", "tolerance"]) {
            published::hold(&mut held, table);
        } else if light::hold(&mut held, table, &sites) || is_sites(table) {
            // Held, or only read.
        } else {
            held.points.skip(
                &file_name(&table.path),
                "a kind of file that this test does not know",
            );
        }
    }
    held.print();
    held.assert_held();
}

fn is_sites(table: &Table) -> bool {
    table.has(&["site", "latitude_deg", "longitude_deg", "elevation_m"])
}

fn sites<'a>(tables: impl Iterator<Item = &'a Table>) -> Sites {
    let rows = tables
        .filter(|table| is_sites(table))
        .flat_map(|table| &table.rows);
    let site = |row: &Row| {
        let (latitude, longitude) = place_of(row)?;
        let place = (latitude, longitude, row.number("elevation_m")?);
        Some((row.text("site").to_owned(), place))
    };
    rows.filter_map(site).collect()
}

fn place_of(row: &Row) -> Option<(f64, f64)> {
    Some((row.number("latitude_deg")?, row.number("longitude_deg")?))
}

/// `2027-01-21T05:00Z`, or with seconds: the UTC day and hours since its midnight.
fn moment(text: &str) -> Option<(Day, f64)> {
    let (date, clock) = text.strip_suffix('Z')?.split_once('T')?;
    Some((day(date)?, hours(clock)?))
}

fn day(text: &str) -> Option<Day> {
    let mut parts = text.split('-');
    let year = parts.next()?.parse().ok()?;
    let month = Month::try_from(parts.next()?.parse::<u8>().ok()?).ok()?;
    let date = Date::from_calendar_date(year, month, parts.next()?.parse().ok()?).ok()?;
    Some(Day::from(date))
}

/// `HH:MM` or `HH:MM:SS` in hours.
fn hours(clock: &str) -> Option<f64> {
    clock
        .split(':')
        .zip([1.0, 60.0, 3600.0])
        .map(|(part, scale)| Some(part.parse::<f64>().ok()? / scale))
        .sum()
}

/// Elevation and azimuth at instants of UTC. The columns hold no refraction; those named `apparent`
/// do and are left out.
fn hold_positions(held: &mut Held, table: &Table, sites: &Sites, columns: [&str; 2]) {
    let [elevation, azimuth] = columns;
    for row in &table.rows {
        let id = format!("{} {}", row.text("site"), row.text("time_utc"));
        let read = || {
            let of_site = || {
                let (latitude, longitude, _) = sites.get(row.text("site"))?;
                Some((*latitude, *longitude))
            };
            let (latitude, longitude) = place_of(row).or_else(of_site)?;
            let place = Place::new(latitude, longitude, 0.0).ok()?;
            Some((
                place,
                moment(row.text("time_utc"))?,
                row.number(elevation)?,
                row.number(azimuth)?,
            ))
        };
        let Some((place, (day, hours), elevation, azimuth)) = read() else {
            held.points
                .skip(&id, "place, time or angles cannot be read");
            continue;
        };
        let sun = sun_position(&place, day, Time::from_hours(hours));
        held.within(
            &id,
            "elevation_deg",
            elevation,
            sun.elevation_deg,
            ELEVATION_TOLERANCE_DEG,
        );
        if elevation.abs() < HIGHEST_ELEVATION_DEG {
            // On the same turn as the reference.
            let apart = (sun.azimuth_deg - azimuth + 540.0).rem_euclid(360.0) - 180.0;
            held.within(
                &id,
                "azimuth_deg",
                azimuth,
                azimuth + apart,
                AZIMUTH_TOLERANCE_DEG,
            );
        }
    }
}

/// One height whose crossings a table gives.
struct Height {
    altitude_deg: f64,
    up: &'static str,
    down: &'static str,
}

/// How a table of risings and settings names its columns, and how exact it is.
struct CrossingTable {
    heights: [Height; 2],
    /// Seconds, below and above 60 degrees of latitude.
    tolerance_s: (f64, f64),
}

const FORTNIGHTLY: CrossingTable = CrossingTable {
    heights: [
        Height {
            altitude_deg: SUNRISE_ALTITUDE_DEG,
            up: "sun_-0.8333_up_utc",
            down: "sun_-0.8333_down_utc",
        },
        Height {
            altitude_deg: CIVIL_TWILIGHT_ALTITUDE_DEG,
            up: "civil_-6_up_utc",
            down: "civil_-6_down_utc",
        },
    ],
    tolerance_s: (20.0, 60.0),
};

/// Made on a grid of 10 s.
const DAY_LENGTH: CrossingTable = CrossingTable {
    heights: [
        Height {
            altitude_deg: SUNRISE_ALTITUDE_DEG,
            up: "sunrise_utc",
            down: "sunset_utc",
        },
        Height {
            altitude_deg: CIVIL_TWILIGHT_ALTITUDE_DEG,
            up: "civil_dawn_utc",
            down: "civil_dusk_utc",
        },
    ],
    tolerance_s: (60.0, 180.0),
};

/// Within two weeks of the first or the last crossing the sun grazes the height, and seconds of arc
/// become minutes of time.
const GRAZING_TOLERANCE_S: f64 = 180.0;

fn hold_crossings(held: &mut Held, table: &Table, sites: &Sites, kind: &CrossingTable) {
    for (index, row) in table.rows.iter().enumerate() {
        let site = row.text("site");
        let id = format!("{site} {}", row.text("solar_day"));
        let (Some((latitude, longitude, _)), Some(date)) =
            (sites.get(site), day(row.text("solar_day")))
        else {
            held.points.skip(&id, "site or day cannot be read");
            continue;
        };
        // The zone nearest to the sun's own time, so that the clock's day holds the solar one.
        let zone_h = (longitude / 15.0).round();
        let place = Place::new(*latitude, *longitude, zone_h).expect("a place on earth");
        let (low, high) = kind.tolerance_s;
        let usual_s = if latitude.abs() < 60.0 { low } else { high };
        for height in &kind.heights {
            let neighbours = [index.checked_sub(1), Some(index + 1)]
                .into_iter()
                .flatten();
            let grazing = neighbours
                .filter_map(|i| table.rows.get(i))
                .any(|near| near.text("site") == site && near.text(height.up).is_empty());
            let tolerance_s = if grazing {
                GRAZING_TOLERANCE_S
            } else {
                usual_s
            };
            let (up, down) = match SunDay::new(&place, date).above(height.altitude_deg) {
                SunAbove::Between { up, down } => (Some(up), Some(down)),
                SunAbove::Always | SunAbove::Never => (None, None),
            };
            for (column, ours) in [(height.up, up), (height.down, down)] {
                let reference = moment(row.text(column))
                    .map(|(day, hours)| f64::from(day.days_since(date)) * 24.0 + hours + zone_h);
                if reference.is_none() && ours.is_none() {
                    continue;
                }
                // A crossing on one side only is as wrong as can be: not a number, and a miss.
                let reference = reference.unwrap_or(f64::NAN);
                let ours = ours.map_or(f64::NAN, Time::as_hours);
                held.within(&id, column, reference, ours, tolerance_s / 3600.0);
            }
        }
    }
}

/// Made on a grid of 10 s, without the dates on which the sun all but grazes the horizon.
const LOCAL_DATE_TOLERANCE_S: f64 = 60.0;

/// Rises and sets of local dates around the midnight sun: how many there are, and when.
fn hold_local_dates(held: &mut Held, table: &Table) {
    for row in &table.rows {
        let id = format!("{} {}", row.text("latitude_deg"), row.text("local_date"));
        let read = || {
            let (latitude, longitude) = place_of(row)?;
            let place = Place::new(latitude, longitude, row.number("utc_offset_h")?).ok()?;
            Some(SunDay::new(&place, day(row.text("local_date"))?))
        };
        let Some(sun) = read() else {
            held.points.skip(&id, "place or date cannot be read");
            continue;
        };
        let spans = || sun.spans_above(SUNRISE_ALTITUDE_DEG);
        let spans = || spans().map(|(from, to)| (from.as_hours(), to.as_hours()));
        let rises = spans().map(|span| span.0).filter(|from| *from > 0.0);
        let sets = spans().map(|span| span.1).filter(|to| *to < 24.0);
        for (column, ours) in [
            ("rises_local", rises.collect::<Vec<_>>()),
            ("sets_local", sets.collect()),
        ] {
            let reference: Vec<f64> = row
                .text(column)
                .split_whitespace()
                .filter_map(hours)
                .collect();
            // One too many or too few is as wrong as can be: not a number, and a miss.
            for place in 0..reference.len().max(ours.len()) {
                let at = |hours: &[f64]| hours.get(place).copied().unwrap_or(f64::NAN);
                let tolerance_h = LOCAL_DATE_TOLERANCE_S / 3600.0;
                held.within(&id, column, at(&reference), at(&ours), tolerance_h);
            }
        }
    }
}
