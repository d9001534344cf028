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

/// A line whose file's hours are replayed, not reduced to normals.
fn replayed() -> Sandbox {
    let year = concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/../../tests/data/climate/greensboro-tmy3.csv"
    );
    let climate = "climate = \"boreal-inland\"";
    let hours = "weather = \"year.csv\"\nweather_use = \"hours\"";
    let sandbox = Sandbox::with_line(LINE.replace(climate, hours));
    std::fs::copy(year, sandbox.path().join("year.csv")).expect("a year");
    sandbox
}

/// On one line, so that no break falls within what is looked for.
fn unbroken(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn replayed_hours_are_not_called_sampled_nor_mean_weather() {
    let sandbox = replayed();
    let asked: [&[&str]; 5] = [
        &["forecast", "line.toml"],
        &["settings", "line.toml"],
        &["sweep", "line.toml", "--vary", "shots=1,3"],
        &["revisit", "line.toml", "--risk", "5%"],
        &["solar", "line.toml"],
    ];
    for args in asked {
        let text = sandbox.run(&[args, &["--paths", "50"]].concat()).good();
        let text = unbroken(&text);
        assert!(text.contains("that of the file's hours"), "{text}");
        for wrong in [
            ": weather, traffic",
            "mean weather",
            "No cold spell",
            "expected path",
            "temperature -",
        ] {
            assert!(!text.contains(wrong), "{wrong}: {text}");
        }
    }
    let normals = Sandbox::with_line(LINE).run(&["forecast", "line.toml", "--paths", "50"]);
    let normals = unbroken(&normals.good());
    assert!(normals.contains(": weather, traffic") && normals.contains("No cold spell"));
    assert!(!normals.contains("file's hours"), "{normals}");
}

#[test]
fn what_lies_beyond_published_points_is_said_to_be_in_the_odds_and_only_then() {
    let in_them = "beyond their published points, as noted below, is in the odds; `settings`";
    let autumn = LINE
        .replace("boreal-inland", "temperate-maritime")
        .replace("2026-11-01", "2026-10-01")
        .replace("2026-12-15", "2026-11-15");
    let mild = autumn + "settings = { flash_pct = 0 }\n";
    for (line, said) in [(LINE.to_owned(), true), (mild, false)] {
        let sandbox = Sandbox::with_line(line);
        let compare: &[&str] = &["compare", "line.toml", "--cells", "alkaline-aa"];
        for args in [&["forecast", "line.toml"], compare] {
            let text = sandbox.run(&[args, &["--paths", "50"]].concat()).good();
            let text = unbroken(&text);
            assert_eq!(text.contains(in_them), said, "{text}");
            assert_eq!(text.contains("extrapolated"), said, "{text}");
        }
    }
}

/// A dead camera sends nothing.
#[test]
fn uploads_last_no_longer_than_the_camera() {
    let modem =
        "draw = { kind = \"stills-cat1\" }\nsettings = { upload = \"each\", signal = \"poor\" }\n";
    let sandbox = Sandbox::with_line(LINE.to_owned() + modem);
    let args = ["forecast", "line.toml", "--json", "--paths", "100"];
    let json = sandbox.run(&args).json();
    let camera = &json["cameras"][0];
    assert!(days(camera, "days_p50").is_finite(), "{camera}");
    for at in ["p10", "p50", "p90"] {
        let [uploads, alive] =
            ["uploads_days", "days"].map(|what| days(camera, &format!("{what}_{at}")));
        assert!(uploads <= alive, "{camera}");
    }
}

#[test]
fn the_room_on_a_card_has_a_column_of_its_own() {
    let cards = "[[camera]]\nname = \"creek\"\nsettings = { card_gb = 1, video_s = 10, shots = 1 }\n\
                 draw = { kind = \"video\" }\n[[camera]]\nname = \"knoll\"\nsettings = { card_gb = 64 }\n";
    let line = LINE.replace("alkaline-aa", "lithium-aa");
    let sandbox = Sandbox::with_line(format!("{line}{cards}"));
    let args = ["forecast", "line.toml", "--paths=200"];
    let text = sandbox.run(&args).good();
    let (odds, _) = text.split_once("One season of mean").expect("the odds");
    insta::assert_snapshot!("forecast-with-cards", odds);
}
