//! Line files that once broke something: each is answered or refused as it should be, and nothing of them
//! reaches a terminal, a picture or a spreadsheet as anything but text.

use overwinter_line::shown::is_unprintable;

use crate::every_command::hold;
use crate::sandbox::Sandbox;

/// The files, beside this one; all of them are invented.
const FOLDER: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/program/hostile");

/// A sandbox with one of the files as its `line.toml`.
fn sandbox(name: &str) -> Sandbox {
    let path = std::path::Path::new(FOLDER).join(name);
    Sandbox::with_line(std::fs::read(&path).unwrap_or_else(|why| panic!("{name}: {why}")))
}

fn names() -> Vec<String> {
    let files = std::fs::read_dir(FOLDER).expect("the folder");
    let name = |file: std::io::Result<std::fs::DirEntry>| file.expect("a file").file_name();
    let mut names: Vec<String> = files
        .filter_map(|file| name(file).into_string().ok())
        .collect();
    names.retain(|name| name.ends_with(".toml"));
    names.sort();
    names
}

#[test]
fn every_file_is_answered_or_refused_and_no_control_character_gets_out() {
    let names = names();
    assert!(names.len() >= 20, "{names:?}");
    for name in names {
        // Its weather is another test's, and a thousand cameras take their time.
        if ["csv-over-weather.toml", "thousand-cameras.toml"].contains(&name.as_str()) {
            continue;
        }
        let sandbox = sandbox(&name);
        hold(&sandbox, &name);
    }
}

#[test]
fn names_that_cannot_be_printed_are_refused_with_their_place() {
    for (name, says) in [
        ("xml-site-u0000.toml", "\\u{0}"),
        ("xml-site-u0001.toml", "\\u{1}"),
        ("xml-site-u001b.toml", "\\u{1b}"),
        ("xml-site-uFFFF.toml", "\\u{ffff}"),
        ("xml-ufffe-1.toml", "\\u{fffe}"),
        ("escape-site.toml", "\\u{1b}"),
        ("xml-ufffe-0.toml", "something to read"),
        ("camera-rlo.toml", "something to read"),
        ("long-site-name-8000.toml", "8000 characters"),
        ("error-c1-escape.toml", "expected a number"),
        ("error-del-char.toml", "line.toml:4:"),
    ] {
        let said = sandbox(name).run(&["forecast", "line.toml"]).refused();
        assert!(
            said.contains(says) && said.contains("line.toml:"),
            "{name}: {said}"
        );
        // A quoted line is one line, and a message does not swell with what it quotes.
        assert!(said.lines().count() < 12, "{name}: {said}");
    }
}

#[test]
fn a_spreadsheet_runs_no_name() {
    let sandbox = sandbox("csv-formula.toml");
    let args = [
        "sweep",
        "line.toml",
        "--vary=triggers_per_day=5,9",
        "--paths=3",
        "--csv=-",
    ];
    let table = sandbox.run(&args).good();
    let mut reader = csv::Reader::from_reader(table.as_bytes());
    let runs =
        |field: &str| field.starts_with(['=', '+', '-', '@']) && field.parse::<f64>().is_err();
    let mut rows = 0;
    for row in reader.records() {
        let row = row.expect("as many fields as the head");
        assert!(!row.iter().any(runs), "{row:?}");
        assert!(row.iter().any(|field| field == "'=HYPERLINK(1)"), "{row:?}");
        rows += 1;
    }
    assert_eq!(rows, 2);
}

#[test]
fn a_table_is_never_written_over_the_weather_it_is_made_from() {
    let sandbox = sandbox("csv-over-weather.toml");
    let weather = concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/../../tests/data/climate/greensboro-tmy3.csv"
    );
    std::fs::copy(weather, sandbox.path().join("weather.csv")).expect("a weather file");
    let args = [
        "sweep",
        "line.toml",
        "--vary=triggers_per_day=5,9",
        "--paths=3",
        "--csv=weather.csv",
    ];
    let answer = sandbox.run(&args);
    assert_eq!(answer.code, Some(2), "{}", answer.err);
    let kept = std::fs::read(sandbox.path().join("weather.csv")).expect("a weather file");
    assert!(kept == std::fs::read(weather).expect("a weather file"));
}

#[test]
fn every_picture_is_xml() {
    let examples = concat!(env!("CARGO_MANIFEST_DIR"), "/../../examples");
    let files = std::fs::read_dir(examples).expect("the examples");
    let examples = files.map(|file| file.expect("a file").path());
    let examples = examples.filter(|path| path.extension().is_some_and(|ending| ending == "toml"));
    let hostile = names();
    let hostile = hostile
        .iter()
        .filter(|name| *name != "thousand-cameras.toml");
    let hostile = hostile.map(|name| std::path::Path::new(FOLDER).join(name));
    let mut drawn = 0;
    for path in examples.chain(hostile) {
        let sandbox = Sandbox::with_line(std::fs::read(&path).expect("a line file"));
        let answer = sandbox.run(&["forecast", "line.toml", "--paths=5", "--plot=a.svg"]);
        if answer.code == Some(0) {
            let svg = std::fs::read_to_string(sandbox.path().join("a.svg")).expect("a picture");
            let read = roxmltree::Document::parse(&svg);
            assert!(read.is_ok(), "{}: {read:?}", path.display());
            drawn += 1;
        } else {
            assert_eq!(sandbox.names(), ["line.toml"], "{}", path.display());
        }
    }
    assert!(drawn >= 10, "{drawn}");
}

#[test]
fn a_swept_file_is_shown_by_a_name_that_does_nothing() {
    let sandbox = sandbox("csv-over-weather.toml");
    let weather = concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/../../tests/data/climate/greensboro-tmy3.csv"
    );
    let name = "\u{1b}[31m\u{202e}.csv";
    for name in ["weather.csv", name] {
        std::fs::copy(weather, sandbox.path().join(name)).expect("a weather file");
    }
    let vary = format!("--vary=site.weather=weather.csv,{name}");
    for form in ["--csv=-", "--json", "--seed=1"] {
        let told = sandbox.run(&["sweep", "line.toml", &vary, "--paths=2", form]);
        let told = told.good();
        let stray = told.chars().find(|c| *c != '\n' && is_unprintable(*c));
        assert_eq!(stray, None, "{told}");
        assert!(told.contains("u{202e}"), "{told}");
    }
}

#[test]
fn chances_do_not_depend_on_days_after_them() {
    let camera = |name: &str| {
        let args = ["forecast", "line.toml", "--json"];
        let json = sandbox(name).run(&args).json();
        (json["season"]["days"].as_f64(), json["cameras"][0].clone())
    };
    let (shorter, longer) = (
        camera("longer-season-a.toml"),
        camera("longer-season-b.toml"),
    );
    let end = shorter.0.expect("days");
    let mut compared = 0;
    for what in ["days", "night_pictures_days", "uploads_days", "record_days"] {
        for share in ["p10", "p50", "p90"] {
            let key = format!("{what}_{share}");
            let [a, b] = [&shorter.1[&key], &longer.1[&key]];
            if b.as_f64().is_some_and(|days| days < end) {
                assert_eq!(a, b, "{key}");
                compared += 1;
            }
        }
    }
    assert!(compared >= 6, "{compared}");
}

#[test]
fn nothing_lost_is_less_than_nothing() {
    for name in ["negative-loss-lead-acid.toml", "negative-loss-nimh.toml"] {
        let args = ["forecast", "line.toml", "--expected", "--json"];
        let json = sandbox(name).run(&args).json();
        let budget = json["cameras"][0]["budget_wh"]
            .as_object()
            .expect("a budget");
        for (entry, wh) in budget {
            assert!(
                wh.as_f64().expect("a number") >= 0.0,
                "{name}: {entry} {wh}"
            );
        }
    }
}

#[test]
fn a_value_that_is_no_number_is_refused_whatever_the_panel() {
    let said = sandbox("nan-with-watts-0.toml")
        .run(&["check", "line.toml"])
        .refused();
    assert!(
        said.contains("`azimuth_deg` is NaN") && said.contains("line.toml:14:15"),
        "{said}"
    );
}

#[test]
fn a_camera_that_never_runs_is_told_so() {
    let args = ["solar", "line.toml", "--paths=20", "--odds=90"];
    let told = sandbox("solar-inf-days.toml").run(&args).good();
    assert!(told.contains("the camera never runs"), "{told}");
}

#[cfg(target_os = "linux")]
#[test]
fn a_thousand_cameras_take_little_memory() {
    let path = std::path::Path::new(FOLDER).join("thousand-cameras.toml");
    let line = std::fs::read_to_string(path).expect("the line");
    // Short, so that it is soon done; all at once they would take half a gigabyte even so.
    let short = line.replace("end = 2027-03-31", "end = 2026-11-03");
    assert_ne!(short, line);
    let sandbox = Sandbox::with_line(short);
    let told = sandbox.run_within(400, &["check", "line.toml", "--paths=320"]);
    assert_eq!(told.code, Some(0), "{}", told.err);
    assert!(
        told.out.starts_with("the line: 1000 cameras"),
        "{}",
        told.out
    );
}
