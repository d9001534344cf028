//! The examples, run as they stand: against stored answers, and against what must hold whatever the
//! cells' fitted parameters are.
//!
//! Stored answers are in `snapshots/`. After a change that is meant to move them:
//! `INSTA_UPDATE=always cargo test -p overwinter --test program`, then read the diff.

use std::path::{Path, PathBuf};

use serde_json::Value;

use crate::sandbox::{Answer, Sandbox};

const THREE_CELLS: &str = "alkaline-aa,lithium-aa,nimh-aa";

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples")
}

/// Every example by its name.
fn examples() -> Vec<String> {
    let entries = std::fs::read_dir(folder()).expect("the examples");
    let paths = entries.map(|entry| entry.expect("an entry").path());
    let toml = paths.filter(|path| path.extension().is_some_and(|ending| ending == "toml"));
    let mut names: Vec<String> = toml
        .map(|path| {
            path.file_stem()
                .expect("a name")
                .to_string_lossy()
                .into_owned()
        })
        .collect();
    names.sort();
    assert!(!names.is_empty());
    names
}

fn run(command: &str, example: &str, more: &[&str]) -> Answer {
    let path = folder().join(example).with_extension("toml");
    let path = path.to_str().expect("a path in UTF-8");
    Sandbox::new().run(&[&[command, path], more].concat())
}

fn list<'a>(value: &'a Value, key: &str) -> &'a [Value] {
    value[key].as_array().expect("a list")
}

fn number(value: &Value, key: &str) -> f64 {
    value[key]
        .as_f64()
        .unwrap_or_else(|| panic!("{key} is no number: {value}"))
}

#[test]
fn answers_are_as_stored() {
    for example in examples() {
        for (command, more) in [
            ("forecast", &[][..]),
            ("compare", &["--cells", THREE_CELLS]),
            ("check", &[]),
        ] {
            let text = run(command, &example, more).good();
            insta::assert_snapshot!(format!("{example}-{command}"), text);
            let json = run(command, &example, &[more, &["--json"]].concat()).good();
            insta::assert_snapshot!(format!("{example}-{command}-json"), json);
        }
        // Its JSON has a dozen values for each day, which `sun.rs` looks at.
        let text = run("sun", &example, &[]).good();
        insta::assert_snapshot!(format!("{example}-sun"), text);
    }
}

/// Names of the cameras in an example, out of the file itself.
fn names(example: &str) -> Vec<String> {
    let path = folder().join(example).with_extension("toml");
    let text = std::fs::read_to_string(path).expect("an example");
    let line: toml::Table = text.parse().expect("TOML");
    let cameras = line["camera"].as_array().expect("cameras");
    cameras
        .iter()
        .map(|c| c["name"].as_str().expect("a name").to_owned())
        .collect()
}

#[test]
fn every_camera_is_in_every_answer() {
    for example in examples() {
        let names = names(&example);
        for (command, more) in [
            ("forecast", &[][..]),
            ("compare", &["--cells", THREE_CELLS]),
        ] {
            let text = run(command, &example, more).good();
            let json = run(command, &example, &[more, &["--json"]].concat()).json();
            let told: Vec<&Value> = list(&json, "cameras").iter().map(|c| &c["name"]).collect();
            assert_eq!(told, names.iter().collect::<Vec<_>>());
            assert!(names.iter().all(|name| text.contains(name)), "{text}");
        }
    }
}

#[test]
fn forecasts_have_the_keys_that_scripts_rely_on() {
    for example in examples() {
        let json = run("forecast", &example, &["--json"]).json();
        assert!(number(&json, "simulated_camera_years") > 0.0);
        for camera in list(&json, "cameras") {
            assert!(number(camera, "days_expected") >= 0.0);
            assert!((0.0..=1.0).contains(&number(camera, "charge_left_fraction")));
            for key in ["night_pictures_lost_on", "uploads_failed_on", "dead_on"] {
                assert!(
                    camera[key].is_null() || is_date(&camera[key]),
                    "{key}: {camera}"
                );
            }
            let outlives = camera["end_reason"] == "season-end";
            assert_eq!(outlives, camera["dead_on"].is_null(), "{camera}");
            assert_eq!(outlives, camera["outlives_season"] == true, "{camera}");
        }
    }
}

/// A date such as 2026-11-01.
fn is_date(value: &Value) -> bool {
    let shape =
        |text: &str| text.len() == 10 && text.split('-').all(|part| part.parse::<u32>().is_ok());
    value.as_str().is_some_and(shape)
}

#[test]
fn comparisons_have_the_keys_that_scripts_rely_on() {
    for example in examples() {
        let json = run("compare", &example, &["--json", "--cells", THREE_CELLS]).json();
        for camera in list(&json, "cameras") {
            let cells: Vec<&Value> = list(camera, "cells")
                .iter()
                .map(|cell| &cell["cell"])
                .collect();
            assert_eq!(cells, ["alkaline-aa", "lithium-aa", "nimh-aa"]);
            for cell in list(camera, "cells") {
                assert!(number(cell, "days_expected") >= 0.0 && number(cell, "mass_g") > 0.0);
                assert!(cell["cost"].is_null() || number(cell, "cost") > 0.0);
                assert!((0.0..=1.0).contains(&number(cell, "odds_alive_at_end")));
                let season = number(&json, "season_days");
                let [p10, p50, p90] = ["days_p10", "days_p50", "days_p90"]
                    .map(|key| cell[key].as_f64().unwrap_or(season));
                assert!(0.0 <= p10 && p10 <= p50 && p50 <= p90, "{cell}");
            }
        }
    }
}

#[test]
fn the_budget_adds_up() {
    for example in examples() {
        let json = run("forecast", &example, &["--json"]).json();
        for camera in list(&json, "cameras") {
            let from_panel = camera["panel"]["stored_wh"].as_f64().unwrap_or(0.0);
            let came = number(camera, "energy_wh") + from_panel;
            let budget = camera["budget_wh"].as_object().expect("an object");
            let sum: f64 = budget
                .values()
                .map(|wh| wh.as_f64().expect("a number"))
                .sum();
            assert!((sum / came - 1.0).abs() < 1e-4, "{sum} of {came}: {camera}");
        }
    }
}

/// One camera on alkaline, lithium and nickel-metal hydride cells.
fn on_three_cells(example: &str) -> Vec<[Value; 3]> {
    let json = run("compare", example, &["--json", "--cells", THREE_CELLS]).json();
    let cells = |camera: &Value| std::array::from_fn(|i| camera["cells"][i].clone());
    list(&json, "cameras").iter().map(cells).collect()
}

/// Days with pictures by night; to the end of the camera where they are never lost before.
fn night_days(cell: &Value) -> f64 {
    cell["night_pictures_days"]
        .as_f64()
        .unwrap_or_else(|| number(cell, "days_expected"))
}

#[test]
fn lithium_outlasts_alkaline_in_a_northern_winter() {
    let cameras = on_three_cells("northern-winter");
    for days in [night_days, |cell: &Value| number(cell, "days_expected")] {
        assert!(
            cameras
                .iter()
                .all(|[alkaline, lithium, _]| days(lithium) >= days(alkaline))
        );
    }
    assert!(
        cameras
            .iter()
            .any(|[alkaline, lithium, _]| night_days(lithium) > night_days(alkaline))
    );
}

#[test]
fn in_frost_it_is_the_flash_that_ends_alkaline_cells_with_charge_left() {
    let json = run("forecast", "northern-winter", &["--json"]).json();
    let alkaline = list(&json, "cameras")
        .iter()
        .filter(|c| c["cell"] == "alkaline-aa");
    let mut seen = 0;
    for camera in alkaline {
        // One of them has so little to do that mean weather carries it through.
        if camera["night_pictures_reason"].is_null() {
            continue;
        }
        seen += 1;
        assert_eq!(
            camera["night_pictures_reason"], "voltage-under-flash",
            "{camera}"
        );
        assert!(
            number(camera, "charge_left_at_night_pictures_lost") > 0.3,
            "{camera}"
        );
    }
    assert!(seen > 1);
}

#[test]
fn in_a_mild_autumn_alkaline_comes_near_lithium() {
    for [alkaline, lithium, _] in on_three_cells("southern-autumn") {
        let both_outlive = [&alkaline, &lithium]
            .iter()
            .all(|cell| cell["outlives_season"] == true);
        let ratio = number(&alkaline, "days_expected") / number(&lithium, "days_expected");
        assert!(both_outlive || (0.75..=1.25).contains(&ratio), "{ratio}");
    }
}

#[test]
fn nickel_metal_hydride_loses_more_by_itself() {
    for example in ["northern-winter", "southern-autumn"] {
        for [alkaline, lithium, nimh] in on_three_cells(example) {
            let lost = |cell: &Value| number(cell, "self_discharge_wh");
            assert!(
                lost(&nimh) > lost(&alkaline) && lost(&nimh) > lost(&lithium),
                "{nimh}"
            );
        }
    }
}

#[test]
fn on_its_own_cells_a_comparison_has_the_odds_of_the_forecast() {
    let forecast = run("forecast", "northern-winter", &["--json"]).json();
    let ford = &list(&forecast, "cameras")[0];
    let cell = ford["cell"].as_str().expect("a name");
    let compared = run("compare", "northern-winter", &["--json", "--cells", cell]).json();
    let tried = &compared["cameras"][0]["cells"][0];
    for key in [
        "days_p10",
        "days_p50",
        "night_pictures_days_p50",
        "odds_alive_at_end",
    ] {
        assert_eq!(tried[key], ford[key], "{key}");
    }
}
