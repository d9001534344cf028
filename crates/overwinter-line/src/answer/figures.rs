//! The figures of the cameras' draw that the answer rests on.

use serde::Serialize;

use super::document::Rounded;
use crate::line::{Assumed, Camera, Figure, Line, Origin, Signal, Usual};

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
    /// Between what it is drawn, nine times in ten.
    pub range: [Rounded<6>; 2],
    /// What cameras of this kind span.
    pub usual_range: [f64; 2],
}

/// Every figure of a camera.
pub(super) fn documents(camera: &Camera) -> Vec<FigureDocument> {
    let figures = camera
        .figures()
        .map(|(figure, usual, assumed)| FigureDocument {
            key: figure.key(),
            value: Rounded(assumed.known.value),
            unit: figure.unit().sign(),
            origin: match assumed.origin {
                Origin::Given => "given",
                Origin::Usual => "usual",
            },
            range: [assumed.known.low, assumed.known.high].map(Rounded),
            usual_range: [usual.range.0, usual.range.1],
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
    /// Between what it is drawn, nine times in ten.
    pub range: [f64; 2],
    /// Whether it stands in the file.
    pub given: bool,
}

impl From<Assumed> for FigureValue {
    fn from(assumed: Assumed) -> Self {
        Self {
            value: assumed.known.value,
            range: [assumed.known.low, assumed.known.high],
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
    let rows = Figure::in_answers().filter_map(|figure| {
        let cameras = line.cameras.iter();
        let having: Vec<Having<'_>> = cameras
            .filter_map(|camera| Having::of(camera, figure))
            .collect();
        Some(row(figure, most_common(&having)?, &having))
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

/// A figure in a camera where it has an effect.
struct Having<'a> {
    /// The camera's name.
    camera: &'a str,
    /// What cameras of its kind usually have.
    usual: &'static Usual,
    /// What is taken.
    assumed: Assumed,
}

impl<'a> Having<'a> {
    /// A camera's figure, if it has any effect.
    fn of(camera: &'a Camera, figure: Figure) -> Option<Self> {
        let usual = figure.usual(camera.kind)?;
        figure.is_used_with(&camera.settings).then_some(Self {
            camera: &camera.name,
            usual,
            assumed: camera.assumed[figure],
        })
    }

    /// Two cameras' figures read the same.
    fn same(&self, other: &Self) -> bool {
        let (one, other) = (self.assumed, other.assumed);
        one.origin == other.origin && one.known == other.known
    }
}

/// The value that most of these cameras share; of several, the first in the file.
fn most_common<'a>(having: &'a [Having<'a>]) -> Option<&'a Having<'a>> {
    let count = |one: &Having<'_>| having.iter().filter(|other| one.same(other)).count();
    let most = having.iter().map(count).max()?;
    having.iter().find(|one| count(one) == most)
}

fn row(figure: Figure, common: &Having<'_>, having: &[Having<'_>]) -> FigureRow {
    let others = having.iter().filter(|one| !common.same(one));
    FigureRow {
        what: common.usual.what,
        unit: figure.unit().sign(),
        common: common.assumed.into(),
        usual_range: [common.usual.range.0, common.usual.range.1],
        others: others
            .map(|one| (one.camera.to_owned(), one.assumed.into()))
            .collect(),
    }
}
