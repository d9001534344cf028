//! Replays published battery models, given the same parameters, against other solvers' results.
//!
//! `OVERWINTER_CIRCUIT_CASES` puts other cases in place of `tests/data/circuit`: a folder that
//! holds `cases` and `results`, a folder of cases with `results` beside it, or one case.

mod kibam;
mod load;
mod results;
mod source;
mod table;
mod thevenin;
mod verdict;

use std::path::{Path, PathBuf};

use overwinter_tests::files::{files_at, reference_place};
use results::Results;
use verdict::Verdict;

const VARIABLE: &str = "OVERWINTER_CIRCUIT_CASES";

#[test]
fn circuit_cases() {
    let files = case_files();
    let mut verdict = Verdict::default();
    for file in &files {
        if let Err(reason) = replay(file, &mut verdict) {
            verdict.points.skip(&name(file), &reason);
        }
    }
    print!("{}", verdict.points.report());

    assert!(
        !verdict.points.compared().is_empty(),
        "nothing was compared"
    );
    assert!(
        verdict.failures.is_empty(),
        "out of tolerance:\n{}",
        verdict.failures.join("\n")
    );
    if std::env::var_os(VARIABLE).is_none() {
        assert_eq!(files.len(), 18, "cases of the repository");
        assert_eq!(verdict.points.skipped(), 0, "the repository's cases");
    }
}

fn case_files() -> Vec<PathBuf> {
    let place = reference_place(VARIABLE, "circuit");
    let cases = place.join("cases");
    files_at(if cases.is_dir() { cases } else { place })
}

/// Compares one case with its results, or says why it cannot be compared.
fn replay(file: &Path, verdict: &mut Verdict) -> Result<(), String> {
    let text = std::fs::read_to_string(file).map_err(|why| why.to_string())?;
    let mut case: serde_json::Value =
        serde_json::from_str(&text).map_err(|why| format!("not a case in JSON: {why}"))?;
    // What is left must be known to the kind, to the last key: a case with an effect that is not
    // modelled here would compare nothing.
    let kind = case
        .as_object_mut()
        .and_then(|keys| keys.remove("kind"))
        .unwrap_or_default();
    let results = Results::beside(file, &name(file));
    match kind.as_str() {
        Some("thevenin") => thevenin::replay(case, &results, verdict),
        Some("kibam") => kibam::replay(case, &results, verdict),
        _ => Err(format!("unknown kind {kind}")),
    }
}

/// The case that a file holds: its name without the ending.
fn name(file: &Path) -> String {
    file.file_stem()
        .map_or_else(String::new, |stem| stem.to_string_lossy().into_owned())
}
