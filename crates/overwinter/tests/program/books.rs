//! The books that are printed of a mean season: nothing lost is less than nothing, and all of it adds up.

use serde_json::Value;

use crate::sandbox::Sandbox;

/// A camera at a place of these mean temperatures.
fn line(latitude_deg: f64, mean_c: [f64; 12], season: [&str; 2], camera: &str) -> String {
    let months = |above: f64| mean_c.map(|mean| mean + above);
    format!(
        "[site]\nlatitude_deg = {latitude_deg}\nlongitude_deg = 10\nutc_offset_h = 1\n\
         [site.normals]\nmean_c = {:?}\ndaily_max_c = {:?}\ndaily_min_c = {:?}\n\
         [season]\nstart = {}\nend = {}\n[[camera]]\nname = \"c\"\n{camera}\n",
        months(0.0),
        months(5.0),
        months(-5.0),
        season[0],
        season[1],
    )
}

const NORTHERN_C: [f64; 12] = [
    -4.0, -3.5, -1.5, 1.0, 3.5, 5.5, 6.0, 5.5, 3.5, 1.0, -1.5, -3.5,
];

#[test]
fn nothing_that_is_lost_is_less_than_nothing() {
    let winter = ["2026-09-11", "2027-03-29"];
    for (name, line) in [
        (
            "lead-acid that a panel fills in the cold, from nearly empty",
            line(
                35.1,
                NORTHERN_C,
                winter,
                "draw = { kind = \"stills-cat1\", standby_mw = 1.464, flash_w = 8.748 }\n\
                 pack = { cell = \"lead-acid-12v-7.2ah\", stored_months = 27.635 }\n\
                 activity = { triggers_per_day = 1.893 }\nsettings = { upload = \"none\" }\n\
                 panel = { watts = 1.075, trees_pct = 55 }",
            ),
        ),
        (
            "nickel-metal hydride that a panel keeps full",
            line(
                55.3,
                NORTHERN_C,
                ["2026-12-11", "2027-03-10"],
                "draw = { kind = \"stills\", standby_mw = 2.169, flash_w = 2.754 }\n\
                 pack = { cell = \"nimh-aa\", parallel = 2 }\n\
                 activity = { triggers_per_day = 3.346 }\nsettings = { shots = 1 }\n\
                 panel = { watts = 0.5328, trees_pct = 29.5, controller = \"direct\" }",
            ),
        ),
        (
            "lead-acid in the warm, without a panel",
            line(
                5.0,
                [32.0; 12],
                winter,
                "draw = { kind = \"stills\", supply_v = 12, standby_mw = 1.5 }\n\
                 pack = { cell = \"lead-acid-12v-7.2ah\" }\n\
                 activity = { triggers_per_day = 0.5 }\nsettings = { flash_pct = 0 }",
            ),
        ),
    ] {
        let answer =
            Sandbox::with_line(line).run(&["forecast", "line.toml", "--expected", "--json"]);
        let answer: Value = serde_json::from_str(&answer.out).expect(name);
        let camera = &answer["cameras"][0];
        let wh = |value: &Value| value.as_f64().unwrap_or(0.0);
        let budget = camera["budget_wh"].as_object().expect("an object");
        for (entry, energy) in budget {
            assert!(wh(energy) >= 0.0, "{name}: {entry} {energy}");
        }
        let sum: f64 = budget.values().map(wh).sum();
        let came = wh(&camera["energy_wh"]) + wh(&camera["panel"]["stored_wh"]);
        assert!((sum / came - 1.0).abs() < 3e-5, "{name}: {sum} of {came}");
    }
}
