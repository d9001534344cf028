//! What the commands print when all is well.

use overwinter_model::cell::catalogue::CATALOGUE;
use serde_json::Value;

use crate::sandbox::{LINE, Sandbox};

fn good(args: &[&str]) -> String {
    Sandbox::new().run(args).good()
}

/// Asserts that an object has such keys with numbers.
#[track_caller]
fn has_numbers(object: &Value, keys: &[&str]) {
    for key in keys {
        assert!(object[key].is_number(), "{key}: {object}");
    }
}

#[test]
fn the_catalogue_lists_every_cell() {
    let text = good(&["catalogue"]);
    let json = Sandbox::new().run(&["catalogue", "--json"]).json();
    let cells = json["cells"].as_array().expect("a list");
    assert_eq!(cells.len(), CATALOGUE.len());
    for (cell, entry) in cells.iter().zip(CATALOGUE) {
        assert_eq!(cell["name"], entry.name);
        assert!(
            text.contains(entry.name) && text.contains(entry.title),
            "{text}"
        );
        has_numbers(
            cell,
            &["capacity_ah", "energy_wh", "fresh_v", "floor_v", "mass_g"],
        );
        has_numbers(&cell["tested"], &["coldest_c", "warmest_c", "heaviest_ma"]);
        assert!(cell["chemistry"].is_string() && cell["rechargeable"].is_boolean());
    }
}

#[test]
fn a_full_card_is_an_end() {
    let answer = |card_gb: f64, args: &[&str]| {
        let line = LINE.replace("alkaline-aa", "lithium-aa");
        let line = format!("{line}settings = {{ shots = 2, card_gb = {card_gb} }}\n");
        Sandbox::with_line(line).run(args)
    };
    // Nine triggers a day of two pictures of 1.2 to 2 MB: 22 to 36 MB a day.
    let json = answer(0.2, &["forecast", "line.toml", "--json"]).json();
    let full = json["cameras"][0]["card_full_on"].as_str().expect("a date");
    assert!(("2026-11-06".."2026-11-11").contains(&full), "{full}");
    let text = answer(0.2, &["forecast", "line.toml"]).good();
    assert!(text.contains("keeps no more pictures"), "{text}");
    assert!(text.contains("room on card to"), "{text}");
    let big = answer(64.0, &["forecast", "line.toml", "--json"]).json();
    assert!(big["cameras"][0]["card_full_on"].is_null());
    assert_eq!(
        big["cameras"][0]["budget_wh"],
        json["cameras"][0]["budget_wh"]
    );
    let error = answer(0.0, &["forecast", "line.toml"]).refused();
    assert!(
        error.contains("card_gb") && error.contains("0.01 to 4096"),
        "{error}"
    );
}

/// `LINE` with something in its shared sections and something else in its camera.
fn overridden(shared: &str, own: &str) -> Value {
    let line = LINE.replace("[activity]\n", &format!("{shared}[activity]\n"));
    let sandbox = Sandbox::with_line(format!("{line}{own}\n"));
    sandbox.run(&["forecast", "line.toml", "--json"]).json()
}

#[test]
fn a_camera_overrides_what_says_the_same_in_another_key() {
    let json = overridden("[draw]\nstandby_ua = 100\n", "draw = { standby_mw = 0.5 }");
    assert_eq!(json["cameras"][0]["assumed"][0]["value"], 0.5);
    let json = overridden("[draw]\nstandby_mw = 0.5\n", "draw = { standby_ua = 100 }");
    assert_eq!(json["cameras"][0]["assumed"][0]["value"], 1.2);
    let line = LINE.replace("[activity]\n", "[activity]\npattern = \"night\"\n");
    let hours = ["1"; 24].join(", ");
    let sandbox = Sandbox::with_line(format!("{line}activity = {{ by_hour = [{hours}] }}\n"));
    sandbox.run(&["forecast", "line.toml"]).good();
}

#[test]
fn a_bench_test_through_a_temperature_profile() {
    let run = |temperature: [&str; 2]| {
        let test = ["discharge", "alkaline-aa", "--current-ma", "100", "--json"];
        let json = Sandbox::new()
            .run(&[&test[..], &temperature].concat())
            .json();
        json["delivered_mah"].as_f64().expect("a number")
    };
    let warm = run(["--temp-c", "20"]);
    let cold = run(["--temp-c", "-10"]);
    let level = run(["--temp-profile", "0h:-10"]);
    assert!((level / cold - 1.0).abs() < 1e-6, "{level} {cold}");
    let cooling = run(["--temp-profile", "0h:20,10h:-10"]);
    assert!(cold < cooling && cooling < warm, "{cold} {cooling} {warm}");
    let both = [
        "discharge",
        "alkaline-aa",
        "--current-ma",
        "1",
        "--temp-profile",
    ];
    let refused = Sandbox::new()
        .run(&[&both[..], &["0h:20,2h"]].concat())
        .refused();
    assert!(
        refused.contains("`2h`: expected a time and degrees"),
        "{refused}"
    );
}

#[test]
fn a_bench_test_in_json() {
    let test = [
        "discharge",
        "alkaline-aa",
        "--current-ma",
        "100",
        "--temp-c",
        "-20",
        "--json",
    ];
    let json = Sandbox::new().run(&test).json();
    has_numbers(
        &json,
        &[
            "hours",
            "elapsed_hours",
            "delivered_mah",
            "delivered_wh",
            "energy_share",
            "cutoff_v",
        ],
    );
    assert_eq!(json["temperature_c"], -20.0);
    assert!(json["end_reason"].is_string() && json["warnings"].is_array());
    assert!(json.get("pulses").is_none(), "{json}");
    let profile = [
        "discharge",
        "alkaline-aa",
        "--profile",
        "1500mW:2s,650mW:28s",
        "--json",
    ];
    let json = Sandbox::new().run(&profile).json();
    assert!(
        json["pulses"].as_u64().is_some_and(|pulses| pulses > 0),
        "{json}"
    );
}

#[test]
fn several_cells_on_the_bench() {
    let test = [
        "discharge",
        "alkaline-aa",
        "lithium-aa",
        "--current-ma",
        "500",
        "--temp-c",
        "-10",
    ];
    let text = good(&test);
    assert!(
        text.contains("alkaline-aa") && text.contains("lithium-aa"),
        "{text}"
    );
    let json = Sandbox::new()
        .run(&[&test[..], &["--json"]].concat())
        .json();
    let cells = json["cells"].as_array().expect("a list");
    let hours = |i: usize| cells[i]["hours"].as_f64().expect("a number");
    assert_eq!(
        (&cells[0]["cell"], cells.len()),
        (&Value::from("alkaline-aa"), 2)
    );
    assert!(
        hours(1) > 2.0 * hours(0),
        "lithium at -10 °C and 500 mA: {json}"
    );
}

#[test]
fn help_mentions_every_flag() {
    for (command, flags) in [
        ("forecast", &["<LINE>", "--camera", "--json", "--plot"][..]),
        (
            "compare",
            &[
                "<LINE>", "--cells", "--camera", "--paths", "--seed", "--json", "--plot",
            ],
        ),
        (
            "discharge",
            &[
                "<CELL>...",
                "--current-ma",
                "--power-mw",
                "--resistance-ohm",
                "--profile",
                "--on-s",
                "--period-s",
                "--hours-per-day",
                "--temp-c",
                "--cutoff-v",
                "--json",
                "--plot",
            ],
        ),
        ("check", &["<LINE>", "--camera", "--json"]),
        ("catalogue", &["--json"]),
        ("completions", &["bash", "zsh", "fish"]),
        ("manual", &[]),
    ] {
        assert!(good(&["--help"]).contains(command));
        let help = good(&[command, "--help"]);
        for flag in flags {
            assert!(
                help.contains(flag),
                "{command} does not tell {flag}:\n{help}"
            );
        }
    }
}

#[test]
fn completions_and_manual() {
    for (shell, mark) in [
        ("bash", "complete -F"),
        ("zsh", "#compdef overwinter"),
        ("fish", "complete -c overwinter"),
    ] {
        let script = good(&["completions", shell]);
        assert!(
            script.contains(mark) && script.contains("forecast"),
            "{shell}"
        );
    }
    let manual = good(&["manual"]);
    assert!(
        manual.contains(".TH overwinter 1") && manual.contains("forecast"),
        "{manual}"
    );
}

#[test]
fn one_camera_out_of_several() {
    let line = format!("{LINE}[[camera]]\nname = \"den\"\n[[camera]]\nname = \"hut\"\n");
    let args = [
        "forecast",
        "line.toml",
        "--json",
        "--camera",
        "hut",
        "--camera",
        "ford",
    ];
    let json = Sandbox::with_line(line).run(&args).json();
    let names: Vec<_> = json["cameras"]
        .as_array()
        .expect("a list")
        .iter()
        .map(|c| &c["name"])
        .collect();
    assert_eq!(names, ["ford", "hut"]);
}

#[test]
fn the_same_line_gives_the_same_answer() {
    let sandbox = Sandbox::with_line(LINE);
    let answer = || sandbox.run(&["forecast", "line.toml", "--json"]).good();
    assert_eq!(answer(), answer());
}
