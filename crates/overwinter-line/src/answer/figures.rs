//! The figures of the cameras' draw that the answer rests on.

use serde::Serialize;

use super::document::Rounded;
use crate::line::{Assumed, Camera, Line, Origin, Signal};

/// A figure of a camera's draw.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct FigureDocument {
    /// Key in `[draw]`.
    pub key: &'static str,
    /// Its value in its unit.
    pub value: Rounded<6>,
    /// Its unit.
    pub unit: &'static str,
    /// `given` or `usual`.
    pub origin: &'static str,
    /// What cameras of this kind span.
    pub usual_range: [f64; 2],
}

/// Every figure of a camera.
pub(super) fn documents(camera: &Camera) -> Vec<FigureDocument> {
    let figures = camera.assumed.iter().map(|assumed| FigureDocument {
        key: assumed.figure.key,
        value: Rounded(assumed.value),
        unit: assumed.figure.unit,
        origin: match assumed.origin {
            Origin::Given => "given",
            Origin::Usual => "usual",
        },
        usual_range: [assumed.figure.range.0, assumed.figure.range.1],
    });
    figures.collect()
}

/// A figure that has an effect, over the cameras of a line.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct FigureRow {
    /// What it is.
    pub what: &'static str,
    /// Its unit.
    pub unit: &'static str,
    /// The value that most cameras have; of several, the first in the file.
    pub common: FigureValue,
    /// What cameras of this kind span.
    pub usual_range: [f64; 2],
    /// The cameras that differ, with their values.
    pub others: Vec<(String, FigureValue)>,
}

/// A figure's value.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct FigureValue {
    /// In its unit.
    pub value: f64,
    /// Whether it stands in the file.
    pub given: bool,
}

impl From<&Assumed> for FigureValue {
    fn from(assumed: &Assumed) -> Self {
        Self {
            value: assumed.value,
            given: assumed.origin == Origin::Given,
        }
    }
}

/// What the signal makes of sessions, data and reports.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SignalRow {
    /// Name and factor of the first camera that sends anything.
    pub first: (&'static str, f64),
    /// Factors of the best and the worst signal.
    pub range: [f64; 2],
    /// Cameras with another one: camera, factor, name.
    pub others: Vec<(String, f64, &'static str)>,
}

/// A row for every figure that has an effect.
pub(super) fn rows(line: &Line) -> Vec<FigureRow> {
    let rows = keys(line).into_iter().filter_map(|key| {
        let having: Vec<(&Camera, &Assumed)> = line
            .cameras
            .iter()
            .filter_map(|camera| Some((camera, effective(camera, key)?)))
            .collect();
        Some(row(most_common(&having)?, &having))
    });
    rows.collect()
}

/// What the signal makes of them, where anything is sent.
pub(super) fn signal(line: &Line) -> Option<SignalRow> {
    let mut radios = line.cameras.iter().filter(|camera| camera.sends());
    let first = radios.next()?.settings.signal;
    let others = radios.filter(|camera| camera.settings.signal != first);
    Some(SignalRow {
        first: (first.name(), first.factor()),
        range: [Signal::Good.factor(), Signal::Bad.factor()],
        others: others
            .map(|camera| {
                let signal = camera.settings.signal;
                (camera.name.clone(), signal.factor(), signal.name())
            })
            .collect(),
    })
}

/// Every key that any camera has, in the order of the figures.
fn keys(line: &Line) -> Vec<&'static str> {
    let mut keys: Vec<&'static str> = Vec::new();
    for assumed in line.cameras.iter().flat_map(|camera| &camera.assumed) {
        if !keys.contains(&assumed.figure.key) {
            keys.push(assumed.figure.key);
        }
    }
    keys
}

/// A camera's figure, if it has any effect.
fn effective<'a>(camera: &'a Camera, key: &str) -> Option<&'a Assumed> {
    let assumed = camera
        .assumed
        .iter()
        .find(|assumed| assumed.figure.key == key)?;
    relevant(camera, assumed).then_some(assumed)
}

/// The value that most cameras share; of several, the first in the file.
fn most_common<'a>(having: &[(&Camera, &'a Assumed)]) -> Option<&'a Assumed> {
    let count = |one: &Assumed| having.iter().filter(|(_, other)| same(one, other)).count();
    let most = having.iter().map(|(_, assumed)| count(assumed)).max()?;
    having
        .iter()
        .map(|(_, assumed)| *assumed)
        .find(|assumed| count(assumed) == most)
}

/// Two cameras' figures read the same.
fn same(one: &Assumed, other: &Assumed) -> bool {
    one.origin == other.origin && (one.value - other.value).abs() < 1e-12
}

fn row(common: &Assumed, having: &[(&Camera, &Assumed)]) -> FigureRow {
    let others = having.iter().filter(|(_, assumed)| !same(common, assumed));
    FigureRow {
        what: common.figure.what,
        unit: common.figure.unit,
        common: common.into(),
        usual_range: [common.figure.range.0, common.figure.range.1],
        others: others
            .map(|(camera, assumed)| (camera.name.clone(), (*assumed).into()))
            .collect(),
    }
}

/// Whether a figure has any effect with the camera's settings.
fn relevant(camera: &Camera, assumed: &Assumed) -> bool {
    let settings = &camera.settings;
    match assumed.figure.key {
        "next_still_j" | "next_still_s" | "next_flash_s" => settings.shots > 1,
        "first_still_j" | "first_still_s" | "first_flash_s" | "flash_w" => settings.shots > 0,
        "video_wake_j" => settings.video_s > 0.0 && settings.shots == 0,
        "video_w" | "video_flash_w" => settings.video_s > 0.0,
        "session_j" | "session_s" | "data_j_per_mb" | "data_s_per_mb" => settings.upload.is_some(),
        "picture_mb" | "night_picture_mb" => settings.card_gb.is_some() && settings.shots > 0,
        "video_mb_per_s" => settings.card_gb.is_some() && settings.video_s > 0.0,
        "check_in_j" | "check_in_s" => settings.check_ins_per_day > 0.0,
        _ => true,
    }
}
