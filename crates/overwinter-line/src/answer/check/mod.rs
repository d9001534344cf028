//! `check`: everything that looks wrong or risky in a line that can be run.

mod cells;
mod clock;
mod inputs;
mod lasting;
mod panel;
mod site;

use serde::Serialize;

use super::forecast::{self, Sampled};
use super::request::LineRequest;
use crate::host::Host;
use crate::line::{Camera, Line, Origin};
use crate::odds::{Kept, Paths};
use crate::problem::Failure;
use crate::run::CameraRun;

/// What is asked for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CheckRequest {
    /// The line.
    pub line: LineRequest,
    /// Which seasons are sampled.
    pub paths: Paths,
}

/// The answer.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Check {
    /// What the site is called.
    pub site: String,
    /// How many cameras were looked at.
    pub cameras: usize,
    /// How many seasons were sampled.
    pub paths: u32,
    /// From which seed.
    pub seed: u64,
    /// What was found.
    pub findings: Vec<Finding>,
}

/// Answers a request about a line that has been read.
///
/// # Errors
/// [`Failure::Request`] if the line cannot be run or sampled.
pub fn answer(line: &Line, request: &CheckRequest, host: &Host<'_>) -> Result<Check, Failure> {
    let paths = request.paths;
    let sampled = forecast::sample(line, paths, Vec::new(), Kept::default(), host)?;
    let runs = forecast::run(line)?;
    Ok(Check {
        site: line.site.clone(),
        cameras: line.cameras.len(),
        paths: paths.count,
        seed: paths.seed,
        findings: findings(line, &runs, &sampled),
    })
}

/// A finding of `check`.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Finding {
    /// The camera, or none if it is about the whole line.
    pub camera: Option<String>,
    /// Name of the kind of finding, for scripts.
    pub kind: &'static str,
    /// What it is and what to do.
    pub text: String,
    /// More likely than not it costs pictures.
    pub grave: bool,
}

/// Looks a line over, and how its cameras fare on the expected path and in sampled seasons.
fn findings(line: &Line, runs: &[CameraRun], sampled: &Sampled) -> Vec<Finding> {
    let facing = site::facing(line);
    let mut findings = Vec::new();
    let fared = runs.iter().zip(&sampled.odds.cameras);
    for (camera, (run, odds)) in line.cameras.iter().zip(fared) {
        findings.extend(lasting::finding(line, camera, run, odds));
        let about = [
            facing(camera),
            cells::cut_off_under_floor(camera),
            cells::cut_off_strands_charge(camera),
            cells::flash_before_cut_off(camera),
            cells::lead_acid_frost(line, camera),
        ];
        let about = about.into_iter().flatten().chain(unusual_figures(camera));
        let about = about.chain(panel::panel(line, camera));
        findings.extend(about.map(|(kind, text)| Finding {
            camera: Some(camera.name.clone()),
            kind,
            text,
            grave: false,
        }));
    }
    findings.extend(whole_line(line));
    findings
}

/// Kind and text of a finding, if there is one.
type About = Option<(&'static str, String)>;

/// Figures in the file that no camera of the kind usually has: a slip of the unit, perhaps.
fn unusual_figures(camera: &Camera) -> Vec<(&'static str, String)> {
    let given = camera
        .figures()
        .filter(|(_, _, assumed)| assumed.origin == Origin::Given);
    let odd = given.filter(|(_, usual, assumed)| {
        assumed.known.value < usual.range.0 || assumed.known.value > usual.range.1
    });
    odd.map(|(figure, usual, assumed)| {
        let (low, high) = usual.range;
        let text = format!(
            "{} is given as {:.3} {}, where {low} to {high} is usual: is the unit right?",
            usual.what,
            assumed.known.value,
            figure.unit().sign()
        );
        ("unusual-figure", text)
    })
    .collect()
}

/// What can be read in the line's file and its weather's and was hardly meant so: every command says it,
/// since its answer may be that of another place. the answer's findings hold the same.
#[must_use]
pub fn doubtful_inputs(line: &Line) -> Vec<String> {
    let doubts = inputs::doubtful(line).into_iter();
    doubts.map(|(_, text)| text).collect()
}

/// Findings about the line as a whole.
fn whole_line(line: &Line) -> Vec<Finding> {
    let mut names: Vec<&str> = line
        .cameras
        .iter()
        .map(|c| c.pack.cell.name.as_str())
        .collect();
    names.sort_unstable();
    names.dedup();
    let mut about = inputs::doubtful(line);
    about.extend(site::site(line));
    if cells::kinds(line) > 1 {
        about.push((
            "mixed-chemistry",
            format!(
                "the line runs on {}: keep the spares apart and never mix them in one camera; the \
                 weakest cell is driven over, leaks or vents",
                names.join(", ")
            ),
        ));
    }
    if line.cameras.iter().any(|c| c.facing_deg.is_none()) {
        let without: Vec<&str> = line
            .cameras
            .iter()
            .filter(|c| c.facing_deg.is_none())
            .map(|c| c.name.as_str())
            .collect();
        about.push((
            "facing-unknown",
            format!(
                "no facing_deg for {}: not checked for glare",
                without.join(", ")
            ),
        ));
    }
    let findings = about.into_iter().map(|(kind, text)| Finding {
        camera: None,
        kind,
        text,
        grave: false,
    });
    findings.collect()
}
