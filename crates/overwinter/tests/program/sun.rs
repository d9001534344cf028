//! `sun`: the days of the season, and the sun before the lenses.

use serde_json::Value;

use crate::sandbox::{LINE, Sandbox};

/// A line with a camera that faces `facing` at a latitude, over some days.
fn line(latitude_deg: f64, [start, end]: [&str; 2], facing_deg: u32) -> String {
    let climate = if latitude_deg < 0.0 {
        "boreal-inland-south"
    } else {
        "boreal-inland"
    };
    LINE.replace("61.2", &format!("{latitude_deg:.2}"))
        .replace("boreal-inland", climate)
        .replace("2026-11-01", start)
        .replace("2026-12-15", end)
        + &format!("facing_deg = {facing_deg}\n")
}

fn json(line: &str, more: &[&str]) -> Value {
    Sandbox::with_line(line)
        .run(&[&["sun", "line.toml", "--json"], more].concat())
        .json()
}

fn days(json: &Value) -> &[Value] {
    json["days"].as_array().expect("days")
}

fn number(value: &Value, key: &str) -> f64 {
    value[key]
        .as_f64()
        .unwrap_or_else(|| panic!("{key} is no number: {value}"))
}

#[test]
fn every_day_of_the_season_is_there() {
    let json = json(LINE, &[]);
    let days = days(&json);
    assert_eq!(days.len(), 45);
    assert_eq!(days[0]["date"], "2026-11-01");
    assert_eq!(days[44]["date"], "2026-12-15");
    for day in days {
        let date = day["date"].as_str().expect("a date");
        for key in ["sunrise", "sunset", "civil_dawn", "civil_dusk", "noon"] {
            let moment = day[key].as_str().expect("a moment");
            assert!(
                moment.starts_with(date) && moment.ends_with("+01:00"),
                "{day}"
            );
        }
        assert!(day["polar"].is_null());
    }
    assert_eq!(json["clock"], "local standard time, UTC+1");
}

#[test]
fn an_almanacs_sunrise_is_told() {
    // US Naval Observatory for 39.742476 N, 105.1786 W, UTC-7: 2 January 2015, 07:22 and 16:48.
    let golden = line(39.742_476, ["2015-01-02", "2015-01-03"], 0)
        .replace("14.6", "-105.1786")
        .replace("utc_offset_h = 1", "utc_offset_h = -7");
    let json = json(&golden, &[]);
    let day = &days(&json)[0];
    let minute = |key: &str| day[key].as_str().expect("a moment")[..16].to_owned();
    assert_eq!(minute("sunrise"), "2015-01-02T07:21");
    assert_eq!(minute("sunset"), "2015-01-02T16:47");
    let noon = day["noon"].as_str().expect("a moment");
    // NREL's page on its algorithm: transit at 12:04:45.
    assert!(noon.starts_with("2015-01-02T12:04:4"), "{noon}");
}

#[test]
fn polar_night_and_day_have_no_sunrise_and_say_so() {
    for (dates, polar, daylight_h) in [
        (["2026-12-10", "2026-12-31"], "night", 0.0),
        (["2027-06-10", "2027-06-30"], "day", 24.0),
    ] {
        let line = line(71.0, dates, 10);
        for day in days(&json(&line, &[])) {
            assert_eq!(day["polar"], polar);
            assert!(day["sunrise"].is_null() && day["sunset"].is_null(), "{day}");
            assert!(day["sunrise_azimuth_deg"].is_null(), "{day}");
            assert!((number(day, "daylight_h") - daylight_h).abs() < 1e-9);
        }
        let text = Sandbox::with_line(&line).run(&["sun", "line.toml"]).good();
        assert!(text.contains("polar"), "{text}");
    }
}

#[test]
fn a_lens_into_the_noon_sun_has_it_at_noon_and_turned_away_never() {
    let dates = ["2026-12-01", "2026-12-31"];
    let south = json(&line(50.0, dates, 180), &[]);
    let camera = &south["cameras"][0];
    assert_eq!(camera["days_in_lens"], 31);
    let spell = &camera["spells"][0];
    assert_eq!(
        (&spell["first"], &spell["last"]),
        (&dates[0].into(), &dates[1].into())
    );
    // The sun's noon there is at about 12:00, and it stands 17 degrees high.
    let clock = |key: &str| spell[key].as_str().expect("a time").to_owned();
    assert!(
        clock("from").as_str() < "11:00" && clock("to").as_str() > "13:00",
        "{spell}"
    );
    assert!(
        (15.0..20.0).contains(&number(spell, "nearest_deg")),
        "{spell}"
    );
    assert!(number(camera, "hours_in_lens_there") <= 1.0);

    let north = json(&line(50.0, dates, 0), &[]);
    let camera = &north["cameras"][0];
    assert!(number(camera, "hours_in_lens") < 1e-9);
    assert!(camera["better_facing_deg"].is_null());
}

#[test]
fn the_better_facing_is_as_good_as_it_says() {
    let dates = ["2026-11-01", "2027-04-15"];
    let east = json(&line(61.2, dates, 90), &[]);
    let camera = &east["cameras"][0];
    let turned = number(camera, "better_facing_deg");
    assert!(turned < 90.0, "towards the pole is nearer: {turned}");
    let there = json(&line(61.2, dates, turned as u32), &[]);
    let told = number(camera, "hours_in_lens_there");
    assert!((number(&there["cameras"][0], "hours_in_lens") - told).abs() < 0.06);
    assert!(told < number(camera, "hours_in_lens"));
}

#[test]
fn a_wider_angle_has_more_of_it() {
    let line = line(61.2, ["2026-11-01", "2027-04-15"], 100);
    let hours = |within: &str| {
        let json = json(&line, &["--within-deg", within]);
        number(&json["cameras"][0], "hours_in_lens")
    };
    let [narrow, usual, wide] = ["10", "30", "90"].map(hours);
    assert!(0.0 < narrow && narrow < usual && usual < wide);
}

#[test]
fn a_camera_without_a_facing_is_named_and_left_out() {
    let text = Sandbox::with_line(LINE).run(&["sun", "line.toml"]).good();
    assert!(text.contains("No facing_deg for ford"), "{text}");
    let json = json(LINE, &[]);
    assert!(json["cameras"][0]["hours_in_lens"].is_null());
}

#[test]
fn angles_out_of_range_are_refused() {
    let sandbox = Sandbox::with_line(LINE);
    for angle in ["0", "-5", "91", "nan"] {
        let said = sandbox
            .run(&["sun", "line.toml", "--within-deg", angle])
            .refused();
        assert!(
            said.contains("--within-deg") && said.contains("expected 1 to 90"),
            "{said}"
        );
    }
}

#[test]
fn every_place_and_date_has_an_answer() {
    for latitude in [-90.0, -66.56, 0.0, 66.56, 90.0] {
        for dates in [["2026-03-20", "2026-03-21"], ["2026-06-01", "2027-06-30"]] {
            let line = line(latitude, dates, 45)
                .replace("longitude_deg = 14.6", "longitude_deg = 138.6")
                .replace("utc_offset_h = 1", "utc_offset_h = 9.5");
            let sandbox = Sandbox::with_line(&line);
            sandbox.run(&["sun", "line.toml", "--plot", "a.svg"]).good();
            let json = json(&line, &[]);
            assert_eq!(json["utc_offset_h"], 9.5);
        }
    }
}

/// Every moment of a day by the end of its key, with the day's own date before it.
fn moments<'a>(day: &'a Value, end: &str) -> Vec<&'a str> {
    let keys = day.as_object().expect("an object").iter();
    let told = keys.filter(|(key, _)| key.ends_with(end));
    told.filter_map(|(_, moment)| moment.as_str()).collect()
}

#[test]
fn a_date_holds_what_happens_on_it_near_the_midnight_sun_too() {
    let mut sets_of_a_day = [0; 3];
    for latitude in [
        -72.0, -69.0, -68.0, -67.0, -63.0, 61.0, 64.0, 66.0, 67.0, 68.5, 72.0,
    ] {
        let line = line(latitude, ["2026-11-01", "2027-10-31"], 0);
        for day in days(&json(&line, &[])) {
            let date = day["date"].as_str().expect("a date");
            for end in ["sunrise", "sunset", "civil_dawn", "civil_dusk", "noon"] {
                let moments = moments(day, end);
                assert!(
                    moments.iter().all(|moment| moment.starts_with(date)),
                    "{day}"
                );
                assert!(moments.len() <= 2);
            }
            let (rises, sets) = (moments(day, "sunrise"), moments(day, "sunset"));
            // The sun is up or down at midnight: the one may come once more than the other.
            assert!(rises.len().abs_diff(sets.len()) <= 1, "{day}");
            assert_eq!(
                day["polar"].is_null(),
                rises.len() + sets.len() > 0,
                "{day}"
            );
            sets_of_a_day[sets.len()] += 1;
        }
    }
    assert!(
        sets_of_a_day.iter().all(|days| *days > 0),
        "{sets_of_a_day:?}"
    );
}

#[test]
fn a_rise_just_before_midnight_is_of_that_date() {
    // NREL SPA through the PyPI package pvlib 0.16.1, on a grid of 10 s: at 68 S 22.4 E in UTC+1 the sun
    // rises at 00:07:07 and 23:55:58 on 25 November 2026, sets at 22:38:20 between, and the next
    // day rises at 23:40:17 alone after a set at 22:54:40.
    let line = line(-68.0, ["2026-11-25", "2026-11-26"], 0).replace("14.6", "22.4");
    let json = json(&line, &[]);
    let days = days(&json);
    let near = |day: &Value, key: &str, clock: &str| {
        let seconds = |text: &str| -> i32 {
            let parts = text
                .split(':')
                .map(|part| part.parse::<i32>().expect("a number"));
            parts
                .zip([3600, 60, 1])
                .map(|(part, scale)| part * scale)
                .sum()
        };
        let told = day[key].as_str().unwrap_or_else(|| panic!("{key}: {day}"));
        // It sinks by a degree an hour only.
        let off = seconds(&told[11..19]) - seconds(clock);
        assert!(off.abs() <= 60, "{key} {told} {clock}");
    };
    near(&days[0], "sunrise", "00:07:07");
    near(&days[0], "sunset", "22:38:20");
    near(&days[0], "second_sunrise", "23:55:58");
    near(&days[1], "sunset", "22:54:40");
    near(&days[1], "sunrise", "23:40:17");
    assert!(days[1]["second_sunrise"].is_null());
    let text = Sandbox::with_line(&line).run(&["sun", "line.toml"]).good();
    assert!(text.contains("from midnight to midnight"), "{text}");
}
