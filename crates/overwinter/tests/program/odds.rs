//! `forecast` with odds.

use serde_json::Value;

use crate::sandbox::{LINE, Sandbox};

fn forecast(more: &[&str]) -> Value {
    let args = [&["forecast", "line.toml", "--json"], more].concat();
    Sandbox::with_line(LINE).run(&args).json()
}

/// A quantile that lies beyond the season is null: later than any day.
fn days(camera: &Value, key: &str) -> f64 {
    camera
        .get(key)
        .unwrap_or_else(|| panic!("no {key} in {camera}"))
        .as_f64()
        .unwrap_or(f64::INFINITY)
}

#[test]
fn quantiles_rise() {
    let json = forecast(&["--paths", "300"]);
    assert_eq!(json["paths"], 300);
    for camera in json["cameras"].as_array().expect("cameras") {
        for what in [
            "days",
            "night_pictures_days",
            "record_days",
            "card_full_days",
        ] {
            let at = ["p10", "p50", "p90"].map(|p| days(camera, &format!("{what}_{p}")));
            assert!(at.is_sorted(), "{what} {at:?}");
        }
        assert!(days(camera, "record_days_p50") <= days(camera, "days_p50"));
    }
}

#[test]
fn the_same_seed_gives_the_same_answer_on_any_number_of_threads() {
    let sandbox = Sandbox::with_line(LINE);
    let args = ["forecast", "line.toml", "--json", "--paths", "500"];
    let [one, two] = [1, 2].map(|threads| sandbox.run_on(threads, &args).good());
    assert!(one == two);
    let other = sandbox.run(&[&args[..], &["--seed", "2"]].concat()).good();
    assert!(one != other);
}

#[test]
fn odds_at_later_dates_are_no_better() {
    let dates = ["2026-11-08", "2026-11-22", "2026-12-15"];
    let by: Vec<&str> = dates.iter().flat_map(|date| ["--by", date]).collect();
    let json = forecast(&by);
    let at = json["cameras"][0]["odds_by"]
        .as_array()
        .expect("dates")
        .clone();
    assert_eq!(at.len(), dates.len());
    for (at, date) in at.iter().zip(dates) {
        assert_eq!(at["date"], date);
    }
    for key in ["alive", "night_pictures", "record_whole"] {
        let shares: Vec<f64> = at.iter().filter_map(|at| at[key].as_f64()).collect();
        assert!(shares.is_sorted_by(|a, b| a >= b), "{key} {shares:?}");
        assert!(shares.iter().all(|share| (0.0..=1.0).contains(share)));
    }
}

#[test]
fn the_expected_path_alone_has_no_odds() {
    let json = forecast(&["--expected"]);
    assert!(json["paths"].is_null());
    assert!(json["cameras"][0].get("days_p50").is_none());
    assert!(json["cameras"][0]["days_expected"].is_number());
}

#[test]
fn wrong_requests_are_refused() {
    for (args, says) in [
        (&["--by", "2031-01-01"][..], "is not within the season"),
        (&["--by", "tomorrow"], "expected a date like 2027-02-12"),
        (&["--paths", "0"], "--paths"),
        (&["--expected", "--by", "2026-12-01"], "cannot be used with"),
    ] {
        let args = [&["forecast", "line.toml"], args].concat();
        let said = Sandbox::with_line(LINE).run(&args).refused();
        assert!(said.contains(says), "{said}\ndoes not say: {says}");
    }
}
