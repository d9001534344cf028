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
