//! A cell of one's own: fitted, written, named in lines and on the command line, and refused.

use std::path::Path;

use crate::sandbox::{LINE, Sandbox};

const POINTS: &str = r#"name = "shop-aa"
like = "alkaline-aa"
mass_g = 23

[[point]]
quantity = "capacity_mAh"
current_ma = 100
cutoff_v = 0.9
value = 2050
tolerance_pct = 3
"#;

/// A sandbox with `points.toml`, and `shop-aa.toml` made of it.
fn with_cell() -> Sandbox {
    let sandbox = Sandbox::with_line(LINE);
    sandbox.write("points.toml", POINTS);
    let args = ["catalogue", "--from", "points.toml", "-o", "shop-aa.toml"];
    sandbox.run(&args).good();
    sandbox
}

fn cell_text(sandbox: &Sandbox) -> String {
    std::fs::read_to_string(sandbox.path().join("shop-aa.toml")).expect("the cell")
}

#[test]
fn a_fit_says_what_moved() {
    let sandbox = Sandbox::new();
    sandbox.write("points.toml", POINTS);
    let text = sandbox.run(&["catalogue", "--from", "points.toml"]).good();
    for says in [
        "shop-aa",
        "like alkaline-aa",
        "2050",
        "capacity",
        "All else",
    ] {
        assert!(text.contains(says), "{text}\ndoes not say: {says}");
    }
    assert_eq!(sandbox.names(), ["points.toml"]);
    let json = sandbox
        .run(&["catalogue", "--from", "points.toml", "--json"])
        .json();
    assert_eq!(json["moved"].as_array().map(Vec::len), Some(1));
    assert_eq!(json["moved"][0]["key"], "capacity_mah");
    assert_eq!(json["points"][0]["published"], 2050.0);
    let error = json["points"][0]["error_pct"].as_f64().expect("a number");
    assert!(error.abs() < 1.0, "{json}");
    assert_eq!(json["mass_g"], 23.0);
}

#[test]
fn a_slipped_digit_is_told() {
    let sandbox = Sandbox::new();
    let told = |value: &str, more: &str| {
        let points = POINTS.replace("value = 2050", &format!("value = {value}"));
        sandbox.write("points.toml", format!("{more}{points}"));
        let text = sandbox.run(&["catalogue", "--from", "points.toml"]).good();
        let json = sandbox.run(&["catalogue", "--from", "points.toml", "--json"]);
        assert_eq!(
            json.json()["caution"].is_string(),
            text.contains("Caution: ")
        );
        text.contains("slipped digit")
    };
    assert!(told("20500", ""));
    assert!(told("205", ""));
    assert!(!told("2050", ""));
    assert!(!told("2900", ""));
    assert!(
        !told("7700", "capacity_mah = 8000\n"),
        "a cell of another size"
    );
}

#[test]
fn a_cut_off_above_a_fresh_cell_s_voltage() {
    let sandbox = Sandbox::new();
    sandbox.write(
        "points.toml",
        POINTS.replace("cutoff_v = 0.9", "cutoff_v = 1.9"),
    );
    let said = sandbox
        .run(&["catalogue", "--from", "points.toml"])
        .refused();
    assert!(
        said.contains("`cutoff_v` is 1.9, and a fresh cell like that has 1.6"),
        "{said}"
    );
}

#[test]
fn the_cell_is_used_wherever_a_cell_is_named() {
    let sandbox = with_cell();
    let line = LINE.replace("\"alkaline-aa\"", "\"shop-aa.toml\"");
    let line = format!("{line}[prices.cell]\n\"shop-aa.toml\" = 2\n");
    std::fs::create_dir(sandbox.path().join("deep")).expect("a folder");
    for name in ["line.toml", "deep/line.toml"] {
        sandbox.write(name, &line);
    }
    // The path is taken from the line file's folder, wherever the user is.
    let said = sandbox.run(&["forecast", "deep/line.toml"]).refused();
    assert!(said.contains("line file's folder"), "{said}");
    sandbox.write("deep/shop-aa.toml", cell_text(&sandbox));
    for name in ["line.toml", "deep/line.toml"] {
        let text = sandbox.run(&["forecast", name]).good();
        assert!(text.contains("8 x shop-aa "), "{text}");
    }
    let args = [
        "compare",
        "line.toml",
        "--cells",
        "shop-aa.toml,alkaline-aa",
        "--json",
    ];
    let json = sandbox.run(&args).json();
    let cells = json["cameras"][0]["cells"].as_array().expect("cells");
    assert_eq!(cells[0]["cell"], "shop-aa");
    assert_eq!(cells[0]["cost"], 16.0);
    let days = |place: usize| cells[place]["days_expected"].as_f64().expect("days");
    assert!(days(0) <= days(1), "{json}");
    let args = ["discharge", "shop-aa.toml", "--current-ma", "100", "--json"];
    let json = sandbox.run(&args).json();
    let delivered = json["delivered_mah"].as_f64().expect("a number");
    assert!((delivered / 2050.0 - 1.0).abs() < 0.01, "{delivered}");
    sandbox.run(&["check", "line.toml"]).good();
}

#[test]
fn a_spoilt_cell_file_is_refused_with_its_place() {
    let sandbox = with_cell();
    let good = cell_text(&sandbox);
    let (_, curve) = good.split_once("volts = [").expect("a curve");
    let (fresh, _) = curve.split_once(", ").expect("several values");
    let curve_from = format!("volts = [{fresh}, ");
    for (from, to, says) in [
        ("capacity_mah = ", "capacity_mah = -", "out of range"),
        ("growth = ", "growth = inf #", "out of range"),
        (&curve_from, "volts = [1.2, ", "rises from 1.2"),
        (&curve_from, "volts = [", "has 15 values"),
        ("floor_v = 0.8", "floor_v = 2.8", "not below"),
        (
            "chemistry = \"alk",
            "chemistry = \"aik",
            "did you mean `alkaline`?",
        ),
        ("spread", "spraed", "did you mean `spread`?"),
        ("mass_g = 23.0\n", "", "`mass_g` is missing"),
        (
            "name = \"shop-aa\"",
            "name = \"lithium-aa\"",
            "the catalogue does not have",
        ),
        ("warmest_c = 22.0", "warmest_c = -22.0", "above `warmest_c`"),
    ] {
        assert!(good.contains(from), "{from} is not in\n{good}");
        sandbox.write("bad.toml", good.replacen(from, to, 1));
        let args = ["discharge", "bad.toml", "--current-ma", "100"];
        let said = sandbox.run(&args).refused();
        assert!(said.contains("bad.toml:") && said.contains(says), "{said}");
        sandbox.write("line.toml", LINE.replace("alkaline-aa", "bad.toml"));
        let said = sandbox.run(&["forecast", "line.toml"]).refused();
        assert!(
            said.contains("line.toml:12:8") && said.contains("bad.toml:"),
            "{said}"
        );
    }
}

#[test]
fn points_and_cells_are_told_apart() {
    let sandbox = with_cell();
    let said = sandbox
        .run(&["discharge", "points.toml", "--current-ma", "100"])
        .refused();
    assert!(said.contains("overwinter catalogue --from"), "{said}");
    let said = sandbox
        .run(&["catalogue", "--from", "shop-aa.toml"])
        .refused();
    assert!(said.contains("this is a cell already"), "{said}");
}

#[test]
fn nothing_but_a_cell_file_is_written_over() {
    let sandbox = with_cell();
    let again = ["catalogue", "--from", "points.toml", "-o", "shop-aa.toml"];
    let before = cell_text(&sandbox);
    sandbox.run(&again).good();
    assert_eq!(before, cell_text(&sandbox));
    // What somebody has tuned by hand is somebody's.
    sandbox.write(
        "shop-aa.toml",
        before.replacen("mass_g", "# weighed\nmass_g", 1),
    );
    let said = sandbox.run(&again).refused();
    assert!(said.contains("as this program wrote it"), "{said}");
    sandbox.write("shop-aa.toml", before);
    for (file, says) in [
        ("points.toml", "a file that this run reads"),
        ("line.toml", "is not a cell file"),
        ("cell.txt", "does not end in .toml"),
    ] {
        let args = ["catalogue", "--from", "points.toml", "-o", file];
        let said = sandbox.run(&args).refused();
        assert!(said.contains(says), "{said}");
    }
    assert_eq!(
        sandbox.names(),
        ["line.toml", "points.toml", "shop-aa.toml"]
    );
    let args = ["catalogue", "--from", "points.toml", "-o", "no/cell.toml"];
    assert_eq!(sandbox.run(&args).code, Some(1));
}

#[test]
fn wrong_points_are_refused_with_their_place() {
    let sandbox = Sandbox::new();
    for (from, to, place, says) in [
        ("value = 2050", "value = -1", "9:9", "out of range"),
        (
            "current_ma",
            "curent_ma",
            "7:1",
            "did you mean `current_ma`?",
        ),
        ("\"capacity_mAh\"", "\"capacity\"", "6:12", "did you mean"),
        (
            "alkaline-aa",
            "alcaline-aa",
            "2:8",
            "did you mean `alkaline-aa`?",
        ),
        (
            "value = 2050",
            "value = \"2050\"",
            "9:9",
            "without quotes: 2050",
        ),
        ("mass_g", "mass_kg", "3:1", "`mass_g`"),
        (
            "shop-aa",
            "alkaline-aa",
            "1:8",
            "the catalogue does not have",
        ),
    ] {
        assert!(POINTS.contains(from), "{from}");
        sandbox.write("points.toml", POINTS.replacen(from, to, 1));
        let args = ["catalogue", "--from", "points.toml", "-o", "cell.toml"];
        let said = sandbox.run(&args).refused();
        let place = format!("points.toml:{place}");
        assert!(
            said.contains(&place) && said.contains(says),
            "{said}\n{place} {says}"
        );
    }
    assert_eq!(sandbox.names(), ["points.toml"]);
}

#[test]
fn two_cells_of_one_name_are_refused() {
    let sandbox = with_cell();
    let other = cell_text(&sandbox).replace("mass_g = 23.0", "mass_g = 24.0");
    sandbox.write("other.toml", other);
    let args = ["compare", "line.toml", "--cells", "shop-aa.toml,other.toml"];
    let said = sandbox.run(&args).refused();
    assert!(said.contains("two different cells"), "{said}");
    let line = LINE.replace("alkaline-aa", "shop-aa.toml");
    let line = format!("{line}\n[[camera]]\nname = \"den\"\npack = {{ cell = \"other.toml\" }}\n");
    sandbox.write("line.toml", line);
    let said = sandbox.run(&["forecast", "line.toml"]).refused();
    assert!(said.contains("both hold a cell"), "{said}");
}

#[test]
fn the_example_is_what_its_points_give() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples/own-cell");
    let read = |name: &str| std::fs::read_to_string(folder.join(name)).expect(name);
    let sandbox = Sandbox::new();
    sandbox.write("shop-aa-points.toml", read("shop-aa-points.toml"));
    let args = [
        "catalogue",
        "--from",
        "shop-aa-points.toml",
        "-o",
        "shop-aa.toml",
    ];
    insta::assert_snapshot!("own-cell", sandbox.run(&args).good());
    if std::env::var_os("INSTA_UPDATE").is_some_and(|value| value == "always") {
        std::fs::write(folder.join("shop-aa.toml"), cell_text(&sandbox)).expect("the example");
    }
    assert_eq!(read("shop-aa.toml"), cell_text(&sandbox));
    let line = folder.join("line.toml");
    let line = line.to_str().expect("a path in UTF-8");
    let text = sandbox.run(&["forecast", line]).good();
    assert!(text.contains("8 x shop-aa"), "{text}");
}

/// The template of the bench protocol is taken as it stands, and tells the cold.
#[test]
fn the_bench_template_is_taken() {
    let path =
        Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples/own-cell/bench-points.toml");
    let sandbox = Sandbox::new();
    sandbox.write(
        "bench-points.toml",
        std::fs::read_to_string(path).expect("the template"),
    );
    let args = [
        "catalogue",
        "--from",
        "bench-points.toml",
        "-o",
        "frost-aa.toml",
    ];
    let said = sandbox.run(&args).good();
    assert!(
        said.contains("in the cold") && said.contains("points: 12."),
        "{said}"
    );
}

/// The figures that the catalogue shows are those of the fit's own summary.
#[test]
fn accuracy_is_that_of_the_fit() {
    let summary = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../datasheets-notes/summary.csv");
    let json = Sandbox::new().run(&["catalogue", "--json"]).json();
    let cells = json["cells"].as_array().expect("a list");
    let mut seen = 0;
    for line in csv::Reader::from_path(summary)
        .expect("the summary")
        .records()
    {
        let line = line.expect("a record");
        let (group, unit, scale) = match &line[1] {
            "voltages" => ("voltages", "mv", 1000.0),
            "resistances" => ("resistances", "pct", 100.0),
            _ => ("durations", "pct", 100.0),
        };
        let role = match &line[2] {
            "fitted" => "fitted",
            "held out" => "held_out",
            _ => continue,
        };
        let cell = cells.iter().find(|cell| cell["name"] == line[0]);
        let shown = &cell.expect("a cell")["accuracy"][role][group];
        for (key, column) in [("median", 4), ("ninetieth", 5)] {
            let told: f64 = line[column].parse().expect("a number");
            let shown = shown[format!("{key}_{unit}")].as_f64().expect("a number");
            assert!((shown - scale * told).abs() < 0.06, "{line:?}: {shown}");
        }
        seen += 1;
    }
    assert!(seen > 20, "{seen}");
    let text = Sandbox::new().run(&["catalogue"]).good();
    assert!(text.contains("held out") && text.contains("mV"), "{text}");
}

#[test]
fn wild_points_make_no_cell_that_cannot_be_read() {
    let sandbox = Sandbox::new();
    for (quantity, value) in [
        ("ocv_V", "0.000001"),
        ("ocv_V", "1e9"),
        ("resistance_ohm", "1e9"),
        ("resistance_ohm", "0.000001"),
    ] {
        let head = "name = \"wild\"\nlike = \"nimh-aa\"\n[[point]]\n";
        let points = format!("{head}quantity = \"{quantity}\"\nvalue = {value}\n");
        sandbox.write("points.toml", points);
        let args = ["catalogue", "--from", "points.toml", "-o", "cell.toml"];
        let answer = sandbox.run(&args);
        if answer.code == Some(0) {
            let args = ["discharge", "cell.toml", "--current-ma", "100"];
            sandbox.run(&args).good();
        } else {
            let said = answer.refused();
            assert!(said.contains("no cell fits these points"), "{said}");
        }
    }
}

#[test]
fn every_key_of_a_file_of_points_is_explained() {
    let reference = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../LINE.md");
    let reference = std::fs::read_to_string(reference).expect("LINE.md");
    let sandbox = Sandbox::new();
    for spoilt in [
        format!("qqqqqqqq = 1\n{POINTS}"),
        format!("{POINTS}qqqqqqqq = 1\n"),
    ] {
        sandbox.write("points.toml", spoilt);
        let told = sandbox
            .run(&["catalogue", "--from", "points.toml"])
            .refused();
        let (_, list) = told.split_once("known here: ").expect(&told);
        let keys: Vec<&str> = list
            .split([',', ' ', '\n'])
            .filter(|key| !key.is_empty())
            .collect();
        assert!(keys.len() > 5, "{keys:?}");
        for key in keys {
            assert!(
                reference.contains(&format!("`{key}`")) || key == "point",
                "{key}"
            );
        }
    }
}
