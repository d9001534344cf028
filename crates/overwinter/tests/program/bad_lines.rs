//! Line files that are wrong as files: no text, no TOML, unknown or missing keys, too much of it.

use std::fs::File;
use std::time::{Duration, Instant};

use crate::refusal::{and, refused, refused_at, with};
use crate::sandbox::{LINE, Sandbox};

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
