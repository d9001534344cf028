//! `check`: everything that looks wrong or risky in a line that can be run.

use overwinter_model::Voltage;
use overwinter_model::cell::Chemistry;
use serde_json::json;

use super::forecast::ends;
use super::{assumptions, document};
use crate::line::{Camera, Line, Origin, WeatherOrigin};
use crate::run::CameraRun;
use crate::words;

/// A finding of `check`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Finding {
    /// The camera, or none if it is about the whole line.
    pub camera: Option<String>,
    /// Name of the kind of finding, for scripts.
    pub kind: &'static str,
    /// What it is and what to do.
    pub text: String,
}

/// Looks a line over, and how its cameras fare.
#[must_use]
pub fn findings(line: &Line, runs: &[CameraRun]) -> Vec<Finding> {
    let mut findings = Vec::new();
    for (camera, run) in line.cameras.iter().zip(runs) {
        let about = [
            does_not_last(line, camera, run),
            facing(line, camera),
            cut_off_under_floor(camera),
            cut_off_strands_charge(camera),
            flash_before_cut_off(camera),
            lead_acid_frost(line, camera),
        ];
        let about = about.into_iter().flatten().chain(unusual_figures(camera));
        findings.extend(about.map(|(kind, text)| Finding {
            camera: Some(camera.name.clone()),
            kind,
            text,
        }));
    }
    findings.extend(whole_line(line));
    findings
}

/// A camera that fails before the season is over, on its own cells.
fn does_not_last(line: &Line, camera: &Camera, run: &CameraRun) -> About {
    let (what, end) = *ends(&run.outcome).first()?;
    let on = words::date(line.season.date(end.after));
    let why = words::reason(what, end, &camera.supply);
    Some((
        "does-not-last",
        format!("{} on {on}, before the season ends: {why}", what.ended()),
    ))
}

/// Figures in the file that no camera of the kind usually has: a slip of the unit, perhaps.
fn unusual_figures(camera: &Camera) -> Vec<(&'static str, String)> {
    let given = camera.assumed.iter().filter(|a| a.origin == Origin::Given);
    let odd = given.filter(|a| a.value < a.figure.range.0 || a.value > a.figure.range.1);
    odd.map(|a| {
        let (low, high) = a.figure.range;
        let text = format!(
            "{} is given as {:.3} {}, where {low} to {high} is usual: is the unit right?",
            a.figure.what, a.value, a.figure.unit
        );
        ("unusual-figure", text)
    })
    .collect()
}

/// A site whose parts do not go together.
fn place(line: &Line) -> Vec<(&'static str, String)> {
    let mut found = Vec::new();
    let latitude = line.place.latitude_deg();
    if let WeatherOrigin::BuiltIn { name, .. } = &line.climate.origin
        && name.ends_with("-south") != (latitude < 0.0)
    {
        found.push((
            "climate-of-the-other-hemisphere",
            format!("climate {name} at latitude {latitude:.1}°: its winter is the other half-year"),
        ));
    }
    let by_sun = line.place.longitude_deg() / 15.0;
    let offset = line.place.utc_offset().as_hours();
    // Standard times stray from the sun by two hours and a half at the most (common practice, no
    // source).
    if (offset - by_sun).abs() > 2.5 {
        found.push((
            "clock-far-from-sun",
            format!(
                "utc_offset_h is {offset}, but the sun at this longitude asks for about \
                 {by_sun:.0}: night would fall at the wrong hours"
            ),
        ));
    }
    found
}

type About = Option<(&'static str, String)>;

/// Roughly towards the pole, never into sunrise or sunset (common practice, no source).
fn facing(line: &Line, camera: &Camera) -> About {
    let facing = camera.facing_deg?;
    let (pole, pole_name) = if line.place.latitude_deg() < 0.0 {
        (180.0, "south")
    } else {
        (0.0, "north")
    };
    let off = |from: f64| {
        let turn = (facing - from).rem_euclid(360.0);
        turn.min(360.0 - turn)
    };
    let to_rise_or_set = off(90.0).min(off(270.0));
    if to_rise_or_set <= 45.0 {
        let text = format!(
            "faces {facing:.0}°, towards sunrise or sunset: glare and false triggers; turn it \
             roughly {pole_name}"
        );
        return Some(("faces-rising-or-setting-sun", text));
    }
    (off(pole) > 90.0).then(|| {
        let text = format!("faces {facing:.0}°, into the noon sun; {pole_name} is better");
        ("faces-noon-sun", text)
    })
}

/// The camera's cut-off for one of the cells inside its pack.
fn cut_off_per_cell(camera: &Camera) -> Voltage {
    let inside = f64::from(camera.pack.series) * f64::from(camera.pack.cell.cell.in_series);
    camera.supply.cut_off / inside
}

fn cut_off_under_floor(camera: &Camera) -> About {
    let floor = camera.pack.cell.cell.floor;
    let per_cell = cut_off_per_cell(camera);
    // A cut-off that is a share of the input's voltage lands a rounding error beside the floor.
    let rounding = Voltage::from_volts(1e-6);
    (per_cell < floor - rounding).then(|| {
        let harm = if camera.pack.cell.cell.chemistry.rechargeable() {
            "which harms it"
        } else {
            "where it may leak"
        };
        let text = format!(
            "stops only at {} a cell, but {} is driven over below {}, {harm}: swap before it runs \
             down to the end",
            words::volts(per_cell),
            camera.pack.cell.name,
            words::volts(floor)
        );
        ("cut-off-under-floor", text)
    })
}

/// A cut-off that leaves a quarter of the charge or more in the cells even at no load in a warm
/// room.
fn cut_off_strands_charge(camera: &Camera) -> About {
    let per_cell = cut_off_per_cell(camera);
    let open_circuit = &camera.pack.cell.cell.open_circuit;
    (open_circuit.at(0.75) < per_cell).then(|| {
        let text = format!(
            "stops at {} a cell, where {} still holds more than a quarter of its charge at no load \
             and 20 °C: more cells in series use them better, if the input stands the voltage",
            words::volts(per_cell),
            camera.pack.cell.name
        );
        ("cut-off-strands-charge", text)
    })
}

fn flash_before_cut_off(camera: &Camera) -> About {
    (camera.supply.flash < camera.supply.cut_off).then(|| {
        let text = format!(
            "flash_cutoff_v ({}) is below cutoff_v ({}): the camera is off before its flash fails",
            words::volts(camera.supply.flash),
            words::volts(camera.supply.cut_off)
        );
        ("flash-cut-off-below-cut-off", text)
    })
}

fn lead_acid_frost(line: &Line, camera: &Camera) -> About {
    if camera.pack.cell.cell.chemistry != Chemistry::LeadAcid {
        return None;
    }
    let weather = line.climate.weather();
    let first = line.season.first_day();
    let frost = (0..line.season.days()).any(|day| {
        let air = weather.air_of_day(&line.place, first.plus(day));
        air.iter().any(|air| air.as_celsius() < -10.0)
    });
    frost.then(|| {
        let text =
            "a lead-acid battery that is run flat freezes near -10 °C and bursts; a full one \
                    stands frost: bring it in before it is down to a third"
                .to_owned();
        ("lead-acid-frost", text)
    })
}

/// How many chemistries the line runs on.
fn kinds_of_cells(line: &Line) -> usize {
    let mut kinds: Vec<Chemistry> = Vec::new();
    for camera in &line.cameras {
        let chemistry = camera.pack.cell.cell.chemistry;
        if !kinds.contains(&chemistry) {
            kinds.push(chemistry);
        }
    }
    kinds.len()
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
    let mut findings: Vec<Finding> = place(line)
        .into_iter()
        .map(|(kind, text)| Finding {
            camera: None,
            kind,
            text,
        })
        .collect();
    if kinds_of_cells(line) > 1 {
        findings.push(Finding {
            camera: None,
            kind: "mixed-chemistry",
            text: format!(
                "the line runs on {}: keep the spares apart and never mix them in one camera; the \
                 weakest cell is driven over, leaks or vents",
                names.join(", ")
            ),
        });
    }
    if line.cameras.iter().any(|c| c.facing_deg.is_none()) {
        let without: Vec<&str> = line
            .cameras
            .iter()
            .filter(|c| c.facing_deg.is_none())
            .map(|c| c.name.as_str())
            .collect();
        findings.push(Finding {
            camera: None,
            kind: "facing-unknown",
            text: format!(
                "no facing_deg for {}: not checked for glare",
                without.join(", ")
            ),
        });
    }
    findings
}

/// What to mind in any case.
const CAUTIONS: &str = "Before you go: keep lithium cells from short circuit and out of fire; never \
    recharge primary cells; charge nothing below 0 °C unless its maker allows it; tell somebody \
    your route and return; wear what the hunting season asks for. Local rules and the makers' \
    instructions come first.";

/// The answer for a person.
#[must_use]
pub fn text(line: &Line, findings: &[Finding]) -> String {
    let cameras = match line.cameras.len() {
        1 => "1 camera".to_owned(),
        n => format!("{n} cameras"),
    };
    let mut text = format!("{}: {cameras}, ", line.site);
    text.push_str(&match findings.len() {
        0 => "nothing found.\n".to_owned(),
        1 => "1 finding.\n".to_owned(),
        n => format!("{n} findings.\n"),
    });
    for finding in findings {
        let whose = finding.camera.as_deref().unwrap_or("line");
        text.push_str(&assumptions::wrap(&format!("- {whose}: {}.", finding.text)));
        text.push('\n');
    }
    text.push('\n');
    text.push_str(&assumptions::wrap(CAUTIONS));
    text.push('\n');
    text
}

/// The answer for a script.
#[must_use]
pub fn json(line: &Line, findings: &[Finding]) -> String {
    let findings = findings.iter().map(
        |finding| json!({ "camera": finding.camera, "kind": finding.kind, "text": finding.text }),
    );
    document(&json!({
        "site": line.site,
        "cameras": line.cameras.len(),
        "findings": findings.collect::<Vec<_>>(),
    }))
}
