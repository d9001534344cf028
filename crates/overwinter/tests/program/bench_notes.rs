//! What `discharge` warns of beside its figures.

use crate::sandbox::Sandbox;

/// The kinds of its warnings, and the same answer as text with its lines joined.
fn notes(test: &[&str]) -> (Vec<String>, String) {
    let test = [&["discharge"], test].concat();
    let json = Sandbox::new()
        .run(&[&test[..], &["--json"]].concat())
        .json();
    let warnings = json["warnings"].as_array().expect("a list").iter();
    let kinds = warnings.map(|warning| warning["kind"].as_str().expect("a kind").to_owned());
    let text = Sandbox::new().run(&test).good().replace('\n', " ");
    (kinds.collect(), text)
}

fn has(kinds: &[String], kind: &str) -> bool {
    kinds.iter().any(|other| other == kind)
}

#[test]
fn a_load_that_collapses_at_once_is_told_what_is_carried() {
    // As a current, as a power, and as a resistance.
    for load in [
        "--current-ma=100000",
        "--power-mw=500000",
        "--resistance-ohm=0.01",
    ] {
        let (kinds, text) = notes(&["alkaline-aa", load]);
        assert_eq!(kinds, ["collapses-at-once"], "{text}");
        assert!(
            text.contains("collapses at once") && text.contains(" A."),
            "{text}"
        );
    }
    // Fresh 1.60 V, 0.09 V at the first amperes and 0.1 ohm in a tenth of a second: 6 A pull it to 0.9 V.
    let (_, text) = notes(&["alkaline-aa", "--current-ma=100000"]);
    assert!(text.contains("under less than 6."), "{text}");
    let (kinds, _) = notes(&["alkaline-aa", "--current-ma=6500"]);
    assert!(!has(&kinds, "collapses-at-once"), "{kinds:?}");
}

#[test]
fn an_alkaline_cell_under_its_floor_may_leak() {
    let cut_off = |volts: &str| notes(&["alkaline-aa", "--current-ma=100", "--cutoff-v", volts]);
    let (kinds, text) = cut_off("0.5");
    assert!(
        has(&kinds, "cell-under-floor") && text.contains("leak"),
        "{text}"
    );
    assert!(!has(&cut_off("0.8").0, "cell-under-floor"));
    let (kinds, _) = notes(&["lithium-aa", "--current-ma=100", "--cutoff-v=0.5"]);
    assert!(!has(&kinds, "cell-under-floor"), "{kinds:?}");
}

#[test]
fn a_flat_lead_acid_battery_freezes() {
    let at = |cell: &str, celsius: &str| notes(&[cell, "--current-ma=500", "--temp-c", celsius]);
    let (kinds, text) = at("lead-acid-12v-7.2ah", "-12");
    assert!(
        has(&kinds, "lead-acid-frost") && text.contains("freezes near -10 °C"),
        "{text}"
    );
    assert!(!has(&at("lead-acid-12v-7.2ah", "20").0, "lead-acid-frost"));
    assert!(!has(&at("lithium-aa", "-12").0, "lead-acid-frost"));
}
