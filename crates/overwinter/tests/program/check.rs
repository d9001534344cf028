//! `check`: what it finds, and what it leaves alone.

use crate::sandbox::{LINE, Sandbox};

/// Kinds of what `check` finds in the line with `more` about its camera, and all it says.
fn findings(line: &str) -> (Vec<String>, String) {
    let sandbox = Sandbox::with_line(line);
    let json = sandbox.run(&["check", "line.toml", "--json"]).json();
    let findings = json["findings"].as_array().expect("a list");
    let kinds = findings
        .iter()
        .map(|f| f["kind"].as_str().expect("a kind").to_owned());
    // Text for a person is broken into lines.
    let text = sandbox
        .run(&["check", "line.toml"])
        .good()
        .replace('\n', " ");
    for finding in findings {
        let said = finding["text"].as_str().expect("a text");
        assert!(text.contains(said), "{text}\ndoes not say: {said}");
    }
    (kinds.collect(), text)
}

fn facing(degrees: f64, latitude: &str) -> Vec<String> {
    let line = format!("{LINE}facing_deg = {degrees}\n").replace("61.2", latitude);
    let (mut kinds, _) = findings(&line);
    kinds.retain(|kind| kind.starts_with("faces"));
    kinds
}

#[test]
fn facing_the_sun() {
    for (degrees, north, south) in [
        (0.0, None, Some("faces-noon-sun")),
        (30.0, None, Some("faces-noon-sun")),
        (
            80.0,
            Some("faces-rising-or-setting-sun"),
            Some("faces-rising-or-setting-sun"),
        ),
        (
            270.0,
            Some("faces-rising-or-setting-sun"),
            Some("faces-rising-or-setting-sun"),
        ),
        (180.0, Some("faces-noon-sun"), None),
        (360.0, None, Some("faces-noon-sun")),
    ] {
        assert_eq!(facing(degrees, "61.2"), Vec::from_iter(north), "{degrees}");
        assert_eq!(
            facing(degrees, "-37.5"),
            Vec::from_iter(south),
            "{degrees} in the south"
        );
    }
    let (kinds, text) = findings(LINE);
    assert!(kinds.contains(&"facing-unknown".to_owned()), "{kinds:?}");
    assert!(text.contains("tell somebody"), "{text}");
}

#[test]
fn different_cells_in_one_line() {
    let line = format!("{LINE}[[camera]]\nname = \"den\"\npack = {{ cell = \"lithium-aa\" }}\n");
    let (kinds, text) = findings(&line);
    assert!(kinds.contains(&"mixed-chemistry".to_owned()), "{kinds:?}");
    assert!(text.contains("never mix"), "{text}");
}

/// Findings about a camera that faces north with such a pack and draw.
fn about(cell: &str, series: u8, draw: &str) -> Vec<String> {
    let line = LINE
        .replace("alkaline-aa", cell)
        .replace("series = 8", &format!("series = {series}"));
    let (mut kinds, _) = findings(&format!("{line}facing_deg = 0\ndraw = {{ {draw} }}\n"));
    // How long the pack lasts is another test's business.
    kinds.retain(|kind| kind != "does-not-last");
    kinds
}

#[test]
fn a_camera_that_does_not_last() {
    let (kinds, text) = findings(LINE);
    assert!(kinds.contains(&"does-not-last".to_owned()), "{kinds:?}");
    assert!(text.contains("ford: loses its night pictures on"), "{text}");
    let (kinds, _) = findings(&LINE.replace("alkaline-aa", "lithium-aa"));
    assert!(!kinds.contains(&"does-not-last".to_owned()), "{kinds:?}");
}

#[test]
fn figures_and_places_that_look_like_a_slip() {
    let slips = [
        (
            "name = \"ford\"",
            "name = \"ford\"\ndraw = { standby_ua = 65000 }",
            "unusual-figure",
        ),
        (
            "latitude_deg = 61.2",
            "latitude_deg = -41.2",
            "climate-of-the-other-hemisphere",
        ),
        (
            "utc_offset_h = 1",
            "utc_offset_h = -7",
            "clock-far-from-sun",
        ),
    ];
    let usual = findings(LINE).0;
    for (right, slip, kind) in slips {
        let (kinds, text) = findings(&LINE.replace(right, slip));
        assert!(kinds.contains(&kind.to_owned()), "{kind}: {text}");
        assert!(!usual.contains(&kind.to_owned()), "{kind}");
    }
}

#[test]
fn cut_offs() {
    let at = |volts: f64| about("nimh-aa", 8, &format!("cutoff_v = {volts}"));
    let none: [&str; 0] = [];
    assert_eq!(at(7.0), ["cut-off-under-floor"]);
    assert_eq!(at(7.2), none, "0.9 V a cell is just what it stands");
    assert_eq!(
        about("nimh-aa", 8, "supply_v = 12"),
        none,
        "0.6 of 12 V are 7.2 V"
    );
    assert_eq!(at(8.1), ["flash-cut-off-below-cut-off"]);
    let strands = about("alkaline-aa", 8, "cutoff_v = 10.0, flash_cutoff_v = 10.5");
    assert_eq!(strands, ["cut-off-strands-charge"]);
}

#[test]
fn lead_acid_in_hard_frost() {
    let kinds = about(
        "lead-acid-12v-7.2ah",
        1,
        "cutoff_v = 10.8, flash_cutoff_v = 11.0",
    );
    assert_eq!(kinds, ["lead-acid-frost"]);
    let line = LINE
        .replace("alkaline-aa", "lead-acid-12v-7.2ah")
        .replace("series = 8", "series = 1")
        .replace("boreal-inland", "temperate-maritime");
    let mild =
        format!("{line}facing_deg = 0\ndraw = {{ cutoff_v = 10.8, flash_cutoff_v = 11.0 }}\n");
    assert!(findings(&mild).0.is_empty());
}
