//! Every command that reads a line, with few seasons, and what holds of any answer.

use std::collections::BTreeMap;
use std::process::Stdio;
use std::time::{Duration, Instant};

use overwinter_line::shown::is_unprintable;

use crate::sandbox::{Answer, Sandbox};

/// Commands of which each reads `line.toml` and answers quickly.
pub(crate) const COMMANDS: [&[&str]; 10] = [
    &["forecast", "line.toml", "--paths=5"],
    &["forecast", "line.toml", "--expected"],
    &["check", "line.toml", "--paths=5"],
    &["settings", "line.toml", "--paths=3"],
    &["sun", "line.toml"],
    &[
        "compare",
        "line.toml",
        "--cells=lithium-aa,nimh-aa",
        "--paths=5",
    ],
    &[
        "sweep",
        "line.toml",
        "--vary=triggers_per_day=5,9",
        "--paths=3",
    ],
    &["solar", "line.toml", "--paths=3", "--odds=40"],
    &["revisit", "line.toml", "--risk=30%", "--paths=20"],
    &["embed", "line.toml", "-o", "x.owb"],
];

/// The first so many of them take any line that can be read.
const ANY_LINE: usize = 5;

/// A run that takes longer hangs. Few seasons take a fraction of a second; the rest is room for a busy machine.
const HANGS: Duration = Duration::from_secs(60);

/// Runs every command, as text and as JSON, and asserts what holds of any answer to any file. `what` names the
/// file in a failure. Gives the longest time that a run took.
#[track_caller]
pub(crate) fn hold(sandbox: &Sandbox, what: &str) -> Duration {
    let before = sandbox.names();
    let mut codes = BTreeMap::new();
    let mut longest = Duration::ZERO;
    for (number, command) in COMMANDS.iter().enumerate() {
        for json in [false, true] {
            let more: &[&str] = if json { &["--json"] } else { &[] };
            let args = [command, more].concat();
            let what = format!("{args:?} of\n{what}");
            let (answer, took) = in_time(sandbox, &args, &what);
            longest = longest.max(took);
            holds(&answer, json, &what);
            let written = sandbox.names() != before;
            assert!(
                !written || (answer.code == Some(0) && command[0] == "embed"),
                "{what}"
            );
            // A blob would be told from what a later run leaves.
            let _ = std::fs::remove_file(sandbox.path().join("x.owb"));
            if number < ANY_LINE {
                codes.insert(answer.code, what);
            }
        }
    }
    assert!(
        codes.len() == 1,
        "read by some commands and refused by others: {codes:#?}"
    );
    longest.max(table_with_commas(sandbox, what))
}

/// The rows of a table with commas are as long as its head.
#[track_caller]
fn table_with_commas(sandbox: &Sandbox, what: &str) -> Duration {
    let args = [COMMANDS[6], &["--csv=-"]].concat();
    let (answer, took) = in_time(sandbox, &args, what);
    if answer.code == Some(0) {
        for row in csv::Reader::from_reader(answer.out.as_bytes()).records() {
            row.unwrap_or_else(|why| panic!("{why}\n{what}"));
        }
    }
    took
}

/// Runs the program, which must end.
#[track_caller]
fn in_time(sandbox: &Sandbox, args: &[&str], what: &str) -> (Answer, Duration) {
    let files = [".out", ".err"].map(|name| sandbox.path().join(name));
    let [out, err] = files
        .each_ref()
        .map(|path| std::fs::File::create(path).expect("a file"));
    let mut command = sandbox.command(args);
    let mut child = command
        .stdout(out)
        .stderr(Stdio::from(err))
        .spawn()
        .expect("the program starts");
    let began = Instant::now();
    let status = loop {
        if let Some(status) = child.try_wait().expect("a child") {
            break status;
        }
        if began.elapsed() > HANGS {
            child.kill().expect("a kill");
            panic!("hangs: {what}");
        }
        std::thread::sleep(Duration::from_millis(2));
    };
    let took = began.elapsed();
    let [stdout, stderr] = files
        .each_ref()
        .map(|path| std::fs::read(path).expect("a file"));
    for path in files {
        std::fs::remove_file(path).expect("a file");
    }
    let output = std::process::Output {
        status,
        stdout,
        stderr,
    };
    (Answer::new(&output), took)
}

/// What holds of any answer: its exit code, that nothing in it does anything to a terminal, that numbers are
/// numbers and tables as wide as their heads.
#[track_caller]
fn holds(answer: &Answer, json: bool, what: &str) {
    let Answer { code, out, err } = answer;
    assert!(matches!(code, Some(0 | 2)), "{code:?} {err}\n{what}");
    assert_eq!(*code == Some(0), !out.is_empty(), "{what}");
    assert!(
        *code == Some(0) || err.starts_with("error: ") || err.starts_with("warning: "),
        "{err}\n{what}"
    );
    for text in [out, err] {
        let stray = text.chars().find(|c| *c != '\n' && is_unprintable(*c));
        assert_eq!(stray, None, "{text}\n{what}");
    }
    if json && *code == Some(0) {
        let read: Result<serde_json::Value, _> = serde_json::from_str(out);
        assert!(read.is_ok(), "{out}\n{what}");
    }
    let mut words = out.split([' ', '\n', ',', '%', '+']);
    let stray = words.find(|word| ["NaN", "inf", "-inf", "null%"].contains(word));
    assert_eq!(stray, None, "{out}\n{what}");
    for table in out.split("\n\n") {
        let rule = table
            .lines()
            .position(|line| line.len() > 2 && line.bytes().all(|b| b == b'-'));
        let Some(rule) = rule else { continue };
        let wide = table.lines().nth(rule).map_or(0, str::len);
        for row in table.lines() {
            assert!(
                row.chars().count() <= wide,
                "{row}\nis wider than its head:\n{table}\n{what}"
            );
        }
    }
}
