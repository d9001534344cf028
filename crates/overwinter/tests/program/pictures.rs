//! `--plot`: pictures that are written whole or not at all.

use crate::sandbox::{LINE, Sandbox};

/// Every command that draws.
const DRAWING: [&[&str]; 9] = [
    &["forecast", "line.toml"],
    &["sun", "line.toml"],
    &["compare", "line.toml", "--cells", "alkaline-aa,lithium-aa"],
    &["settings", "line.toml", "--paths", "5"],
    &["revisit", "line.toml", "--risk", "10%", "--paths", "20"],
    &["discharge", "alkaline-aa", "--current-ma", "100"],
    &["sweep", "line.toml", "--vary=shots=1:3:1", "--paths=5"],
    &["sweep", "line.toml", "--vary=cell=alkaline-aa,nimh-aa"],
    &[
        "sweep",
        "line.toml",
        "--vary=shots=1,2",
        "--vary=quiet_s=0,9",
    ],
];

fn with_plot<'a>(command: &[&'a str], path: &'a str) -> Vec<&'a str> {
    [command, &["--plot", path]].concat()
}

#[test]
fn both_forms_are_written_by_every_command() {
    for command in DRAWING {
        let sandbox = Sandbox::with_line(LINE);
        sandbox.run(&with_plot(command, "a.svg")).good();
        sandbox.run(&with_plot(command, "a.png")).good();
        assert_eq!(sandbox.names(), ["a.png", "a.svg", "line.toml"]);
        let read = |name| std::fs::read(sandbox.path().join(name)).expect("the picture");
        assert!(read("a.svg").windows(4).any(|bytes| bytes == b"<svg"));
        assert!(read("a.png").starts_with(b"\x89PNG\r\n\x1a\n"));
    }
}

#[test]
fn a_wrong_ending_is_refused_before_anything_is_read() {
    for command in DRAWING {
        for name in ["a.gif", "a", "svg", "a.svg.bak"] {
            let sandbox = Sandbox::new();
            let said = sandbox.run(&with_plot(command, name)).refused();
            assert!(
                said.contains(name) && said.contains("svg") && said.contains("png"),
                "{said}"
            );
            assert!(sandbox.names().is_empty());
        }
    }
}

#[test]
fn a_picture_that_cannot_be_written_leaves_nothing() {
    for command in DRAWING {
        let sandbox = Sandbox::with_line(LINE);
        std::fs::create_dir(sandbox.path().join("folder.svg")).expect("a folder");
        for path in ["missing/a.svg", "line.toml/a.png", "folder.svg"] {
            let answer = sandbox.run(&with_plot(command, path));
            assert_eq!(answer.code, Some(1), "{path}: {}", answer.err);
            assert_eq!(answer.out, "");
            assert!(answer.err.contains(path), "{}", answer.err);
            assert_eq!(sandbox.names(), ["folder.svg", "line.toml"]);
        }
    }
}

#[test]
fn a_wrong_line_draws_nothing() {
    let sandbox = Sandbox::with_line(LINE.replace("61.2", "95"));
    sandbox
        .run(&["forecast", "line.toml", "--plot", "a.svg"])
        .refused();
    assert_eq!(sandbox.names(), ["line.toml"]);
}

/// What an XML parser finds in a picture: the texts, each once trimmed.
fn texts_of(sandbox: &Sandbox, name: &str) -> Vec<String> {
    let svg = std::fs::read_to_string(sandbox.path().join(name)).expect("the picture");
    let document = roxmltree::Document::parse(&svg).expect("XML");
    let texts = document
        .descendants()
        .filter(|element| element.has_tag_name("text"));
    let text = |element: roxmltree::Node<'_, '_>| element.text().unwrap_or("").trim().to_owned();
    texts.map(text).collect()
}

const SOLAR: &[&str] = &["solar", "line.toml", "--paths", "20"];

#[test]
fn an_xml_parser_reads_whatever_a_camera_is_called() {
    let name = "<a & \\\"b\\\"> 'c' \u{5c0f}";
    let line = LINE.replace("ford", name) + "facing_deg = 180\n";
    for command in DRAWING.into_iter().chain([SOLAR]) {
        let sandbox = Sandbox::with_line(&line);
        sandbox.run(&with_plot(command, "a.svg")).good();
        let shown = "<a & \"b\"> 'c' \u{5c0f}";
        let texts = texts_of(&sandbox, "a.svg");
        let named = texts.iter().any(|text| text.starts_with(shown));
        assert!(named || command[0] == "discharge", "{command:?} {texts:?}");
    }
}

#[test]
fn letters_that_a_png_lacks_are_told_once_and_an_svg_has_them() {
    let line = LINE.replace("ford", "\u{5c0f}\u{5c4b}") + "facing_deg = 180\n";
    for command in DRAWING.into_iter().chain([SOLAR]) {
        let sandbox = Sandbox::with_line(&line);
        let plain = sandbox.run(command).good();
        assert_eq!(sandbox.run(&with_plot(command, "a.svg")).good(), plain);
        let answer = sandbox.run(&with_plot(command, "a.png"));
        assert_eq!((answer.code, answer.out), (Some(0), plain));
        let told = answer.err.matches("warning: ").count();
        assert_eq!(
            told,
            usize::from(command[0] != "discharge"),
            "{}",
            answer.err
        );
        if told > 0 {
            let says = |what: &str| answer.err.contains(what);
            assert!(says("\u{5c0f}\u{5c4b}") && says(".svg"), "{}", answer.err);
        }
    }
}

#[test]
fn pulses_that_cannot_be_told_apart_are_a_band() {
    let draw = |test: &[&str]| {
        let sandbox = Sandbox::new();
        let test = [&["discharge", "alkaline-aa"], test].concat();
        sandbox.run(&with_plot(&test, "a.svg")).good();
        texts_of(&sandbox, "a.svg")
    };
    let has_band = |test: &[&str]| draw(test).iter().any(|text| text.starts_with("bands: "));
    assert!(has_band(&["--power-mw=1500", "--on-s=2", "--period-s=60"]));
    assert!(has_band(&["--profile=1500mW:2s,650mW:28s"]));
    assert!(!has_band(&["--power-mw=650", "--hours-per-day=1"]));
    assert!(!has_band(&["--current-ma=250"]));
}
