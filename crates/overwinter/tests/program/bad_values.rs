//! Values in a line file that are of the wrong type, out of range, or at odds with others.

use crate::refusal::{and, refused, refused_at, with};
use crate::sandbox::Sandbox;

#[test]
fn units() {
    let words = "the unit is in the key's name; write standby_mw = 0.6";
    refused_at(
        &and("draw = { standby_mw = \"0.6 mW\" }"),
        "\"0.6",
        &["expected a number", words],
    );
    refused_at(&and("[camera.draw]\nstandby_mw = 0.6 mW"), "0.6", &[words]);
    refused_at(
        &and("draw = { standby_mw = \"600 uW\" }"),
        "\"600",
        &["in the unit of the key's name: mw"],
    );
    refused_at(
        &and("draw = { standby_ma = 0.06 }"),
        "standby_ma",
        &["give `standby_mw` or `standby_ua`, and convert the number"],
    );
}

#[test]
fn values_of_the_wrong_type() {
    refused_at(
        &with("61.2", "\"61.2\""),
        "\"61.2",
        &["write it without quotes: 61.2"],
    );
    refused_at(
        &with("61.2", "61,2"),
        ",2",
        &["decimals are written with a point"],
    );
    refused_at(
        &with("series = 8", "series = 8.0"),
        "8.0",
        &["write it without a point: 8"],
    );
    refused_at(
        &with("\"alkaline-aa\"", "alkaline-aa"),
        "alkaline-aa",
        &["\"alkaline-aa\""],
    );
    refused_at(
        &with("\"alkaline-aa\"", "7"),
        "7",
        &["expected a cell name"],
    );
    refused_at(
        &with("[[camera]]", "[camera]"),
        "[camera]",
        &["write [[camera]]"],
    );
    refused_at(&with("\"ford\"", "7"), "7", &["expected text in quotes"]);
}

#[test]
fn ranges() {
    for (range, place, words) in [
        (
            "{ from = 9, to = 4 }",
            "{ from",
            "expected the lower number first",
        ),
        (
            "{ from = 4, to = 4 }",
            "{ from",
            "expected the lower number first",
        ),
        (
            "{ from = 4 }",
            "{ from",
            "a range such as { from = 4, to = 9 }",
        ),
        (
            "{ form = 4, to = 9 }",
            "{ form",
            "a range such as { from = 4, to = 9 }",
        ),
        ("[4, 9]", "[4", "a range such as { from = 4, to = 9 }"),
        (
            "{ from = \"4\", to = 9 }",
            "\"4",
            "write it without quotes: 4",
        ),
        (
            "{ from = 4, to = 90000 }",
            "{ from",
            "expected 0.0001 to 10000",
        ),
    ] {
        refused_at(
            &and(&format!("draw = {{ flash_w = {range} }}")),
            place,
            &[words],
        );
    }
    refused_at(
        &and("draw = { cutoff_v = { from = 14, to = 16 } }"),
        "{ from",
        &["expected at least 15 V under a picture"],
    );
}

#[test]
fn numbers_out_of_range() {
    let range = "expected 0 to 5000";
    for rate in ["nan", "inf", "-inf", "-8", "1e300"] {
        let text = with(
            "triggers_per_day = 8",
            &format!("triggers_per_day = {rate}"),
        );
        refused_at(&text, rate, &["`triggers_per_day` is ", range]);
        assert_eq!(refused(&text).matches("error:").count(), 1);
    }
    refused_at(
        &with("61.2", "95"),
        "95",
        &["latitude 95", "expected -90 to 90"],
    );
    refused_at(
        &with("14.6", "nan"),
        "nan",
        &["longitude NaN", "expected -180 to 180"],
    );
    refused_at(
        &with("series = 8", "series = 0"),
        "0",
        &["expected a whole number, 1 to 24"],
    );
    refused_at(
        &with("= 8\n\n[a", "= 99999999999999999999\n\n[a"),
        "99999999999999999999",
        &["series"],
    );
    refused_at(&and("facing_deg = -1"), "-1", &["expected 0 to 360"]);
    refused_at(
        &and("settings = { shots = 0 }"),
        "0",
        &["neither pictures nor video"],
    );
    refused_at(
        &and("draw = { meter_v = 9 }"),
        "9",
        &["expected `standby_ua` beside it"],
    );
    for (key, value, range) in [
        ("false_share", "1.5", "expected 0 to 1"),
        ("dispersion", "0", "expected 0.1 to 1000"),
        ("rate_factor", "0.5", "expected 1 to 20"),
    ] {
        let text = and(&format!("activity = {{ {key} = {value} }}"));
        refused_at(
            &text,
            &format!("{value} }}"),
            &[&format!("`{key}` is "), range],
        );
    }
}

#[test]
fn seasons() {
    refused_at(
        &with("2026-12-15", "2026-10-15"),
        "2026-10-15",
        &["before it starts"],
    );
    refused_at(
        &with("2026-12-15", "\"2026-12-15\""),
        "\"2026",
        &["a date without quotes"],
    );
    refused_at(
        &with("2026-12-15", "2026-13-15"),
        "2026-13",
        &["expected month between 01 and 12"],
    );
    refused_at(
        &with("2026-12-15", "2027-02-30"),
        "2027",
        &["expected day between 01 and 28"],
    );
    refused_at(
        &with("2026-12-15", "2026-12-15T10:00:00"),
        "2026-12-15T",
        &["`end` is not a day"],
    );
    refused_at(
        &with("2026-12-15", "2040-12-15"),
        "2040",
        &["expected at most 1200"],
    );
    refused_at(
        &with("start = 2026-11-01\n", ""),
        "[season]",
        &["`start` is missing"],
    );
}

#[test]
fn dates_written_otherwise() {
    for (given, mark) in [
        ("15.10.2026", "15.10"),
        ("15/10/2026", "15/10"),
        ("15-10-2026", "15-10"),
        ("2026/10/15", "2026/10"),
        ("\"15.10.2026\"", "\"15.10"),
    ] {
        refused_at(
            &with("start = 2026-11-01", &format!("start = {given}")),
            mark,
            &["without quotes", ": 2026-10-15"],
        );
    }
    // Either may be the month.
    let said = refused(with("start = 2026-11-01", "start = 10/11/2026"));
    assert!(!said.contains("2026-1"), "{said}");
}

#[test]
fn names_with_a_dot_outside_quotes() {
    let quoted = "put the name in quotes: \"lead-acid-12v-7.2ah\"";
    for prices in [
        "[prices.cell]\nlead-acid-12v-7.2ah = 350",
        "[prices]\ncell = { lead-acid-12v-7.2ah = 350 }",
    ] {
        refused_at(&and(prices), "lead-acid-12v-7.2ah", &["has a dot", quoted]);
    }
}

#[test]
fn cameras() {
    refused_at(
        &and("[[camera]]\nname = \"ford\""),
        "\"ford\"",
        &["two cameras are called \"ford\""],
    );
    refused_at(
        &and("name = \"den\""),
        "name",
        &["a second time", "[[camera]] of its own"],
    );
    refused_at(
        &with("\"ford\"", "\" \""),
        "\" \"",
        &["expected 1 to 40 characters"],
    );
    refused_at(
        &and("[[camera]]\nfacing_deg = 3"),
        "[[camera]]",
        &["`name` is missing"],
    );
    let said = refused(with("[[camera]]\nname = \"ford\"\n", ""));
    assert!(said.contains("the line has no camera"), "{said}");
    assert!(said.contains("in line.toml"), "{said}");
}

#[test]
fn packs() {
    refused_at(
        &with("\"alkaline-aa\"", "[\"alkaline-aa\", \"lithium-aa\"]"),
        "[\"alk",
        &["a pack of different cells is refused", "leaks"],
    );
    refused_at(
        &with("alkaline-aa", "alcaline-aa"),
        "\"alc",
        &["did you mean `alkaline-aa`?"],
    );
    refused_at(
        &with("= 8\n\n[a", "= 12\n\n[a"),
        "12",
        &["is more than the camera's input stands"],
    );
    refused_at(
        &with("= 8\n\n[a", "= 4\n\n[a"),
        "4",
        &["cannot run the camera", "set supply_v"],
    );
    let nimh = and("draw = { cutoff_v = 10.5 }").replace("alkaline-aa", "nimh-aa");
    refused_at(
        &nimh,
        "10.5",
        &[
            "8 x nimh-aa",
            "half of its charge still in",
            "expected at least 10.5 V",
        ],
    );
}

#[test]
fn a_modem_s_keys_without_a_modem() {
    for (section, key, value) in [
        ("draw", "session_j", "3"),
        ("draw", "upload_cutoff_v", "8"),
        ("settings", "signal", "\"poor\""),
        ("settings", "upload", "\"daily\""),
        ("settings", "check_ins_per_day", "1"),
    ] {
        let text = and(&format!("[camera.{section}]\n{key} = {value}"));
        refused_at(
            &text,
            value,
            &[&format!("`{key}` is given"), "has no modem", "stills-cat1"],
        );
    }
    let none = and("settings = { upload = \"none\", check_ins_per_day = 0 }");
    Sandbox::with_line(none)
        .run(&["forecast", "line.toml"])
        .good();
}
