//! `settings`: one setting changed at a time.

use std::path::Path;

use serde_json::Value;

use crate::sandbox::{LINE, Sandbox};

/// Cameras of every kind, and what else their settings are.
const CAMERAS: [(&str, &str); 4] = [
    ("stills", "shots = 3, flash_pct = 70"),
    ("video", "shots = 1, video_s = 15, card_gb = 2"),
    ("stills-cat1", "upload = \"daily\", upload_hour = 9"),
    ("stills-catm1", "quiet_s = 30"),
];

/// A line with one camera of a kind.
fn line_of(kind: &str, settings: &str) -> String {
    format!("{LINE}draw = {{ kind = \"{kind}\" }}\nsettings = {{ {settings} }}\n")
}

/// A panel that the pack stands by for.
const PANEL: &str = "panel = { watts = 5, store_wh = 25, store_cell = \"lfp-18650\" }\n";

fn list<'a>(value: &'a Value, key: &str) -> &'a [Value] {
    value[key].as_array().expect("a list")
}

fn number(value: &Value, key: &str) -> f64 {
    let number = value[key].as_f64();
    number.unwrap_or_else(|| panic!("{key} is no number: {value}"))
}

/// The one camera of the answer to a line.
fn camera(line: String) -> Value {
    let json = Sandbox::with_line(line).run(&["settings", "line.toml", "--json", "--paths", "20"]);
    json.json()["cameras"][0].clone()
}

#[test]
fn answers_are_as_stored() {
    let sandbox = Sandbox::with_line(line_of("video", "shots = 1, video_s = 15"));
    let args = ["settings", "line.toml", "--paths", "20"];
    insta::assert_snapshot!("settings", sandbox.run(&args).good());
    let json = sandbox.run(&[&args[..], &["--json"]].concat()).good();
    insta::assert_snapshot!("settings-json", json);
}

/// The settings with another value of a key.
fn changed(settings: &str, key: &str, to: &Value) -> String {
    let others = settings
        .split(", ")
        .filter(|pair| !pair.starts_with(&format!("{key} ")));
    let mut pairs: Vec<String> = others.map(str::to_owned).collect();
    // A whole number has no point in a line file.
    let to = match to.as_f64() {
        Some(number) => number.to_string(),
        None => to.to_string(),
    };
    pairs.push(format!("{key} = {to}"));
    pairs.join(", ")
}

#[test]
fn every_change_is_one_that_the_line_file_could_hold() {
    for (kind, settings) in CAMERAS {
        let trials = camera(line_of(kind, settings));
        let trials = list(&trials, "settings");
        assert!(trials.len() > 8, "{trials:?}");
        for trial in trials {
            assert_ne!(trial["from"], trial["to"]);
            let key = trial["key"].as_str().expect("a key");
            let changed = if key == "false_share" {
                let with = &trial["with"];
                assert_eq!(with["key"], "triggers_per_day");
                let (rate, share) = (8.0 * number(with, "times"), number(trial, "to"));
                // As many animals as now: of eight triggers a day 0.3 are false.
                assert!((rate * (1.0 - share) - 8.0 * 0.7).abs() < 1e-6, "{trial}");
                let activity = format!("triggers_per_day = {rate}, false_share = {share}");
                format!("{}activity = {{ {activity} }}\n", line_of(kind, settings))
            } else {
                line_of(kind, &changed(settings, key, &trial["to"]))
            };
            let args = ["forecast", "line.toml", "--json", "--paths", "20"];
            let forecast = Sandbox::with_line(&changed).run(&args);
            let forecast = forecast.json()["cameras"][0].clone();
            for key in ["mean_charge_left_fraction", "odds_alive_at_end", "days_p50"] {
                assert_eq!(forecast[key], trial[key], "{key}: {changed}");
            }
        }
    }
}

/// What `settings` says of the example with panels, its lines joined; and the same for a script.
fn of_the_example(more: &[&str]) -> (String, Value) {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../..");
    let sandbox = Sandbox::with_line(
        std::fs::read_to_string(root.join("examples/alpine-pass.toml")).expect("an example"),
    );
    let args = [&["settings", "line.toml", "--paths", "20"], more].concat();
    let text = sandbox.run(&args).good().replace('\n', " ");
    let json = sandbox.run(&[&args[..], &["--json"]].concat()).json();
    (text, json)
}

#[test]
fn pictures_of_a_path_that_ends_early_are_left_out() {
    for (name, told) in [("saddle", false), ("hut", true)] {
        let (text, json) = of_the_example(&["--camera", name]);
        assert_eq!(text.contains("are left out"), !told, "{text}");
        assert_eq!(text.contains("kept  pictures"), told, "{text}");
        assert_eq!(
            text.contains("neither a cold spell nor a thaw"),
            !told,
            "{text}"
        );
        assert_eq!(text.contains("cells and from panels goes"), !told, "{text}");
        let camera = &json["cameras"][0];
        for one in list(camera, "settings").iter().chain([&camera["now"]]) {
            assert_eq!(one["pictures_kept"].is_number(), told, "{one}");
        }
    }
}

#[test]
fn only_what_a_camera_can_do_is_tried() {
    let keys = |kind: &str, settings: &str| -> Vec<String> {
        let trials = camera(line_of(kind, settings));
        let keys = list(&trials, "settings")
            .iter()
            .map(|trial| trial["key"].to_string());
        keys.collect()
    };
    let has = |keys: &[String], key: &str| keys.contains(&format!("\"{key}\""));
    let plain = keys("stills", "flash_pct = 0");
    assert!(!has(&plain, "upload") && !has(&plain, "video_s") && !has(&plain, "flash_pct"));
    let video = keys("video", "shots = 0");
    assert!(has(&video, "video_s") && !has(&video, "shots"));
    let modem = keys("stills-cat1", "shots = 1");
    assert!(has(&modem, "upload") && has(&modem, "check_ins_per_day"));
}

#[test]
fn the_budget_adds_up_to_the_energy_put_in_and_stored() {
    let plain = CAMERAS.map(|(kind, settings)| line_of(kind, settings));
    // In spring, when the store takes a charge.
    let under_panel = (line_of("stills-cat1", "upload = \"each\"") + PANEL)
        .replace("2026-11-01", "2026-05-01")
        .replace("2026-12-15", "2026-06-15");
    for line in plain.into_iter().chain([under_panel]) {
        let with_panel = line.ends_with(PANEL);
        let camera = camera(line);
        let budget = camera["budget_wh"].as_object().expect("an object");
        let sum: f64 = budget
            .values()
            .map(|wh| wh.as_f64().expect("a number"))
            .sum();
        let stored = camera["panel_stored_wh"].as_f64();
        assert_eq!(stored.is_some_and(|wh| wh > 0.1), with_panel, "{camera}");
        let came = number(&camera, "energy_wh") + stored.unwrap_or(0.0);
        assert!((sum / came - 1.0).abs() < 1e-4, "{sum} of {came}");
    }
}

#[test]
fn the_best_chances_come_first_then_the_most_days() {
    for (kind, settings) in CAMERAS {
        let camera = camera(line_of(kind, settings));
        let gains: Vec<[f64; 4]> = list(&camera, "settings")
            .iter()
            .map(|trial| {
                [
                    "odds_record_whole_gained",
                    "odds_alive_at_end_gained",
                    "all_kept_days_gained",
                    "days_gained",
                ]
                .map(|key| number(trial, key))
            })
            .collect();
        assert!(gains.is_sorted_by(|a, b| a >= b), "{gains:?}");
        let unknowns = list(&camera, "unknowns");
        let bands = unknowns
            .iter()
            .map(|unknown| number(unknown, "band_if_known_fraction"));
        assert!(bands.is_sorted(), "{unknowns:?}");
        let mut places: Vec<u64> = list(&camera, "settings")
            .iter()
            .map(|trial| trial["place_by_pictures"].as_u64().expect("a place"))
            .collect();
        places.sort_unstable();
        assert!(places.iter().zip(1..).all(|(place, nth)| *place == nth));
    }
}

/// Where more of something is worse, its lowest fifth does better; of the light it is told, and how to
/// measure it.
#[test]
fn more_triggers_more_draw_and_worse_cells_never_last_longer() {
    let mut told = 0;
    for (kind, settings) in CAMERAS {
        let sandbox = Sandbox::with_line(line_of(kind, settings));
        let json = sandbox.run(&["settings", "line.toml", "--json", "--paths", "400"]);
        let camera = &json.json()["cameras"][0];
        for unknown in list(camera, "unknowns") {
            let side = |side: &str| {
                [
                    number(unknown, &format!("odds_record_whole_{side}")),
                    number(unknown, &format!("all_kept_days_p50_{side}")),
                ]
            };
            let (low, high) = (side("low"), side("high"));
            let more_is_better = [
                "cell-capacity",
                "cell-open-circuit-voltage",
                "charge-within-reach-beyond-points",
                "temperature",
            ]
            .contains(&unknown["unknown"].as_str().expect("a name"));
            let (worse, better) = if more_is_better {
                (low, high)
            } else {
                (high, low)
            };
            assert!(worse[0] <= better[0] && worse[1] <= better[1], "{unknown}");
            let light =
                ["flash_w", "video_flash_w"].contains(&unknown["unknown"].as_str().unwrap());
            told += u32::from(light);
            let how = unknown["measure"].as_str().unwrap_or("in vain");
            assert!(!light || how.contains("log the current"), "{unknown}");
        }
    }
    assert!(told >= 3, "{told}");
}

/// A change that gains no more than chance is told by the number of such alone.
#[test]
fn what_moves_nothing_is_left_out() {
    let line = line_of("stills", "shots = 1").replace("alkaline-aa", "lithium-aa")
        + "draw = { flash_w = 3.5, standby_mw = 0.3, first_still_j = 2.5, first_still_s = 2, \
           cutoff_v = 6, flash_cutoff_v = 6 }\n";
    let line = line.replace("draw = { kind = \"stills\" }\n", "");
    let sandbox = Sandbox::with_line(line);
    let text = sandbox
        .run(&["settings", "line.toml", "--paths", "100"])
        .good();
    assert!(text.contains("No setting matters here"), "{text}");
    assert!(
        text.contains("Nothing of what is not known moves"),
        "{text}"
    );
}

#[test]
fn the_same_seed_gives_the_same_answer() {
    let sandbox = Sandbox::with_line(LINE);
    let run = |seed: &str| sandbox.run(&["settings", "line.toml", "--paths", "20", "--seed", seed]);
    assert_eq!(run("7").good(), run("7").good());
}

#[test]
fn slips_are_refused() {
    let sandbox = Sandbox::with_line(LINE);
    for (args, says) in [
        (&["setings", "line.toml"][..], "'settings'"),
        (
            &["settings", "line.toml", "--camera", "frd"],
            "did you mean `ford`?",
        ),
        (&["settings", "line.toml", "--paths", "0"], "--paths"),
        (&["settings", "line.toml", "--seed", "one"], "--seed"),
        (&["settings"], "<LINE>"),
    ] {
        let said = sandbox.run(args).refused();
        assert!(said.contains(says), "{said}");
    }
}

#[test]
fn threads_change_nothing() {
    let sandbox = Sandbox::with_line(line_of("stills-cat1", "upload = \"daily\""));
    let args = ["settings", "line.toml", "--json", "--paths", "100"];
    let [one, two] = [1, 2].map(|threads| sandbox.run_on(threads, &args).good());
    assert!(one == two);
}
