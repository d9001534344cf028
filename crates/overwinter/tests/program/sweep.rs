//! `sweep`: any key over its values.

use serde_json::{Value, json};

use crate::sandbox::{LINE, Sandbox};

/// Two cameras, of which the second has values of its own, and a modem.
fn two_cameras() -> String {
    format!(
        "{LINE}\n[[camera]]\nname = \"road\"\ndraw = {{ kind = \"stills-cat1\", standby_mw = 0.9 }}\n\
         pack = {{ cell = \"lead-acid-12v-7.2ah\", series = 1 }}\nsettings = {{ shots = 2 }}\n\
         activity = {{ triggers_per_day = 30 }}\n"
    )
}

pub(crate) fn sweep<'a>(more: &[&'a str]) -> Vec<&'a str> {
    [&["sweep", "line.toml", "--paths=20"], more].concat()
}

fn rows(json: &Value) -> &[Value] {
    json["rows"].as_array().expect("a list")
}

/// The JSON answer over a line's text.
fn swept(text: &str, more: &[&str]) -> Value {
    let args = [&sweep(more)[..], &["--json"]].concat();
    Sandbox::with_line(text).run(&args).json()
}

#[test]
fn answers_are_as_stored() {
    let sandbox = Sandbox::with_line(two_cameras());
    let args = sweep(&["--vary=shots=1:4:1"]);
    insta::assert_snapshot!("sweep", sandbox.run(&args).good());
    let args = sweep(&[
        "--vary=cell=alkaline-aa,nimh-aa",
        "--vary=standby_ua=40,400",
    ]);
    insta::assert_snapshot!("sweep-of-two", sandbox.run(&args).good());
    let args = [&args[..], &["--json"]].concat();
    insta::assert_snapshot!("sweep-of-two-json", sandbox.run(&args).good());
}

#[test]
fn json_has_the_keys_that_scripts_rely_on() {
    let json = swept(
        &two_cameras(),
        &[
            "--vary=activity.triggers_per_day=5,300",
            "--vary=shots=1:3:1",
        ],
    );
    assert_eq!(
        json["axes"][0]["key"], "activity.triggers_per_day",
        "as it was given"
    );
    assert_eq!(json["axes"][0]["values"], json!([5, 300]));
    assert_eq!(json["axes"][1]["values"], json!([1, 2, 3]));
    let mut expected = Vec::new();
    for triggers in [5, 300] {
        for shots in [1, 2, 3] {
            for camera in ["ford", "road"] {
                expected.push((json!(triggers), json!(shots), json!(camera)));
            }
        }
    }
    let told = rows(&json).iter().map(|row| {
        let triggers = &row["activity.triggers_per_day"];
        (
            triggers.clone(),
            row["shots"].clone(),
            row["camera"].clone(),
        )
    });
    assert_eq!(told.collect::<Vec<_>>(), expected);
    for row in rows(&json) {
        let number = |key: &str| row[key].as_f64();
        for key in ["odds_alive", "charge_left_fraction"] {
            let share = number(key).expect("a number");
            assert!((0.0..=1.0).contains(&share), "{row}");
        }
        let season = number("season_days").expect("a number");
        assert!(number("days_expected").expect("a number") <= season);
        // What is null lies beyond the season.
        let days = ["days_p10", "days_p50", "days_p90"].map(|key| {
            assert!(row[key].is_null() || row[key].is_number(), "{row}");
            number(key).unwrap_or(season + 1.0)
        });
        assert!(days[0] <= days[1] && days[1] <= days[2], "{row}");
        let night = number("night_pictures_days_p50").unwrap_or(season + 1.0);
        assert!(night <= days[1], "{row}");
    }
}

#[test]
fn decimals_are_exact() {
    let json = swept(LINE, &["--vary=video_s=0.1:0.9:0.1"]);
    let tenths = json!([0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9]);
    assert_eq!(json["axes"][0]["values"], tenths);
    assert_eq!(json["axes"][0]["unit"], "s");
    let told: Vec<&Value> = rows(&json).iter().map(|row| &row["video_s"]).collect();
    assert_eq!(json!(told), tenths);
}

/// A sweep says at a value what a forecast says of a file with that value in it.
#[test]
fn a_point_is_the_file_with_that_value() {
    let day = |text: String| {
        let forecast = Sandbox::with_line(text).run(&["forecast", "line.toml", "--json"]);
        forecast.json()["cameras"][0]["days_expected"].clone()
    };
    let line = LINE.replace("triggers_per_day = 8", "triggers_per_day = 80");
    for (vary, from, to) in [
        ("shots=3", "[pack]", "[settings]\nshots = 3\n[pack]"),
        (
            "standby_ua=300.5",
            "[pack]",
            "[draw]\nstandby_ua = 300.5\n[pack]",
        ),
        ("pack.series=9", "series = 8", "series = 9"),
        ("cell=nimh-aa", "alkaline-aa", "nimh-aa"),
        ("latitude_deg=40.25", "61.2", "40.25"),
        (
            "climate=temperate-inland",
            "boreal-inland",
            "temperate-inland",
        ),
        ("start=2026-09-15", "2026-11-01", "2026-09-15"),
        (
            "pattern=night",
            "[activity]",
            "[activity]\npattern = \"night\"",
        ),
        (
            "stored_months=7.5",
            "series = 8",
            "series = 8\nstored_months = 7.5",
        ),
    ] {
        assert!(line.contains(from), "{from}");
        let json = swept(&line, &["--vary", vary]);
        let expected = day(line.replace(from, to));
        assert_ne!(expected, day(line.clone()), "{vary} changes nothing");
        assert_eq!(rows(&json)[0]["days_expected"], expected, "{vary}");
    }
}

#[test]
fn a_value_replaces_what_cameras_have_of_their_own() {
    let line = two_cameras();
    let args = sweep(&["--vary=standby_ua=50,500"]);
    let text = Sandbox::with_line(&line).run(&args).good();
    assert!(
        text.contains("what road had of its own is replaced too"),
        "{text}"
    );
    let json = swept(&line, &["--vary=standby_ua=50,500"]);
    assert_eq!(json["axes"][0]["replaced_in_cameras"], json!(["road"]));
    let left = |row: usize| rows(&json)[row]["charge_left_fraction"].as_f64();
    assert!(
        left(1) > left(3),
        "the road's own standby power is put aside"
    );
    let hours = ["1"; 24].join(", ");
    let line = line.replace("triggers_per_day = 30", &format!("by_hour = [{hours}]"));
    let json = swept(&line, &["--vary=pattern=day,night"]);
    assert_eq!(json["axes"][0]["replaced_in_cameras"], json!(["road"]));
}

#[test]
fn only_the_cameras_asked_for_are_varied() {
    let line = two_cameras();
    let signal = "--vary=signal=good,bad";
    let said = Sandbox::with_line(&line).run(&sweep(&[signal])).refused();
    assert!(said.contains("has no modem (camera ford)"), "{said}");
    let json = swept(&line, &[signal, "--camera=road"]);
    assert!(rows(&json).iter().all(|row| row["camera"] == "road"));
    assert_eq!(rows(&json).len(), 2);
}

#[test]
fn a_cell_is_filled_in_as_compare_fills_it_in() {
    let args = ["compare", "line.toml", "--cells=nimh-aa", "--json"];
    let compared = Sandbox::with_line(two_cameras()).run(&args).json();
    let json = swept(&two_cameras(), &["--vary=cell=nimh-aa"]);
    for (row, camera) in rows(&json).iter().zip(0..) {
        let cell = &compared["cameras"][camera]["cells"][0];
        for key in ["days_expected", "charge_left_fraction"] {
            assert_eq!(row[key], cell[key], "{row}");
        }
    }
}

#[test]
fn of_its_own_cell_a_camera_keeps_as_many_as_the_file_says() {
    let unusual = "[draw]\nhighest_v = 30\n[pack]\ncell = \"lead-acid-6v-4.5ah\"\nseries = 4";
    let line = LINE.replace("[pack]\ncell = \"alkaline-aa\"\nseries = 8", unusual);
    let forecast = Sandbox::with_line(&line).run(&["forecast", "line.toml", "--json"]);
    let expected = forecast.json()["cameras"][0]["charge_left_fraction"].clone();
    let json = swept(&line, &["--vary=cell=lead-acid-6v-4.5ah"]);
    assert_eq!(rows(&json)[0]["charge_left_fraction"], expected);
}

#[test]
fn a_cell_file_is_a_value() {
    let sandbox = Sandbox::with_line(LINE);
    let shop = concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/../../examples/own-cell/shop-aa.toml"
    );
    sandbox.write("shop-aa.toml", std::fs::read(shop).expect("a cell file"));
    let args = sweep(&["--vary=cell=alkaline-aa,shop-aa.toml", "--json"]);
    let json = sandbox.run(&args).json();
    assert_eq!(rows(&json)[1]["cell"], "shop-aa.toml");
    let said = sandbox.run(&sweep(&["--vary=cell=missing.toml"])).refused();
    assert!(
        said.contains("at cell = missing.toml") && said.contains("cannot be read"),
        "{said}"
    );
}

#[test]
fn a_table_with_commas_has_the_same_rows() {
    let sandbox = Sandbox::with_line(two_cameras());
    let args = sweep(&["--vary=triggers_per_day=5:905:300", "--csv=a.csv", "--json"]);
    let json = sandbox.run(&args).json();
    let text = std::fs::read_to_string(sandbox.path().join("a.csv")).expect("the table");
    let mut lines = text.lines();
    let head: Vec<&str> = lines.next().expect("a head").split(',').collect();
    assert_eq!(head[..2], ["triggers_per_day", "camera"]);
    let mut count = 0;
    for (line, row) in lines.zip(rows(&json)) {
        for (key, cell) in head.iter().zip(line.split(',')) {
            let told = match &row[*key] {
                Value::Null => String::new(),
                Value::String(text) => text.clone(),
                value => value.to_string(),
            };
            assert_eq!(told, cell, "{key} of {line}");
        }
        count += 1;
    }
    assert_eq!(
        (count, head.len()),
        (8, rows(&json)[0].as_object().expect("keys").len())
    );
}

#[test]
fn a_long_table_is_thinned_out_and_says_so() {
    let sandbox = Sandbox::with_line(LINE);
    let text = sandbox
        .run(&["sweep", "line.toml", "--vary=quiet_s=0:400:1", "--paths=1"])
        .good();
    assert!(
        text.contains("Shown: 60 of 401 values of quiet_s"),
        "{text}"
    );
    for end in ["0", "400"] {
        let has = |line: &str| line.split_whitespace().any(|word| word == end);
        assert!(text.lines().any(has), "{end}");
    }
    // Sixty rows, and what stands above and below them.
    assert!(text.lines().count() <= 60 + 22, "{text}");
}

#[test]
fn threads_change_nothing() {
    let sandbox = Sandbox::with_line(two_cameras());
    let answers = [1, 2].map(|threads| {
        let args = sweep(&[
            "--vary=shots=1:6:1",
            "--vary=quiet_s=0,30",
            "--json",
            "--plot=a.svg",
        ]);
        let text = sandbox.run_on(threads, &args).good();
        let plot = std::fs::read(sandbox.path().join("a.svg")).expect("the picture");
        (text, plot)
    });
    assert!(answers[0] == answers[1]);
    let with_seed = |seed: &str| sandbox.run(&sweep(&["--vary=shots=1", seed])).good();
    assert_eq!(with_seed("--seed=7"), with_seed("--seed=7"));
}
