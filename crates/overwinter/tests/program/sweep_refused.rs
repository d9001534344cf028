//! Sweeps that are refused, and what is said of them.

use crate::sandbox::{LINE, Sandbox};
use crate::sweep::sweep;

/// Runs a sweep that must be refused, with nothing written.
#[track_caller]
fn refused(args: &[&str], says: &[&str]) {
    let sandbox = Sandbox::with_line(LINE);
    let args = [&sweep(args)[..], &["--csv=a.csv", "--plot=a.svg"]].concat();
    let said = sandbox.run(&args).refused();
    for words in says {
        assert!(said.contains(words), "{said}\ndoes not say: {words}");
    }
    assert_eq!(sandbox.names(), ["line.toml"]);
}

#[test]
fn keys_that_are_not_known() {
    for (vary, says) in [
        ("shot=1:3:1", "did you mean `shots`?"),
        ("setings.shots=1", "did you mean `settings.shots`?"),
        ("pack.shots=1", "did you mean `settings.shots`?"),
        ("settings.shot=1", "did you mean `settings.shots`?"),
        ("standby_ma=1", "`standby_mw` or `standby_ua`, and convert"),
        ("by_month=1,2", "it is a list"),
        ("site.name=a,b", "no camera lasts longer"),
        ("facing_deg=1", "no camera lasts longer"),
        ("=1", "`` is not a key"),
        ("shots", "expected a key, `=` and values"),
    ] {
        let flag = format!("--vary {vary}: ");
        refused(&["--vary", vary], &[&flag, says]);
    }
}

#[test]
fn values_that_are_wrong() {
    for (vary, says) in [
        (
            "shots=1:40:1",
            "at shots = 31: `shots` is 31, which is out of range",
        ),
        (
            "shots=1:40:1",
            "expected a whole number, 0 to 30; 10 of 40 points are wrong",
        ),
        ("shots=1:5:0", "the step of 1:5:0 is 0"),
        ("shots=5:1:1", "a step of 1 does not lead from 5 to 1"),
        ("shots=1:5:-1", "a step of -1 does not lead from 1 to 5"),
        ("shots=1:5", "`1:5` is neither a number nor a range"),
        ("shots=1,2,1", "1 is among the values twice"),
        ("quiet_s=5,1:9:2", "5 is among the values twice"),
        ("quiet_s=1,1.0", "1 is among the values twice"),
        ("shots=", "a value is empty"),
        ("shots=1,,2", "a value is empty"),
        ("shots=1.5", "1.5 is not a whole number"),
        ("quiet_s=1:nan:1", "`nan` is not a number"),
        ("quiet_s=30s", "`30s` is not a number"),
        ("quiet_s=0:10000:1", "0:10000:1 has 10001 values"),
        ("quiet_s=0:1000000:0.001", "has 1000000001 values"),
        (
            "quiet_s=79228162514264337593543950335:-79228162514264337593543950335:-1",
            "too many digits",
        ),
        ("start=2026-02-30", "`2026-02-30` is not a date"),
        ("start=2027-01-01", "before it starts"),
        ("latitude_deg=80:100:5", "at latitude_deg = 95: "),
        ("cell=alkaline-aa,lithum-aa", "did you mean `lithium-aa`?"),
        ("cell=1:3:1", "at cell = 1:3:1: "),
        ("weather_use=hous", "expected normals or hours"),
        ("weather=missing.epw", "at weather = missing.epw: "),
        ("signal=good", "has no modem"),
        ("series=2:8:2", "at series = 2: 2 x alkaline-aa in series"),
        ("meter_v=9", "expected `standby_ua` beside it"),
    ] {
        let flag = format!("--vary {vary}: ");
        refused(&["--vary", vary], &[&flag, says]);
    }
}

#[test]
fn axes_that_do_not_go_together() {
    let two = |one: &str, other: &str, says: &str| {
        refused(&["--vary", one, "--vary", other], &[says]);
    };
    two(
        "shots=1",
        "settings.shots=2",
        "`settings.shots` is varied twice",
    );
    two("standby_ua=50", "standby_mw=1", "exclude each other");
    two("meter_v=5", "standby_mw=1", "exclude each other");
    two(
        "climate=boreal-inland",
        "weather=a.epw",
        "exclude each other",
    );
    two(
        "quiet_s=0:999:1",
        "video_s=1:101:1",
        "--vary asks for 101000 points",
    );
    two(
        "shots=1",
        "series=8,30",
        "--vary shots=1 --vary series=8,30: at shots = 1, series = 30: ",
    );
    let three = ["--vary=shots=1", "--vary=series=8", "--vary=quiet_s=0"];
    refused(&three, &["--vary is given 3 times"]);
}

#[test]
fn flags_out_of_range_and_names_of_other_files() {
    let sandbox = Sandbox::with_line(LINE);
    for (flag, says) in [
        ("--paths=0", "1..=100000"),
        ("--paths=-1", "--paths"),
        ("--seed=x", "--seed"),
        ("--csv=line.toml", "end it in .csv"),
        ("--csv=table", "end it in .csv"),
        ("--camera=frd", "did you mean `ford`?"),
    ] {
        let args = ["sweep", "line.toml", "--vary=shots=1", flag];
        let said = sandbox.run(&args).refused();
        assert!(said.contains(says), "{said}");
    }
    let said = sandbox.run(&["sweep", "line.toml"]).refused();
    assert!(said.contains("--vary"), "{said}");
    let args = [
        "sweep",
        "line.toml",
        "--vary=shots=1",
        "--csv=missing/a.csv",
    ];
    let answer = sandbox.run(&args);
    assert_eq!((answer.code, answer.out.as_str()), (Some(1), ""));
    assert!(
        answer.err.contains("its folder is not there"),
        "{}",
        answer.err
    );
    assert_eq!(sandbox.names(), ["line.toml"]);
}
