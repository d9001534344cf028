//! Slips that somebody else's program or habit makes: word processors, other keyboards, other units. What
//! is said names the slip and what to write.

use crate::refusal::{and, refused, refused_at, with};
use crate::sandbox::{LINE, Sandbox};

#[test]
fn text_in_utf_16() {
    let wide = |mark: &str, of: fn(u16) -> [u8; 2]| {
        let text = format!("{mark}{LINE}");
        text.encode_utf16().flat_map(of).collect::<Vec<u8>>()
    };
    for bytes in [
        wide("", u16::to_le_bytes),
        wide("", u16::to_be_bytes),
        wide("\u{feff}", u16::to_le_bytes),
        wide("\u{feff}", u16::to_be_bytes),
    ] {
        let said = refused(&bytes);
        assert!(said.contains("`line.toml` is UTF-16, not UTF-8"), "{said}");
        assert!(said.contains("save it with the encoding UTF-8"), "{said}");
        let sandbox = Sandbox::with_line(with(
            "climate = \"boreal-inland\"",
            "weather = \"year.epw\"",
        ));
        sandbox.write("year.epw", bytes);
        let said = sandbox.run(&["check", "line.toml"]).refused();
        assert!(said.contains("year.epw: the file is UTF-16"), "{said}");
    }
}

#[test]
fn a_byte_order_mark_does_no_harm() {
    let plain = Sandbox::with_line(LINE).run(&["sun", "line.toml"]).good();
    let marked = Sandbox::with_line(format!("\u{feff}{LINE}"));
    assert_eq!(marked.run(&["sun", "line.toml"]).good(), plain);
}

#[test]
fn quotes_of_a_word_processor() {
    for (open, close) in [
        ("\u{201c}", "\u{201d}"),
        ("\u{201e}", "\u{201c}"),
        ("\u{2018}", "\u{2019}"),
        ("\u{201a}", "\u{2018}"),
        ("\u{ab}", "\u{bb}"),
    ] {
        let text = with("\"alkaline-aa\"", &format!("{open}alkaline-aa{close}"));
        let says = [
            &format!("{open} is a quotation mark"),
            "write \"alkaline-aa\"",
        ];
        refused_at(&text, open, &says);
    }
    let straight = "write \" in its place";
    refused_at(&with("\"ford\"", "\"ford\u{201d}"), "\u{201d}", &[straight]);
    refused_at(&with("\"ford\"", "\u{201c}ford\""), "\u{201c}", &[straight]);
    refused_at(
        &with("cell =", "\u{201c}cell\u{201d} ="),
        "\u{201c}",
        &[straight],
    );
    refused_at(
        &with("2026-11-01", "\u{201c}2026-11-01\u{201d}"),
        "\u{201c}",
        &["without quotes: 2026-11-01"],
    );
    refused_at(
        &with("61.2", "\u{2018}61.2\u{2019}"),
        "\u{2018}",
        &["without quotes: 61.2"],
    );
    // Within straight ones they are text, and no other error is theirs.
    let named = with("\"ford\"", "\"the \u{201c}ford\u{201d}\"");
    Sandbox::with_line(named).run(&["sun", "line.toml"]).good();
    let other = with("\"ford\"", "\"the \u{201c}ford\u{201d}\" 3");
    assert!(!refused(other).contains("word processor"));
}

#[test]
fn cameras_in_single_brackets() {
    let says = ["write [[camera]], in double brackets"];
    refused_at(&with("[[camera]]", "[camera]"), "[camera]", &says);
    refused_at(&with("[[camera]]", "[ camera ]"), "[ camera ]", &says);
    let twice = with("[[camera]]", "[camera]") + "[camera]\nname = \"den\"\n";
    refused_at(&twice, "camera]", &says);
    refused_at(
        &and("[camera]\nname = \"den\""),
        "camera]\nname = \"den",
        &says,
    );
    let mixed = with("[[camera]]", "[camera]") + "[[camera]]\nname = \"den\"\n";
    refused_at(&mixed, "camera]]", &says);
}

#[test]
fn cells_by_other_names() {
    for (given, meant) in [
        ("AA lithium", "`lithium-aa`"),
        ("lithium AA", "`lithium-aa`"),
        ("Lithium_AA", "`lithium-aa`"),
        ("AA alkaline", "`alkaline-aa`"),
        ("alkaline", "`alkaline-aa`, `alkaline-c` or `alkaline-d`"),
        ("18650", "`lfp-18650` or `lithium-ion-18650`"),
    ] {
        let advice = format!("did you mean {meant}?");
        let text = with("alkaline-aa", given);
        refused_at(&text, &format!("\"{given}\""), &[&advice]);
        let said = Sandbox::with_line(LINE)
            .run(&["compare", "line.toml", "--cells", given])
            .refused();
        assert!(said.contains(&advice), "{said}");
    }
}

#[test]
fn backslashes_in_paths() {
    let says = [
        "a backslash begins an escape",
        "with / or between single quotes",
    ];
    let weather = |path: &str| with("climate = \"boreal-inland\"", &format!("weather = {path}"));
    refused_at(&weather(r#""C:\Users\me\hollen.epw""#), "sers", &says);
    refused_at(&weather(r#""C:\data\hollen.epw""#), "data", &says);
    refused_at(&weather(r#""C:\data\""#), "data", &says);
    refused_at(&weather(r#""C:\temp\new.epw""#), "\"C:", &says);
    refused_at(&with("alkaline-aa", r"..\cells\own.toml"), "cells", &says);
    refused_at(&with("alkaline-aa", r"..\temp\new.toml"), "\"..", &says);
    // A path that is written well and not there needs no such advice.
    for path in ["'C:\\temp\\new.epw'", "\"temp/new.epw\""] {
        let said = refused(weather(path));
        assert!(!said.contains("backslash"), "{said}");
    }
    let other = refused(with("\"ford\"", "\"ford"));
    assert!(!other.contains("backslash"), "{other}");
}

#[test]
fn shares_given_as_percent() {
    let sandbox = Sandbox::with_line(LINE);
    let risk = |given: &str| {
        sandbox
            .run(&["revisit", "line.toml", "--risk", given])
            .refused()
    };
    assert!(risk("5").contains("did you mean 5 %? Write --risk 5% or --risk 0.05"));
    assert!(!risk("500").contains("did you mean"));
    refused_at(
        &and("activity = { false_share = 10 }"),
        "10",
        &[
            "expected 0 to 1",
            "did you mean 10 %? Write the share: false_share = 0.1",
        ],
    );
    let far = refused(and("activity = { false_share = 110 }"));
    assert!(!far.contains("did you mean"), "{far}");
}

/// The line with these normals of its own.
fn with_normals(mean: &str, more: &str) -> String {
    let twelve = "[1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12]";
    with(
        "climate = \"boreal-inland\"",
        &format!(
            "[site.normals]\nmean_c = {mean}\ndaily_max_c = {twelve}\ndaily_min_c = {twelve}\n{more}"
        ),
    )
}

#[test]
fn decimal_commas() {
    let point = "decimals are written with a point";
    let commas = "[-7,5, -6,3, 0,1, 5, 9, 12, 14, 13, 9, 5, 0, -5,5]";
    refused_at(&with_normals(commas, ""), "[-7,5", &["16 values", point]);
    let short = refused(with_normals("[1, 2]", ""));
    assert!(!short.contains(point), "{short}");
    refused_at(&with("61.2", "\"61,2\""), "\"61,2", &[point, "61.2"]);
}

#[test]
fn normals_in_other_units() {
    let list = |value: &str| format!("[{}]", [value; 12].join(", "));
    let units = [
        (list("263.1"), "this looks like kelvin: take 273.15 off"),
        (list("64"), "this looks like degrees Fahrenheit"),
    ];
    for (mean, says) in units {
        refused_at(
            &with_normals(&mean, ""),
            &mean,
            &["expected -90 to 60", says],
        );
    }
    let neither = refused(with_normals(&list("500"), ""));
    assert!(!neither.contains("this looks like"), "{neither}");
    let clearness = format!("clearness = {}", list("45"));
    let twelve = "[1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12]";
    refused_at(
        &with_normals(twelve, &clearness),
        &list("45"),
        &["did you mean 45 %? Write shares: 0.45"],
    );
}

#[test]
fn values_of_a_panel_that_is_none() {
    let panel = |key: &str| and(&format!("panel = {{ watts = 0, {key} }}"));
    for (key, mark, says) in [
        ("azimuth_deg = nan", "nan", "expected 0 to 360"),
        ("tilt_deg = 91", "91", "expected 0 to 90"),
        ("lag_h = -1", "-1", "expected 0 to 48"),
        ("store_wh = inf", "inf", "expected 0.1 to 10000"),
        ("controller_pct = 5", "5 }", "expected 10 to 100"),
        (
            "trees = \"oak\"",
            "\"oak",
            "expected one of: evergreen, deciduous",
        ),
        ("horizon_deg = 95", "95", "is not a horizon"),
        ("leaf_out = \"May\"", "\"May", "not a day of the year"),
        ("snow_on_panel_pct = [1]", "[1]", "expected 12"),
        (
            "store_cell = \"lithum-ion-18650\"",
            "\"lithum",
            "did you mean",
        ),
    ] {
        refused_at(&panel(key), mark, &[says]);
    }
    // What goes with what is another camera's business.
    let shared =
        format!("[panel]\ncharges = \"pack\"\npanel_v = 6\n{LINE}panel = {{ watts = 0 }}\n");
    Sandbox::with_line(shared).run(&["sun", "line.toml"]).good();
}

#[test]
fn signs_that_are_pasted() {
    refused_at(
        &with("61.2", "\u{2212}61.2"),
        "\u{2212}",
        &["a typeset minus", "write - before"],
    );
    refused_at(
        &with("latitude_deg = 61.2", "latitude_deg\u{a0}= 61.2"),
        "\u{a0}",
        &["a space that does not break", "write an ordinary space"],
    );
    // In a name it is text.
    let named = with("\"ford\"", "\"the\u{a0}ford \u{2013} east\"");
    Sandbox::with_line(named).run(&["sun", "line.toml"]).good();
    // There no other error is theirs.
    for (from, to) in [
        ("\"ford\"", "\"ford \u{2013} east\" 3"),
        ("= 61.2", "= 61..2 # 61\u{2013}62\u{a0}N"),
    ] {
        let said = refused(with(from, to));
        assert!(!said.contains("keyboard"), "{said}");
    }
}

#[test]
fn a_value_in_the_place_of_a_section() {
    for (more, key) in [
        ("pack = \"lithium-aa\"", "pack"),
        ("activity = 30", "activity"),
        ("settings = []", "settings"),
    ] {
        let says = ["expected a section", &format!("{key} = {{ \u{2026} }}")];
        refused_at(
            &and(more),
            more.rsplit(' ').next().unwrap_or_default(),
            &says,
        );
    }
    let said = refused(with(
        "[season]\nstart = 2026-11-01\nend = 2026-12-15\n",
        "season = 2026-11-01\n",
    ));
    assert!(!said.contains('$') && !said.contains("struct "), "{said}");
    let said = refused(with("climate =", "weather_use = \"hour\"\nclimate ="));
    assert!(said.contains("did you mean `hours`?"), "{said}");
    let said = refused(with("cell = \"alkaline-aa\"", "cell ="));
    assert!(said.contains("write a value"), "{said}");
}

#[test]
fn odds_given_as_a_share() {
    let sandbox = Sandbox::with_line(LINE);
    let said = sandbox
        .run(&["solar", "line.toml", "--odds", "0.95"])
        .refused();
    assert!(said.contains("did you mean --odds 95?"), "{said}");
}
