//! Solar panels in a line file: what is refused, swept, compared and told.

use serde_json::Value;

use crate::refusal::{and, refused_at, with};
use crate::sandbox::{LINE, Sandbox};

/// The line with a panel.
fn panel(keys: &str) -> String {
    and(&format!("panel = {{ {keys} }}"))
}

#[test]
fn values_out_of_range() {
    for (key, value, range) in [
        ("watts", "201", "expected 0 to 200"),
        ("watts", "-1", "expected 0 to 200"),
        ("tilt_deg", "91", "expected 0 to 90"),
        ("azimuth_deg", "361", "expected 0 to 360"),
        ("trees_pct", "101", "expected 0 to 100"),
        ("dirt_pct", "95", "expected 0 to 90"),
        ("controller_pct", "5", "expected 10 to 100"),
        ("store_wh", "0", "expected 0.1 to 10000"),
        ("store_pct", "101", "expected 10 to 100"),
        ("lag_h", "49", "expected 0 to 48"),
        ("horizon_deg", "91", "expected a height (0 to 90)"),
        ("horizon_deg", "[[180, 5], [90, 5]]", "rising"),
        ("snow_on_panel_pct", "[5, 5]", "expected 12"),
        (
            "controller",
            "\"magic\"",
            "expected one of: maximum-power, direct",
        ),
        ("charges", "\"both\"", "expected one of: store, pack"),
    ] {
        let first = if key == "watts" { "" } else { "watts = 3, " };
        let text = panel(&format!("{first}{key} = {value}"));
        refused_at(&text, &format!("{value} }}"), &[&format!("`{key}`"), range]);
    }
    refused_at(
        &with("climate", "snow_cover_pct = [1, 2]\nclimate"),
        "[1, 2]",
        &["`snow_cover_pct` has 2 values", "expected 12"],
    );
    refused_at(
        &with("climate", "elevation_m = 9000\nclimate"),
        "9000",
        &["expected -440 to 8850"],
    );
}

#[test]
fn keys_without_effect() {
    refused_at(
        &panel("tilt_deg = 60"),
        "60",
        &["without a panel", "watts = 3"],
    );
    for (keys, mark, why) in [
        ("trees = \"evergreen\"", "\"evergreen\"", "`trees_pct`"),
        (
            "trees_pct = 50, leaf_out = \"05-10\"",
            "\"05-10\"",
            "is not \"deciduous\"",
        ),
        ("panel_v = 6", "6 }", "at any voltage"),
        (
            "controller = \"direct\", controller_pct = 80",
            "80",
            "without a converter",
        ),
    ] {
        let text = panel(&format!("watts = 3, {keys}"));
        refused_at(&text, mark, &[why, "has no effect"]);
    }
    let text =
        panel("watts = 3, charges = \"pack\", store_wh = 5").replace("alkaline-aa", "nimh-aa");
    refused_at(&text, "5 }", &["no store of its own", "has no effect"]);
}

#[test]
fn days_that_are_none_and_trees_denser_bare() {
    let trees = "watts = 3, trees_pct = 50, trees = \"deciduous\"";
    for day in ["05-32", "13-01", "02-29", "May"] {
        let text = panel(&format!("{trees}, leaf_out = \"{day}\""));
        refused_at(
            &text,
            &format!("\"{day}\""),
            &["not a day of the year", "\"05-01\""],
        );
    }
    let text = panel(&format!("{trees}, bare_trees_pct = 60"));
    refused_at(&text, "60", &["without leaves", "expected at most 50"]);
}

#[test]
fn primary_cells_are_never_charged() {
    let harm = "leaks, vents or bursts";
    refused_at(
        &panel("watts = 3, charges = \"pack\""),
        "\"pack\"",
        &["alkaline-aa is a primary cell", harm],
    );
    refused_at(
        &panel("watts = 3, store_cell = \"lithium-aa\""),
        "\"lithium-aa\"",
        &["lithium-aa is a primary cell", harm],
    );
    refused_at(
        &panel("watts = 3, store_cell = \"lithium-ion\""),
        "\"lithium-ion\"",
        &["not known", "lithium-ion-18650"],
    );
}

#[test]
fn a_camera_says_otherwise_than_its_line() {
    let shared = "[panel]\nwatts = 3\ncontroller = \"direct\"\npanel_v = 18\ntrees_pct = 40\n\
                  trees = \"deciduous\"\nleaf_out = \"05-15\"\n\n[[camera]]";
    let own = "panel = { controller = \"maximum-power\", trees = \"evergreen\" }\n\
               [[camera]]\nname = \"hut\"\npanel = { watts = 0 }\n";
    let text = LINE.replace("[[camera]]", shared) + own;
    let sandbox = Sandbox::with_line(text);
    let json = sandbox
        .run(&["forecast", "line.toml", "--expected", "--json"])
        .json();
    let panels: Vec<&Value> = cameras(&json)
        .iter()
        .map(|camera| &camera["panel"])
        .collect();
    assert_eq!(panels[0]["panel_w"], 3.0);
    assert!(panels[1].is_null());
}

fn cameras(json: &Value) -> &[Value] {
    json["cameras"].as_array().expect("a list")
}

#[test]
fn a_forecast_names_the_panel() {
    let sandbox = Sandbox::with_line(panel("watts = 4, azimuth_deg = 150, store_wh = 12"));
    let text = sandbox.run(&["forecast", "line.toml", "--expected"]).good();
    let text = text.replace('\n', " ");
    let told = "Panel of ford: 4 W tilted 75° (usual), facing 150°, charges its own store: 12 Wh of \
                lithium-ion-18650 (usual).";
    assert!(text.contains(told), "{text}");
}

/// Mean winter air never thaws: a store that frost locks out stays locked.
#[test]
fn mean_weather_is_no_upper_bound_for_panels() {
    let panel = panel("watts = 4, store_wh = 12");
    let neither = "neither a cold spell nor a thaw, neither a clear day nor a dull one";
    for args in [
        &["forecast", "line.toml", "--expected"][..],
        &["forecast", "line.toml", "--paths", "5"],
        &[
            "compare",
            "line.toml",
            "--cells",
            "lithium-aa",
            "--paths",
            "5",
        ],
    ] {
        for (line, has_panel) in [(LINE, false), (&panel, true)] {
            let text = Sandbox::with_line(line).run(args).good();
            let text = text.replace('\n', " ");
            assert_eq!(text.contains(neither), has_panel, "{text}");
            assert_eq!(text.contains("o cold spell"), !has_panel, "{text}");
        }
    }
}

#[test]
fn panels_are_swept() {
    let line = LINE.replace("61.2", "45.0").replace("boreal", "temperate");
    for (vary, rows) in [
        ("panel.watts=0:10:5", 3),
        ("panel.tilt_deg=30,60", 2),
        ("panel.trees_pct=0,50", 2),
        ("panel.store_wh=5,50", 2),
        ("horizon_deg=0,20", 2),
        ("charges=store,pack", 2),
        ("store_cell=lithium-ion-18650,lfp-18650", 2),
        ("controller=maximum-power,direct", 2),
    ] {
        let cell = if vary.starts_with("charges") {
            "nimh-aa"
        } else {
            "alkaline-aa"
        };
        let text = format!("{line}panel = {{ watts = 2 }}\n").replace("alkaline-aa", cell);
        let sandbox = Sandbox::with_line(text);
        let vary = format!("--vary={vary}");
        let args = ["sweep", "line.toml", "--paths=20", "--json", &vary];
        let json = sandbox.run(&args).json();
        let found = json["rows"].as_array().expect("rows").len();
        assert_eq!(found, rows, "{vary}: {json}");
    }
}

#[test]
fn compare_refuses_primary_cells_where_the_pack_is_charged() {
    let fits = |charges: &str| {
        let text = panel(&format!("watts = 3{charges}")).replace("alkaline-aa", "nimh-aa");
        let sandbox = Sandbox::with_line(text);
        let args = [
            "compare",
            "line.toml",
            "--cells=nimh-aa,lithium-aa",
            "--json",
            "--paths=20",
        ];
        let json = sandbox.run(&args).json();
        let cells = cameras(&json)[0]["cells"]
            .as_array()
            .expect("cells")
            .clone();
        let fits: Vec<bool> = cells.iter().map(|cell| cell["fits"] == true).collect();
        (fits, cells[1]["misfit"].to_string())
    };
    let (said, why) = fits(", charges = \"pack\"");
    assert_eq!(said, [true, false]);
    assert!(why.contains("must not be charged"), "{why}");
    assert_eq!(
        fits("").0,
        [true, true],
        "the panel then charges a store of its own"
    );
}

/// Kinds of what `check` finds about the panel of a line with these keys.
fn found(line: &str, keys: &str) -> Vec<String> {
    let sandbox = Sandbox::with_line(format!("{line}panel = {{ {keys} }}\n"));
    let json = sandbox.run(&["check", "line.toml", "--json"]).json();
    let kinds = json["findings"].as_array().expect("a list").iter();
    let mut kinds: Vec<String> = kinds
        .map(|finding| finding["kind"].as_str().expect("a kind").to_owned())
        .collect();
    kinds.retain(|kind| kind.starts_with("panel"));
    kinds
}

#[test]
fn check_tells_of_panels_that_bring_little() {
    let mild = LINE
        .replace("61.2", "47.0")
        .replace("boreal-inland", "temperate-maritime");
    for (keys, kinds) in [
        ("watts = 3", &[][..]),
        ("watts = 0, tilt_deg = 60", &[]),
        ("watts = 3, azimuth_deg = 20", &["panel-faces-away"]),
        ("watts = 3, azimuth_deg = 20, tilt_deg = 5", &[]),
        ("watts = 3, trees_pct = 70", &["panel-in-the-shade"]),
        ("watts = 3, trees_pct = 70, trees = \"deciduous\"", &[]),
        ("watts = 3, controller = \"direct\"", &[]),
        (
            "watts = 3, controller = \"direct\", panel_v = 3",
            &["panel-voltage-too-low"],
        ),
        ("watts = 20, store_wh = 5", &["panel-over-charging-limit"]),
    ] {
        assert_eq!(found(&mild, keys), kinds, "{keys}");
    }
    // A store of one cell takes no panel of 24 V, a pack of 12 V no panel of 40.
    let lead = mild.replace(
        "alkaline-aa\"\nseries = 8",
        "lead-acid-12v-7.2ah\"\nseries = 1",
    );
    let direct = "watts = 3, controller = \"direct\"";
    assert!(found(&lead, direct).is_empty());
    let wasted = found(&lead, &format!("{direct}, panel_v = 40"));
    assert_eq!(wasted, ["panel-voltage-wasted"]);
}

#[test]
fn check_tells_of_frost_and_snow() {
    assert_eq!(found(LINE, "watts = 3"), ["panel-locked-out-by-frost"]);
    let flat = found(LINE, "watts = 3, tilt_deg = 20");
    assert_eq!(flat, ["panel-flat-in-snow", "panel-locked-out-by-frost"]);
    let said =
        "watts = 3, tilt_deg = 20, snow_on_panel_pct = [90, 90, 80, 0, 0, 0, 0, 0, 0, 0, 60, 90]";
    assert_eq!(found(LINE, said), ["panel-locked-out-by-frost"]);
}

/// The odds count a store in watt-hours; where frost leaves it too weak for the flash, they say so.
#[test]
fn a_small_store_is_weak_in_frost() {
    for (store, weak) in [("store_wh = 2", true), ("store_wh = 500", false)] {
        let sandbox = Sandbox::with_line(panel(&format!("watts = 4, {store}")));
        let text = sandbox.run(&["forecast", "line.toml", "--expected"]).good();
        assert_eq!(text.contains("Caution, ford: "), weak, "{text}");
        let json = sandbox.run(&["check", "line.toml", "--json"]).json();
        assert_eq!(
            json.to_string().contains("store-weak-in-frost"),
            weak,
            "{json}"
        );
    }
}
