//! A sweep's answer.

use serde::ser::SerializeMap;
use serde::{Serialize, Serializer};

use super::{Axis, Row, Sweep};
use crate::answer::document::Rounded;
use crate::answer::path::replayed;
use crate::answer::warnings::{Told, told_once};
use crate::line::{Season, Section, Value};

/// The answer.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SweepAnswer {
    /// What a script reads.
    pub document: SweepDocument,
    /// What is said beyond that.
    pub details: SweepDetails,
}

/// A line's days at every point.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SweepDocument {
    /// What the site is called.
    pub site: String,
    /// How many seasons were sampled at each point.
    pub paths: u32,
    /// From which seed.
    pub seed: u64,
    /// The keys that are varied; the last one's values change first.
    pub axes: Vec<AxisDocument>,
    /// Each camera at each point.
    pub rows: Vec<RowDocument>,
    /// Doubts and warnings, each told once.
    pub warnings: Vec<SweepWarning>,
}

/// A key and its values.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct AxisDocument {
    /// The key as it was given.
    pub key: String,
    /// The section that it stands in.
    pub section: &'static str,
    /// Its unit, if it has one.
    pub unit: Option<&'static str>,
    /// Its values.
    pub values: Vec<ValueDocument>,
    /// Cameras whose own value it replaces.
    pub replaced_in_cameras: Vec<String>,
}

/// A value: numbers as numbers, a whole one without a point; the rest as text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ValueDocument(pub Value);

impl Serialize for ValueDocument {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let text = self.0.to_string();
        match (self.0.as_f64(), text.parse::<i64>()) {
            (None, _) => serializer.serialize_str(&text),
            (Some(_), Ok(whole)) => serializer.serialize_i64(whole),
            (Some(number), Err(_)) => serializer.serialize_f64(number),
        }
    }
}

/// The values at a point, by the names of their keys.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PointValues(pub Vec<(String, ValueDocument)>);

impl Serialize for PointValues {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut map = serializer.serialize_map(Some(self.0.len()))?;
        for (name, value) in &self.0 {
            map.serialize_entry(name, value)?;
        }
        map.end()
    }
}

/// One camera at one point.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct RowDocument {
    /// Where.
    #[serde(flatten)]
    pub values: PointValues,
    /// The camera's name.
    pub camera: String,
    /// What came of it.
    #[serde(flatten)]
    pub figures: RowFigures,
}

/// What came of a camera at a point. Days are `None` beyond the season.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct RowFigures {
    /// Length of the season.
    pub season_days: i32,
    /// Days alive on the expected path, to the season's end at most.
    pub days_expected: Rounded<3>,
    /// Days by which a tenth of the seasons have seen its end.
    pub days_p10: Option<Rounded<3>>,
    /// Half of them.
    pub days_p50: Option<Rounded<3>>,
    /// Nine tenths.
    pub days_p90: Option<Rounded<3>>,
    /// Days by which half of the seasons have lost the night pictures.
    pub night_pictures_days_p50: Option<Rounded<3>>,
    /// Share of the seasons in which it is alive at the end.
    pub odds_alive: Rounded<4>,
    /// Share of the charge left at the end of the expected path.
    pub charge_left_fraction: Rounded<4>,
    /// Whether it is alive at the end of the expected path.
    pub expected_outlives_season: bool,
    /// Days by which the card is full in half of the seasons.
    pub card_full_days_p50: Option<Rounded<3>>,
}

/// A doubt or a warning with the cameras that have it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct SweepWarning {
    /// Its name.
    pub kind: &'static str,
    /// The cell that it is about.
    pub cell: String,
    /// The cameras.
    pub cameras: Vec<String>,
    /// For a person.
    pub text: String,
}

/// What is said beyond the document.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SweepDetails {
    /// From when to when; `None` where that is varied.
    pub season: Option<Season>,
    /// Where the temperatures come from; `None` where that is varied.
    pub weather: Option<String>,
    /// Whether a file's hours are replayed.
    pub replayed: bool,
    /// The cameras in their order.
    pub cameras: Vec<String>,
    /// The keys in their order.
    pub axes: Vec<AxisDetails>,
    /// Beside each row of the document.
    pub rows: Vec<RowDetails>,
    /// Doubts and warnings, each told once.
    pub warnings: Vec<Told>,
}

/// A key in words.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct AxisDetails {
    /// The key's own name, without its section.
    pub name: &'static str,
    /// What it is.
    pub words: String,
    /// The same with its unit.
    pub title: String,
    /// Its values in words.
    pub labels: Vec<String>,
    /// Its values as numbers; `None` if they are names or dates.
    pub numbers: Option<Vec<f64>>,
}

/// What is said of a row beyond its document.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct RowDetails {
    /// The number of each key's value.
    pub places: Vec<usize>,
    /// Whether the camera has a flash.
    pub lit: bool,
}

impl SweepAnswer {
    pub(super) fn of(sweep: &Sweep<'_>, rows: &[Row]) -> Self {
        let warnings = told_once(rows.iter().flat_map(|row| {
            let warnings = row.warnings.iter().cloned();
            warnings.map(|warning| (row.camera.as_str(), row.cell.as_str(), warning))
        }));
        Self {
            document: document(sweep, rows, &warnings),
            details: details(sweep, rows, warnings),
        }
    }
}

fn document(sweep: &Sweep<'_>, rows: &[Row], warnings: &[Told]) -> SweepDocument {
    let warnings = warnings.iter().map(|told| SweepWarning {
        kind: told.warning.kind,
        cell: told.cell.clone(),
        cameras: told.cameras.clone(),
        text: told.warning.text.clone(),
    });
    SweepDocument {
        site: sweep.line.site.clone(),
        paths: sweep.paths.count,
        seed: sweep.paths.seed,
        axes: sweep
            .axes
            .iter()
            .map(|axis| axis_document(sweep, axis))
            .collect(),
        rows: rows.iter().map(|row| row_document(sweep, row)).collect(),
        warnings: warnings.collect(),
    }
}

fn axis_document(sweep: &Sweep<'_>, axis: &Axis) -> AxisDocument {
    let replaced = sweep.file.overriding(&axis.key).into_iter();
    AxisDocument {
        key: axis.name.clone(),
        section: axis.key.section.name(),
        unit: axis.key.words().1,
        values: axis.values.iter().cloned().map(ValueDocument).collect(),
        replaced_in_cameras: replaced.map(str::to_owned).collect(),
    }
}

fn row_document(sweep: &Sweep<'_>, row: &Row) -> RowDocument {
    let values = sweep.axes.iter().zip(sweep.values(row.point));
    let values = values.map(|(axis, value)| (axis.name.clone(), ValueDocument(value.clone())));
    let [days_p10, days_p50, days_p90] = row.days.map(|days| days.map(Rounded));
    RowDocument {
        values: PointValues(values.collect()),
        camera: row.camera.clone(),
        figures: RowFigures {
            season_days: row.season_days,
            days_expected: Rounded(row.days_expected),
            days_p10,
            days_p50,
            days_p90,
            night_pictures_days_p50: row.night_days_p50.map(Rounded),
            odds_alive: Rounded(row.odds_alive),
            charge_left_fraction: Rounded(row.charge_left),
            expected_outlives_season: row.outlives,
            card_full_days_p50: row.card_full_days_p50.map(Rounded),
        },
    }
}

fn details(sweep: &Sweep<'_>, rows: &[Row], warnings: Vec<Told>) -> SweepDetails {
    let line = &sweep.line;
    let varied = |section| sweep.axes.iter().any(|axis| axis.key.section == section);
    let axes = sweep.axes.iter().map(|axis| AxisDetails {
        name: axis.key.name,
        words: axis.key.words().0,
        title: axis.title(),
        labels: axis.values.iter().map(Value::to_string).collect(),
        numbers: axis.numbers(),
    });
    let rows = rows.iter().map(|row| RowDetails {
        places: sweep.places(row.point),
        lit: row.lit,
    });
    SweepDetails {
        season: (!varied(Section::Season)).then_some(line.season),
        weather: (!varied(Section::Site)).then(|| line.climate.origin.to_string()),
        replayed: replayed(&line.climate.origin),
        cameras: line
            .cameras
            .iter()
            .map(|camera| camera.name.clone())
            .collect(),
        axes: axes.collect(),
        rows: rows.collect(),
        warnings,
    }
}
