//! `solar`: the smallest panel and store.

use std::path::Path;

use serde_json::Value;

use crate::sandbox::{LINE, Sandbox};

/// The one camera of the line with these keys in its section.
fn line_with(keys: &str) -> String {
    format!("{LINE}{keys}\n")
}

fn solar(line: &str, paths: &str) -> Value {
    let json = Sandbox::with_line(line).run(&["solar", "line.toml", "--json", "--paths", paths]);
    json.json()["cameras"][0].clone()
}

fn list<'a>(value: &'a Value, key: &str) -> &'a [Value] {
    value[key].as_array().expect("a list")
}

fn number(value: &Value, key: &str) -> f64 {
    let number = value[key].as_f64();
    number.unwrap_or_else(|| panic!("{key} is no number: {value}"))
}

/// What is asked for unless it is said.
const WANTED: f64 = 0.95;

/// A camera that its cells do not carry, with a panel that needs its store.
const HUNGRY: &str = "draw = { standby_ua = 4000 }";

/// Twenty times as much, under trees: no panel of the map carries that.
const HOPELESS: &str = "draw = { standby_ua = 80000 }\npanel = { watts = 2, trees_pct = 90 }";

#[test]
fn the_example_is_answered_as_stored() {
    let example = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples/alpine-pass.toml");
    let example = example.to_str().expect("a path in UTF-8");
    let args = ["solar", example, "--odds", "90", "--paths", "20"];
    insta::assert_snapshot!("solar", Sandbox::new().run(&args).good());
    let json = Sandbox::new().run(&[&args[..], &["--json"]].concat());
    let json = json.json();
    let sizes: Vec<usize> = list(&json, "cameras")
        .iter()
        .map(|camera| list(camera, "map").len())
        .collect();
    // The second charges its pack: one to four of them.
    assert_eq!(sizes, [7 * 6, 7 * 4, 7 * 6]);
}

#[test]
fn the_smallest_reaches_the_odds_and_nothing_smaller_does() {
    let priced = format!("{HUNGRY}\n[prices]\npanel_per_w = 5\nstore_per_wh = 1\n");
    for keys in [HUNGRY, &priced, HOPELESS] {
        let camera = solar(&line_with(keys), "40");
        for (smallest, key) in [
            (&camera, "odds_alive"),
            (&camera["panel_alone"], "odds_store_never_empty"),
        ] {
            let does = list(&camera, "map")
                .iter()
                .filter(|point| number(point, key) >= WANTED);
            let rank = |size: &Value| match size["cost"].as_f64() {
                Some(cost) => [cost, number(size, "panel_w"), number(size, "store_wh")],
                None => [0.0, number(size, "panel_w"), number(size, "store_wh")],
            };
            let does: Vec<[f64; 3]> = does.map(rank).collect();
            if does.is_empty() {
                assert!(smallest["panel_w"].is_null() && smallest["store_wh"].is_null());
                assert!(smallest[key].is_null(), "{smallest}");
            } else {
                assert!(number(smallest, key) >= WANTED);
                let rank = rank(smallest);
                assert!(does.iter().all(|other| rank <= *other), "{rank:?} {does:?}");
            }
        }
    }
}

#[test]
fn a_size_has_the_odds_of_a_forecast_with_it() {
    let pack = "pack = { cell = \"nimh-aa\" }\ndraw = { standby_ua = 4000 }";
    for (keys, panel, strings) in [
        (HUNGRY, "watts = 3, store_wh = 6", None),
        (pack, "watts = 1.5", Some(2)),
    ] {
        let map = solar(&line_with(keys), "60");
        let point = list(&map, "map").iter().find(|point| match strings {
            None => point["panel_w"] == 3.0 && point["store_wh"] == 6.0,
            Some(strings) => point["panel_w"] == 1.5 && point["strings"] == strings,
        });
        let point = point.expect("the size is in the map");
        let keys = keys.replace("\"nimh-aa\"", "\"nimh-aa\", series = 8, parallel = 2");
        let line = line_with(&format!("{keys}\npanel = {{ {panel} }}"));
        let forecast = ["forecast", "line.toml", "--json", "--paths", "60"];
        let forecast = Sandbox::with_line(line).run(&forecast).json();
        let odds = &forecast["cameras"][0]["odds_alive_at_end"];
        assert_eq!(point["odds_alive"], *odds, "{panel}");
    }
}

#[test]
fn cells_that_last_alone_are_told_of_first() {
    let line = line_with("pack = { cell = \"lithium-aa\", parallel = 2 }");
    let text = Sandbox::with_line(&line).run(&["solar", "line.toml", "--paths", "40"]);
    let text = text.good();
    let (_, after) = text
        .split_once("\n\nford, 2 x 8 x lithium-aa\n\n")
        .expect(&text);
    assert!(after.starts_with("No panel is needed for 95 %"), "{text}");
    assert_eq!(solar(&line, "40")["cells_alone_do"], true);
    assert_eq!(solar(&line_with(HUNGRY), "40")["cells_alone_do"], false);
}

#[test]
fn where_nothing_does_it_says_why() {
    let camera = solar(&line_with(HOPELESS), "40");
    assert_eq!(camera["shortfall"]["cause"], "dark", "{camera}");
    let text =
        Sandbox::with_line(line_with(HOPELESS)).run(&["solar", "line.toml", "--paths", "40"]);
    let text = text.good().replace('\n', " ");
    assert!(text.contains("None of the map reaches 95 %"), "{text}");
    assert!(
        text.contains("too dark for what the camera draws"),
        "{text}"
    );
}

#[test]
fn a_camera_that_dies_has_not_kept_its_store() {
    for keys in [HUNGRY, HOPELESS] {
        for point in list(&solar(&line_with(keys), "40"), "map") {
            for key in ["odds_store_never_empty", "odds_night_pictures_kept"] {
                assert!(number(point, key) <= number(point, "odds_alive"), "{point}");
            }
        }
    }
}

#[test]
fn the_panel_in_the_file_is_answered_first() {
    let line = line_with(&format!("{HUNGRY}\npanel = {{ watts = 3, store_wh = 50 }}"));
    let text = Sandbox::with_line(&line).run(&["solar", "line.toml", "--paths", "40"]);
    let text = text.good();
    let (_, after) = text
        .split_once("\n\nford, 8 x alkaline-aa\n\n")
        .expect(&text);
    assert!(
        after.starts_with("The panel in the file, 3 W with 50 Wh, do"),
        "{text}"
    );
    let camera = solar(&line, "40");
    let own = &camera["panel_in_file"];
    let mut map = list(&camera, "map").iter();
    let point = map.find(|point| point["panel_w"] == 3.0 && point["store_wh"] == 50.0);
    assert_eq!(
        own["odds_alive"],
        point.expect("the own size is in the map")["odds_alive"]
    );
}

#[test]
fn a_pack_that_is_charged_has_no_store_that_is_empty() {
    let keys = "pack = { cell = \"nimh-aa\" }\npanel = { watts = 1.5 }";
    let camera = solar(&line_with(keys), "40");
    for point in ["map", "trees", "tilts", "options"] {
        let mut points = list(&camera, point).iter();
        assert!(points.all(|point| point["odds_store_never_empty"].is_null()));
    }
    let mut weeks = list(&camera, "weeks").iter();
    assert!(weeks.all(|week| week["store_empty_fraction"].is_null()));
}

#[test]
fn options_stand_side_by_side() {
    let priced = format!(
        "{HUNGRY}\n[prices]\npanel_per_w = 5\nstore_per_wh = 1\n[prices.cell]\nalkaline-aa = 0.5"
    );
    let camera = solar(&line_with(&priced), "40");
    let options = list(&camera, "options");
    assert_eq!(options[0]["option"], "cells-alone");
    assert_eq!(options[1]["option"], "twice-the-cells");
    assert_eq!(
        (number(&options[0], "cost"), number(&options[1], "cost")),
        (4.0, 8.0)
    );
    assert!(number(&options[0], "odds_alive") <= number(&options[1], "odds_alive"));
    for option in &options[2..] {
        let panel = 5.0 * number(option, "panel_w") + number(option, "store_wh");
        assert!(
            (number(option, "cost") - panel - 4.0).abs() < 0.01,
            "{option}"
        );
    }
    let unpriced = solar(&line_with(HUNGRY), "40");
    assert!(
        list(&unpriced, "options")
            .iter()
            .all(|option| option["cost"].is_null())
    );
}

#[test]
fn weeks_trees_and_turns_agree_with_one_another() {
    // A store that is strong in this frost: where cameras die, weeks count the living only.
    let own = "panel = { watts = 3, store_wh = 50, tilt_deg = 45, trees_pct = 30, trees = \"deciduous\" }";
    let camera = solar(&line_with(own), "40");
    let weeks = list(&camera, "weeks");
    let sum: f64 = weeks.iter().map(|week| number(week, "offered_wh")).sum();
    let offered = number(&camera["detail"], "offered_wh");
    assert!((sum / offered - 1.0).abs() < 1e-3, "{sum} {offered}");
    let shares = ["kept_out_wh", "spilled_wh", "charging_loss_wh", "stored_wh"];
    let sum: f64 = shares
        .map(|key| number(&camera["detail"], key))
        .iter()
        .sum();
    assert!((sum - offered).abs() < 0.01, "{sum} {offered}");
    let days: f64 = weeks.iter().map(|week| number(week, "days")).sum();
    assert!((days - 45.0).abs() < 1e-9);
    assert_eq!(weeks.iter().filter(|week| week["worst"] == true).count(), 3);
    for week in weeks {
        let kept = ["kept_out_wh", "spilled_wh", "stored_wh"].map(|key| number(week, key));
        assert!(
            kept.iter().sum::<f64>() <= number(week, "offered_wh") + 0.01,
            "{week}"
        );
    }
    let light = |tries: &str| -> Vec<f64> {
        let tries = list(&camera, tries).iter();
        tries
            .map(|one| number(one, "light_fraction_of_own"))
            .collect()
    };
    let trees = light("trees");
    assert_eq!(trees.len(), 5);
    assert!(
        trees[..4].is_sorted_by(|less, more| less > more),
        "{trees:?}"
    );
    let best = number(&camera, "best_light_fraction_of_own");
    assert!(light("tilts").iter().all(|light| *light <= best + 1e-4));
    let own: Vec<&Value> = list(&camera, "tilts")
        .iter()
        .filter(|tilt| tilt["own"] == true)
        .collect();
    assert_eq!(own.len(), 1);
    assert_eq!(
        (
            number(own[0], "tilt_deg"),
            number(own[0], "light_fraction_of_own")
        ),
        (45.0, 1.0)
    );
}

#[test]
fn draws_and_threads_change_nothing() {
    let sandbox = Sandbox::with_line(line_with(HUNGRY));
    let [one, two] = [1, 2].map(|threads| {
        let plot = format!("{threads}.svg");
        let args = [
            "solar",
            "line.toml",
            "--json",
            "--paths",
            "40",
            "--plot",
            &plot,
        ];
        let told = sandbox.run_on(threads, &args).good();
        let drawn = std::fs::read_to_string(sandbox.path().join(&plot)).expect("the picture");
        assert!(drawn.contains("ford"));
        (told, drawn)
    });
    assert!(one == two);
}

#[test]
fn slips_are_refused_and_nothing_is_written() {
    let sandbox = Sandbox::with_line(LINE);
    for (args, says) in [
        (&["--odds", "0"][..], "below 100 percent"),
        (&["--odds", "100"], "below 100 percent"),
        (&["--odds", "-5"], "below 100 percent"),
        (&["--odds", "high"], "not a number"),
        (
            &["--odds", "99", "--paths", "50"],
            "expected --paths 100 or more",
        ),
        (&["--camera", "frd"], "did you mean `ford`?"),
        (&["--paths", "0"], "--paths"),
        (&["--plot", "map.pdf"], ".svg"),
    ] {
        let mut all = vec!["solar", "line.toml"];
        if !args.contains(&"--plot") {
            all.extend(["--plot", "map.svg"]);
        }
        all.extend(args);
        let said = sandbox.run(&all).refused();
        assert!(said.contains(says), "{said}");
    }
    assert_eq!(sandbox.names(), ["line.toml"]);
}

#[test]
fn what_the_file_says_of_a_panel_that_is_not_there_yet_is_checked() {
    let sandbox = Sandbox::with_line(line_with("panel = { watts = 0, tilt_deg = 120 }"));
    let said = sandbox.run(&["solar", "line.toml"]).refused();
    assert!(
        said.contains("tilt_deg") && said.contains("line.toml:"),
        "{said}"
    );
}

#[test]
fn a_camera_that_never_runs_is_told_so_and_has_no_figures() {
    // A light of ten kilowatts: the first night ends it.
    let line = line_with("draw = { kind = \"video\", video_flash_w = 10000.0 }");
    let line = line + "settings = { shots = 1, video_s = 15 }\nfacing_deg = 340\n";
    let solar_of = ["solar", "line.toml", "--paths", "20", "--odds", "90"];
    let text = Sandbox::with_line(&line).run(&solar_of).good();
    let flat = text.replace('\n', " ");
    assert!(flat.contains("the camera never runs"), "{text}");
    assert!(
        flat.contains("(`compare`)") && flat.contains("(`settings`)"),
        "{text}"
    );
    let odd = |word: &str| ["inf", "NaN", "0.0"].contains(&word);
    assert!(!flat.split(' ').any(odd), "{text}");
    let json = Sandbox::with_line(&line)
        .run(&[&solar_of[..], &["--json"]].concat())
        .json();
    let camera = &json["cameras"][0];
    assert_eq!(camera["shortfall"]["cause"], "never-runs", "{camera}");
    assert!(camera["detail"]["days_without_sun"].is_null(), "{camera}");
}
