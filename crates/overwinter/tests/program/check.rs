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

/// A line with a lens that points so through a season with low sun from east over noon to west.
fn facing_line(degrees: f64, (latitude, start, end): (&str, &str, &str)) -> String {
    let line = format!("{LINE}facing_deg = {degrees}\n").replace("61.2", latitude);
    line.replace("2026-11-01", start).replace("2026-12-15", end)
}

fn facing(degrees: f64, place: (&str, &str, &str)) -> Vec<String> {
    let (mut kinds, _) = findings(&facing_line(degrees, place));
    kinds.retain(|kind| kind.starts_with("faces"));
    kinds
}

const NORTH: (&str, &str, &str) = ("61.2", "2027-02-15", "2027-04-15");
const SOUTH: (&str, &str, &str) = ("-43.5", "2027-05-01", "2027-09-30");

#[test]
fn facing_the_sun() {
    let (low, noon) = ("faces-rising-or-setting-sun", "faces-noon-sun");
    for (degrees, north, south) in [
        (0.0, None, Some(noon)),
        (30.0, None, Some(noon)),
        (80.0, Some(low), Some(low)),
        (270.0, Some(low), Some(low)),
        (180.0, Some(noon), None),
        (360.0, None, Some(noon)),
    ] {
        assert_eq!(facing(degrees, NORTH), Vec::from_iter(north), "{degrees}");
        let found = facing(degrees, SOUTH);
        assert_eq!(found, Vec::from_iter(south), "{degrees} in the south");
    }
    let (kinds, text) = findings(LINE);
    assert!(kinds.contains(&"facing-unknown".to_owned()), "{kinds:?}");
    assert!(text.contains("tell somebody"), "{text}");
}

#[test]
fn the_advice_on_facing_is_that_of_sun() {
    for (degrees, place) in [(80.0, NORTH), (265.0, NORTH), (10.0, SOUTH), (0.0, NORTH)] {
        let line = facing_line(degrees, place);
        let (_, text) = findings(&line);
        let sun = Sandbox::with_line(&line).run(&["sun", "line.toml", "--json"]);
        let better = sun.json()["cameras"][0]["better_facing_deg"].as_f64();
        let told = better.map(|better| format!("turned to {better:.0}° it"));
        let agrees = told.map_or(!text.contains("turned to"), |told| text.contains(&told));
        assert!(agrees, "{better:?}: {text}");
    }
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
    for said in [
        "ford (grave): loses its night pictures before the season's end in ",
        " of sampled seasons (until ",
        " in 90 %)",
    ] {
        assert!(text.contains(said), "{text}");
    }
    let mild = LINE
        .replace("alkaline-aa", "lithium-aa")
        .replace("boreal-inland", "temperate-maritime")
        .replace("61.2", "50.2");
    let (kinds, text) = findings(&mild);
    assert!(!kinds.contains(&"does-not-last".to_owned()), "{kinds:?}");
    assert!(!text.contains("grave"), "{text}");
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
            "latitude_deg = 61.2",
            "latitude_deg = 71.2",
            "climate-of-another-latitude",
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
        .replace("boreal-inland", "temperate-maritime")
        .replace("61.2", "50.2");
    let mild =
        format!("{line}facing_deg = 0\ndraw = {{ cutoff_v = 10.8, flash_cutoff_v = 11.0 }}\n");
    assert!(findings(&mild).0.is_empty());
}
