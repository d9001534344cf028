//! Line files that are wrong, and what is said about them.

use std::fs::File;
use std::time::{Duration, Instant};

use crate::sandbox::{LINE, Sandbox};

/// Runs a line file that must be refused, with nothing written.
fn refused(text: impl AsRef<[u8]>) -> String {
    let sandbox = Sandbox::with_line(text);
    let said = sandbox.run(&["forecast", "line.toml"]).refused();
    assert_eq!(sandbox.names(), ["line.toml"]);
    said
}

/// `line.toml:LINE:COLUMN` of the last `mark` in the text.
fn place(text: &str, mark: &str) -> String {
    let at = text.rfind(mark).expect("the mark is in the text");
    let before = &text[..at];
    let line = before.matches('\n').count() + 1;
    let column = before
        .rsplit('\n')
        .next()
        .map_or(0, |line| line.chars().count())
        + 1;
    format!("line.toml:{line}:{column}\n")
}

/// Asserts that the text is refused at `mark`, with all of `says` in the message.
#[track_caller]
fn refused_at(text: &str, mark: &str, says: &[&str]) {
    let said = refused(text);
    let place = place(text, mark);
    assert!(said.contains(&place), "{said}\nis not at {place}");
    for words in says {
        assert!(said.contains(words), "{said}\ndoes not say: {words}");
    }
}

/// The line with `from` replaced.
#[track_caller]
fn with(from: &str, to: &str) -> String {
    assert!(LINE.contains(from), "{from}");
    LINE.replace(from, to)
}

/// The line with more about its camera.
fn and(more: &str) -> String {
    format!("{LINE}{more}\n")
}

#[test]
fn what_is_no_text_at_all() {
    assert!(refused("").contains("the line file is empty"));
    assert!(refused(" \n\t\n").contains("the line file is empty"));
    let binary: Vec<u8> = (0..=255).cycle().take(5000).collect();
    assert!(refused(binary).contains("is binary, not text"));
    let said = refused(
        LINE.replace("ford", "f\u{e5}rd")
            .chars()
            .map(|c| c as u8)
            .collect::<Vec<_>>(),
    );
    assert!(
        said.contains("line.toml:19:10: this character is not UTF-8"),
        "{said}"
    );
}

#[test]
fn what_is_no_line_file() {
    let sandbox = Sandbox::new();
    std::fs::create_dir(sandbox.path().join("folder")).expect("a folder");
    let huge = File::create(sandbox.path().join("huge.toml")).expect("a file");
    huge.set_len(50_000_000).expect("50 MB of nothing");
    for (name, says) in [
        ("folder", "`folder` is a folder"),
        ("missing.toml", "`missing.toml` cannot be read"),
        ("huge.toml", "`huge.toml` has more than 4 MB"),
    ] {
        let said = sandbox.run(&["forecast", name]).refused();
        assert!(said.contains(says), "{said}");
        assert!(said.contains("help:"), "{said}");
    }
}

#[test]
#[cfg(unix)]
fn a_device_without_an_end_is_refused() {
    let said = Sandbox::new().run(&["forecast", "/dev/zero"]).refused();
    assert!(said.contains("more than 4 MB"), "{said}");
}

#[test]
fn unknown_keys_at_every_level() {
    refused_at(
        &format!("sito = 1\n{LINE}"),
        "sito",
        &["did you mean `site`?"],
    );
    refused_at(
        &and("[sesson]"),
        "sesson",
        &["not a section", "did you mean `season`?"],
    );
    refused_at(
        &with("climate =", "climat ="),
        "climat ",
        &["[site]", "did you mean `climate`?"],
    );
    refused_at(
        &with("start =", "strt ="),
        "strt",
        &["[season]", "did you mean `start`?"],
    );
    refused_at(
        &with("series", "serie"),
        "serie",
        &["[pack]", "did you mean `series`?"],
    );
    refused_at(
        &and("facing = 3"),
        "facing",
        &["[[camera]]", "did you mean `facing_deg`?"],
    );
    refused_at(
        &and("draw = { kin = 3 }"),
        "kin",
        &["[draw]", "did you mean `kind`?"],
    );
    refused_at(
        &and("[camera.settings]\nshot = 3"),
        "shot",
        &["[settings]", "did you mean `shots`?"],
    );
    refused_at(
        &and("[prices]\ncurency = \"EUR\""),
        "curency",
        &["[prices]", "did you mean `currency`?"],
    );
    refused_at(
        &with("climate = \"boreal-inland\"", "normals = { mean = [] }"),
        "mean",
        &["[site.normals]", "did you mean `mean_c`?"],
    );
    refused_at(
        &and("zzz = 3"),
        "zzz",
        &["known here: name, facing_deg, draw"],
    );
}

#[test]
fn keys_in_the_wrong_section_are_sent_home() {
    refused_at(
        &and("triggers_per_day = 3"),
        "triggers_per_day",
        &[
            "it belongs in [activity]",
            "activity = { triggers_per_day = … }",
        ],
    );
    refused_at(
        &with("[season]\n", ""),
        "end =",
        &["it belongs in [season]"],
    );
    refused_at(
        &and("prices = 3"),
        "prices",
        &["a section of its own: [prices]"],
    );
}

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
fn ten_thousand_cameras_are_refused_at_once() {
    let more: String = (0..9999)
        .map(|i| format!("[[camera]]\nname = \"c{i}\"\n"))
        .collect();
    let text = and(&more);
    let start = Instant::now();
    refused_at(
        &text,
        "\"c999\"",
        &["the line has 10000 cameras", "expected at most 1000"],
    );
    assert!(
        start.elapsed() < Duration::from_secs(1),
        "{:?}",
        start.elapsed()
    );
}

#[test]
fn missing_sections() {
    for (section, next) in [("[site]", "[season]"), ("[season]", "[pack]")] {
        let from = LINE.find(section).expect("it is there");
        let to = LINE.find(next).expect("it is there");
        let said = refused(format!("{}{}", &LINE[..from], &LINE[to..]));
        assert!(said.contains(&format!("has no {section}")), "{said}");
        assert!(said.contains("for example"), "{said}");
    }
    refused_at(
        &with("cell = \"alkaline-aa\"\n", ""),
        "\"ford\"",
        &["`cell` is missing"],
    );
    refused_at(
        &with("triggers_per_day = 8\n", ""),
        "\"ford\"",
        &["`triggers_per_day` is missing"],
    );
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

#[test]
fn broken_toml() {
    refused_at(
        &with("= 61.2", "61.2"),
        "61.2",
        &["not TOML: key with no value", "expected `=`"],
    );
    refused_at(
        &with("[season]", "[season"),
        "\nstart",
        &["unclosed table", "expected `]`"],
    );
    refused_at(&with("\"ford\"", "\"ford"), "\n", &["invalid basic string"]);
    refused_at(
        &with("[season]", "[site]\n[season]"),
        "site]\n[season]",
        &["a second time"],
    );
    for (open, close) in [("[", "]"), ("{a=", "}")] {
        let deep = format!("x = {}1{}", open.repeat(100_000), close.repeat(100_000));
        assert!(refused(deep).contains("nested too deeply"));
    }
    assert!(refused(format!("[{}]", ["a"; 10_000].join("."))).contains("nested too deeply"));
}

#[test]
fn what_cameras_inherit_is_told_once() {
    let others: String = (0..9)
        .map(|i| format!("[[camera]]\nname = \"c{i}\"\n"))
        .collect();
    let said = refused(with("triggers_per_day = 8", "triggers_per_day = -8") + &others);
    assert_eq!(said.matches("error:").count(), 1, "{said}");
    assert!(
        said.contains("cameras ford, c0, c1, c2, c3 and 5 more"),
        "{said}"
    );
}

#[test]
fn all_problems_are_told_but_no_more_than_twenty() {
    let camera = |i| format!("[[camera]]\nname = \"c{i}\"\nfacing_deg = {}\n", 400 + i);
    let said = refused(and(&(0..50).map(camera).collect::<String>()));
    assert_eq!(said.matches("is 4").count(), 20, "{said}");
    assert!(
        said.ends_with("error: and 30 more in line.toml\n"),
        "{said}"
    );
}
