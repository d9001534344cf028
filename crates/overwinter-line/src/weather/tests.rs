//! Good and bad weather files, written to disk and read back.

use std::fmt::Write as _;

use proptest::prelude::*;

use super::year::MONTH_DAYS;
use crate::host::InMemory;

use super::{WeatherFile, WeatherFileError, read_weather_file};

const EPW_HEADER: &str = "LOCATION,S\u{e3}o Nowhere,-,-,TMY3,0,-31.50,152.25,9.5,12.0\n\
    DESIGN CONDITIONS,0\n\
    COMMENTS 1,a lone \" quotation mark\n\
    DATA PERIODS,1,1,Data,Sunday, 1/ 1,12/31\n";

const TMY3_HEADER: &str = "123456,\"NOWHERE, INLAND\",XX,-6.0,42.000,-87.000,201\n\
    Date (MM/DD/YYYY),Time (HH:MM),GHI (W/m^2),GHI source,DNI (W/m^2),DHI (W/m^2),\
    Dry-bulb source,Dry-bulb (C)\n";

/// Months, days and hours of a year, with or without a leap day.
fn stamps(leap: bool) -> impl Iterator<Item = (u8, u8, u8)> {
    (1_u8..).zip(MONTH_DAYS).flat_map(move |(month, days)| {
        let days = days + u8::from(leap && month == 2);
        (1..=days).flat_map(move |day| (1..=24).map(move |hour| (month, day, hour)))
    })
}

/// An air temperature that tells its hour: the day's mean is the month.
fn air_c(month: u8, hour: u8) -> f64 {
    f64::from(month) + (f64::from(hour) - 12.5) / 10.0
}

fn epw_line((month, day, hour): (u8, u8, u8)) -> String {
    let air = air_c(month, hour);
    let year = 1980 + u16::from(month);
    format!(
        "{year},{month},{day},{hour},0,?9?9,{air:.2},1.0,80,99000,0,0,280,10,20,-0.0,\
         0,0,0,0,270,2.6,9,9,24.1,2740,9,999999999,40,0.0000,0,88,999.000,999.0,99.0"
    )
}

fn epw_lines(leap: bool) -> Vec<String> {
    stamps(leap).map(epw_line).collect()
}

fn tmy3() -> String {
    stamps(false).fold(TMY3_HEADER.to_owned(), |mut text, (month, day, hour)| {
        let air = air_c(month, hour);
        let _ = writeln!(
            text,
            "{month:02}/{day:02}/19{month:02},{hour:02}:00,10,1,20,5,A,{air:.2}"
        );
        text
    })
}

fn read(bytes: impl Into<Vec<u8>>) -> Result<WeatherFile, WeatherFileError> {
    let files = InMemory::default().with("weather.txt", bytes);
    read_weather_file(&files, "weather.txt")
}

fn read_epw(lines: &[String]) -> Result<WeatherFile, WeatherFileError> {
    read(format!("{EPW_HEADER}{}\n", lines.join("\n")))
}

/// The index in `lines` of an hour of the year stands on this line of the file.
fn line_of(index: usize) -> Option<u64> {
    Some(u64::try_from(index + 5).unwrap())
}

#[test]
fn an_epw_file_gives_place_hours_and_months() {
    let file = read_epw(&epw_lines(false)).unwrap();
    assert!((file.place().latitude_deg() + 31.5).abs() < 1e-12);
    assert!((file.place().utc_offset().as_hours() - 9.5).abs() < 1e-12);
    assert!((file.elevation_m() - 12.0).abs() < 1e-12);
    assert_eq!(file.hours().len(), 8760);
    assert!((file.hours()[0].ghi_w_per_m2 - 10.0).abs() < 1e-12);
    for (month, normals) in (1_u8..).zip(file.normals().months) {
        assert!((normals.mean_c - f64::from(month)).abs() < 1e-9);
        assert!((normals.mean_daily_max_c - air_c(month, 24)).abs() < 1e-9);
        assert!((normals.mean_daily_min_c - air_c(month, 1)).abs() < 1e-9);
    }
}

#[test]
fn a_tmy3_file_finds_its_columns_by_name() {
    let file = read(tmy3()).unwrap();
    assert!((file.place().longitude_deg() + 87.0).abs() < 1e-12);
    assert!((file.hours()[8759].air_c - air_c(12, 24)).abs() < 1e-9);
    assert!((file.hours()[0].dni_w_per_m2 - 20.0).abs() < 1e-12);
    assert!((file.hours()[0].dhi_w_per_m2 - 5.0).abs() < 1e-12);
}

#[test]
fn byte_order_mark_line_ends_and_encoding_do_not_matter() {
    let plain = read_epw(&epw_lines(false)).unwrap();
    let text = format!("{EPW_HEADER}{}\n", epw_lines(false).join("\n"));
    let dos = format!("\u{feff}{}", text.replace('\n', "\r\n"));
    assert_eq!(read(dos).unwrap(), plain);
    let latin_1: Vec<u8> = text.chars().map(|c| u8::try_from(c).unwrap()).collect();
    assert_eq!(read(latin_1).unwrap(), plain);
}

#[test]
fn the_leap_day_is_dropped() {
    let file = read_epw(&epw_lines(true)).unwrap();
    assert_eq!(file, read_epw(&epw_lines(false)).unwrap());
}

#[test]
fn short_gaps_are_bridged_and_long_ones_named() {
    let mut lines = epw_lines(false);
    let blank = |line: &str| {
        let mut fields: Vec<&str> = line.split(',').collect();
        fields[6] = "99.9";
        fields[13] = "9999";
        fields.join(",")
    };
    for line in &mut lines[4002..4008] {
        *line = blank(line);
    }
    let file = read_epw(&lines).unwrap();
    let (before, after) = (file.hours()[4001].air_c, file.hours()[4008].air_c);
    let middle = before + (after - before) * 3.0 / 7.0;
    assert!((file.hours()[4004].air_c - middle).abs() < 1e-9);
    assert!((file.hours()[4004].ghi_w_per_m2 - 10.0).abs() < 1e-9);

    lines[4008] = blank(&lines[4008]);
    let error = read_epw(&lines).unwrap_err();
    assert_eq!(error.line(), line_of(4002));
    assert!(error.message().contains("for 7 hours"), "{error}");
}

#[test]
fn a_gap_over_new_year_is_bridged_too() {
    let text = tmy3().replace(
        "12/31/1912,24:00,10,1,20,5,A,13.15",
        "12/31/1912,24:00,10,1,20,5,A,-9900",
    );
    let file = read(text).unwrap();
    let middle = 0.5 * (air_c(12, 23) + air_c(1, 1));
    assert!((file.hours()[8759].air_c - middle).abs() < 1e-9);
}

#[test]
fn a_file_cut_short_names_its_last_line() {
    let lines = epw_lines(false);
    let error = read_epw(&lines[..100]).unwrap_err();
    assert_eq!(error.line(), line_of(99));
    assert!(error.message().contains("100 of 8760"), "{error}");

    let mut lines = lines[..200].to_vec();
    lines[199].truncate(40);
    let error = read_epw(&lines).unwrap_err();
    assert_eq!(error.line(), line_of(199));
}

#[test]
fn hours_out_of_order_are_refused() {
    let mut lines = epw_lines(false);
    lines.swap(500, 501);
    let error = read_epw(&lines).unwrap_err();
    assert_eq!(error.line(), line_of(500));
    assert!(
        error.expected().contains("month 1 day 21 hour 21"),
        "{error}"
    );

    let mut lines = epw_lines(false);
    lines.push(lines[0].clone());
    assert_eq!(read_epw(&lines).unwrap_err().line(), line_of(8760));
}

#[test]
fn a_bad_value_is_named_with_its_column() {
    for bad in ["warm", "-120.0", "nan"] {
        let mut lines = epw_lines(false);
        lines[30] = lines[30].replacen(&format!(",{:.2},", air_c(1, 7)), &format!(",{bad},"), 1);
        let error = read_epw(&lines).unwrap_err();
        assert_eq!(
            (error.line(), error.column()),
            (line_of(30), Some(19)),
            "{error}"
        );
        assert!(error.expected().contains("air temperature"), "{error}");
    }
}

#[test]
fn blank_lines_are_passed_over_but_counted() {
    let mut lines = epw_lines(false);
    lines[29].push('\n');
    lines[30] = lines[30].replacen(",7,", ",x,", 1);
    assert_eq!(read_epw(&lines).unwrap_err().line(), line_of(31));
    let dos = format!("{EPW_HEADER}{}\n", lines.join("\n")).replace('\n', "\r\n");
    assert_eq!(read(dos).unwrap_err().line(), line_of(31));
}

#[test]
fn a_header_that_cannot_be_is_refused() {
    let far_north = EPW_HEADER.replace("-31.50", "-131.50");
    let error = read(far_north + &epw_lines(false).join("\n")).unwrap_err();
    assert_eq!(error.line(), Some(1));
    let half_hours = EPW_HEADER.replace("DATA PERIODS,1,1", "DATA PERIODS,1,2");
    let error = read(half_hours + &epw_lines(false).join("\n")).unwrap_err();
    assert_eq!(error.line(), Some(4));
    let endless = EPW_HEADER.replace("DATA PERIODS", "COMMENTS 2");
    let error = read(endless + &epw_lines(false).join("\n")).unwrap_err();
    assert!(error.expected().contains("DATA PERIODS"), "{error}");
}

#[test]
fn other_files_are_told_apart() {
    for (bytes, message) in [
        (&b""[..], "empty"),
        (b" \n\n", "empty"),
        (b"PK\x03\x04", "zip"),
        (b"\x7fELF\0\0", "binary"),
        (b"<!doctype html><title>404</title>", "web page"),
        (b"month,mean\n1,-4\n", "not a weather file"),
    ] {
        let error = read(bytes).unwrap_err();
        assert!(error.message().contains(message), "{error}");
        assert!(error.expected().contains("EPW"), "{error}");
    }
}

#[test]
fn a_huge_file_is_refused_by_its_size() {
    let files = InMemory::default().with("north/huge.epw", vec![b' '; 64_000_001]);
    for (file, message) in [
        ("north/huge.epw", "64 MB"),
        ("absent.epw", "cannot be read"),
        ("north", "folder"),
    ] {
        let error = read_weather_file(&files, file).unwrap_err();
        assert!(error.message().contains(message), "{error}");
    }
}

proptest! {
    #[test]
    fn no_bytes_make_it_panic(
        start in prop::sample::select(vec![EPW_HEADER, TMY3_HEADER, ""]),
        rest in prop::collection::vec(any::<u8>(), 0..400),
    ) {
        prop_assert!(super::parse(&[start.as_bytes(), &rest].concat()).is_err());
    }
}
