//! Flags that are wrong, and output that nobody takes.

use crate::sandbox::{LINE, Sandbox, closed_pipe};

/// Runs a command that must be refused.
#[track_caller]
fn refused(args: &str, says: &[&str]) {
    let sandbox = Sandbox::with_line(LINE);
    let args: Vec<&str> = args.split(' ').collect();
    let said = sandbox.run(&args).refused();
    for words in says {
        assert!(said.contains(words), "{said}\ndoes not say: {words}");
    }
    assert_eq!(sandbox.names(), ["line.toml"]);
}

#[test]
fn loads_out_of_range() {
    for value in ["-5", "nan", "inf", "0"] {
        for (flag, range) in [
            ("--current-ma", "expected 0.001 to 100000"),
            ("--power-mw", "expected 0.001 to 1000000"),
            ("--resistance-ohm", "expected 0.001 to 10000000"),
        ] {
            refused(
                &format!("discharge alkaline-aa {flag} {value}"),
                &[flag, "out of range", range],
            );
        }
    }
}

#[test]
fn a_bench_test_that_cannot_be() {
    let test = "discharge alkaline-aa --current-ma 100";
    refused(
        &format!("{test} --cutoff-v 3"),
        &["--cutoff-v is 3", "alkaline-aa", "expected 0 to 1."],
    );
    refused(&format!("{test} --cutoff-v -1"), &["--cutoff-v is -1"]);
    refused(&format!("{test} --cutoff-v nan"), &["--cutoff-v is NaN"]);
    refused(
        &format!("{test} --temp-c -80"),
        &["--temp-c is -80", "expected -60 to 80"],
    );
    refused(
        &format!("{test} --on-s 5 --period-s 2"),
        &["the time on", "5 s of 2 s"],
    );
    refused(&format!("{test} --on-s nan --period-s 2"), &["the time on"]);
    refused(&format!("{test} --on-s -1 --period-s 2"), &["the time on"]);
    refused(&format!("{test} --on-s 5"), &["--period-s"]);
    refused(&format!("{test} --hours-per-day 25"), &["at most 24 h"]);
    refused(
        &format!("{test} --power-mw 3"),
        &["--current-ma", "cannot be used with"],
    );
    refused("discharge alkaline-aa", &["--current-ma", "--profile"]);
    refused("discharge --current-ma 100", &["<CELL>"]);
    refused(
        "discharge alcaline-aa --current-ma 100",
        &["did you mean `alkaline-aa`?"],
    );
}

#[test]
fn profiles_that_cannot_be_read() {
    for (profile, says) in [
        ("", "a load and a time"),
        ("foo", "a load and a time"),
        ("1500mW:2s,650mA", "`650mA`"),
        ("1500mV:2s", "`1500mV`"),
        ("nanmW:2s", "`nanmW`"),
        ("-1mW:2s", "`-1mW`"),
        ("1mW:0s", "`0s`"),
        (
            "1mA:1s,1mA:1s,1mA:1s,1mA:1s,1mA:1s,1mA:1s,1mA:1s,1mA:1s,1mA:1s",
            "at most 8",
        ),
    ] {
        let flag = format!("--profile={profile}");
        let answer = Sandbox::new().run(&["discharge", "alkaline-aa", &flag]);
        let said = answer.refused();
        assert!(said.contains("--profile") && said.contains(says), "{said}");
        assert!(said.contains("for example 1500mW:2s"), "{said}");
    }
    let endless = format!("--profile={}mA:1s", "9".repeat(400));
    Sandbox::new()
        .run(&["discharge", "alkaline-aa", &endless])
        .refused();
}

#[test]
fn names_that_are_not_known() {
    refused(
        "compare line.toml --cells alkalineaa",
        &["did you mean `alkaline-aa`?"],
    );
    refused(
        "compare line.toml --cells alkaline-aa,",
        &["the name of a cell is empty"],
    );
    refused("compare line.toml", &["--cells <A,B>"]);
    refused("forecast line.toml --camera frd", &["did you mean `ford`?"]);
    refused("forcast line.toml", &["'forecast'"]);
    refused("forecast", &["<LINE>"]);
    refused("completions elvsh", &["elvish"]);
}

#[test]
fn numbers_of_seasons_and_seeds_out_of_range() {
    for command in [
        "forecast",
        "compare --cells nimh-aa",
        "sweep --vary shots=1,2",
        "settings",
        "solar",
        "revisit --risk 5%",
    ] {
        for seed in ["-1", "1.5", "x"] {
            let args = format!("{command} line.toml --seed {seed}");
            refused(&args, &[seed, "--seed", "expected a whole number, 0 to"]);
        }
        for paths in ["-5", "0"] {
            let args = format!("{command} line.toml --paths {paths}");
            refused(&args, &["--paths", &format!("{paths} is not in 1..=1")]);
        }
    }
}

#[test]
fn embed_says_both_of_its_forms() {
    refused("embed", &["<LINE> -o <FILE>", "--show <FILE>"]);
    refused("embed line.toml", &["-o <FILE>"]);
}

#[test]
fn a_reader_that_stops_is_no_failure() {
    let sandbox = Sandbox::with_line(LINE);
    for args in [
        &["forecast", "line.toml", "--json"][..],
        &["catalogue"],
        &["manual"],
        &["completions", "zsh"],
        &["--help"],
    ] {
        let answer = sandbox.run_into(args, closed_pipe());
        assert_eq!(
            (answer.code, answer.err.as_str()),
            (Some(0), ""),
            "{args:?}"
        );
    }
    let answer = sandbox.run_into(&["forecast", "missing.toml"], closed_pipe());
    assert_eq!(answer.code, Some(2));
}

#[test]
#[cfg(target_os = "linux")]
fn a_full_disk_is_a_failure() {
    let full = std::fs::OpenOptions::new()
        .write(true)
        .open("/dev/full")
        .expect("a full disk");
    let answer = Sandbox::with_line(LINE).run_into(&["forecast", "line.toml"], full);
    assert_eq!(answer.code, Some(1));
    assert!(
        answer.err.contains("the answer cannot be printed"),
        "{}",
        answer.err
    );
}
