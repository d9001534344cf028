//! `sweep`: a line's days over a range or a list of values of any key, or of two.

mod axis;
mod document;

use overwinter_model::season::{Ending, Outcome};

pub use axis::{Axis, parse_axes};
pub use document::{
    AxisDetails, AxisDocument, PointValues, RowDetails, RowDocument, RowFigures, SweepAnswer,
    SweepDetails, SweepDocument, SweepWarning, ValueDocument,
};

use crate::host::{Host, gather};

use super::ends::night_ends;
use super::request::LineRequest;
use super::warnings::{Warning, warnings};
use crate::line::{Camera, Change, Line, LineFile, Value};
use crate::odds::{Lost, Odds, Paths, sample_line};
use crate::problem::{Failure, Problem};
use crate::run::{SeasonAir, run_camera};

/// The most cameras at all points taken together: beyond that the answer fits into no head and the
/// rows into no memory.
const MOST_ROWS: usize = 100_000;

/// What is asked for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SweepRequest {
    /// The line.
    pub line: LineRequest,
    /// One key or two with their values, as [`parse_axes`] reads them.
    pub vary: Vec<String>,
    /// Which seasons are sampled at each point.
    pub paths: Paths,
}

/// A sweep that can be run.
pub struct Sweep<'f> {
    file: LineFile<'f>,
    /// The line as it stands in the file, with the cameras that are run.
    line: Line,
    /// One key or two; the first one's values change last.
    axes: Vec<Axis>,
    paths: Paths,
}

/// One camera at one point.
struct Row {
    /// The point's number; the last axis's values change first.
    point: usize,
    /// The camera's name.
    camera: String,
    /// Length of the season, days.
    season_days: i32,
    /// Days alive on the expected path, to the season's end at most.
    days_expected: f64,
    /// It is alive at the end of the expected path.
    outlives: bool,
    /// Days by which a tenth, half and nine tenths of the paths are dead; `None` beyond the season.
    days: [Option<f64>; 3],
    /// Days by which half of the paths have lost the night pictures, at the latest with the camera;
    /// `None` beyond the season, and where there is no flash.
    night_days_p50: Option<f64>,
    /// Days by which the card is full in half of the paths; `None` beyond the season or without one.
    card_full_days_p50: Option<f64>,
    /// It has a flash.
    lit: bool,
    /// Share of the paths that are alive at the season's end.
    odds_alive: f64,
    /// Share of the charge that is left at the end of the expected path.
    charge_left: f64,
    /// The cells' name.
    cell: String,
    /// Doubts and warnings about the expected path.
    warnings: Vec<Warning>,
}

impl<'f> Sweep<'f> {
    /// Checks the line at every point, before any is run.
    ///
    /// # Errors
    /// [`Failure::Request`] for the first point whose line is wrong, and for too many.
    pub fn new(
        mut file: LineFile<'f>,
        line: Line,
        axes: Vec<Axis>,
        paths: Paths,
        host: &Host<'_>,
    ) -> Result<Self, Failure> {
        for axis in &axes {
            file.read_cells(&axis.key, &axis.values);
        }
        let sweep = Self {
            file,
            line,
            axes,
            paths,
        };
        sweep.check(host)?;
        Ok(sweep)
    }

    /// How many points.
    #[must_use]
    pub fn points(&self) -> usize {
        self.axes.iter().map(|axis| axis.values.len()).product()
    }

    /// The number of each axis's value at a point.
    fn places(&self, point: usize) -> Vec<usize> {
        let mut rest = point;
        let mut places: Vec<usize> = self
            .axes
            .iter()
            .rev()
            .map(|axis| {
                let place = rest % axis.values.len();
                rest /= axis.values.len();
                place
            })
            .collect();
        places.reverse();
        places
    }

    /// Each axis's value at a point.
    fn values(&self, point: usize) -> Vec<&Value> {
        let places = self.places(point);
        let axes = self.axes.iter().zip(places);
        axes.map(|(axis, place)| &axis.values[place]).collect()
    }

    /// The line at a point.
    fn line_at(&self, point: usize) -> Result<Line, Vec<Problem>> {
        let keys = self.axes.iter().map(|axis| &axis.key);
        let changes: Vec<Change<'_>> = keys.zip(self.values(point)).collect();
        self.file.with(&self.line, &changes)
    }

    /// A point's wrong line as a wrong request.
    fn refusal(&self, point: usize, problems: &[Problem], how_many: &str) -> Failure {
        let flags = self
            .axes
            .iter()
            .map(|axis| format!("--vary {}", axis.given));
        let at = self.axes.iter().zip(self.values(point));
        let at = at.map(|(axis, value)| format!("{} = {value}", axis.name));
        let first = problems.first();
        let what = first.map_or("the line is wrong", |problem| &problem.message);
        let whose = first
            .filter(|problem| (1..self.line.cameras.len()).contains(&problem.cameras.len()))
            .map_or_else(String::new, |problem| format!(" ({})", problem.whose()));
        let advice = first.map_or_else(String::new, Problem::advice);
        let advice = [advice.as_str(), how_many];
        let advice: Vec<&str> = advice.into_iter().filter(|part| !part.is_empty()).collect();
        Failure::request(
            format!(
                "{}: at {}: {what}{whose}",
                flags.collect::<Vec<_>>().join(" "),
                at.collect::<Vec<_>>().join(", ")
            ),
            advice.join("; "),
        )
    }

    fn check(&self, host: &Host<'_>) -> Result<(), Failure> {
        let (points, cameras) = (self.points(), self.line.cameras.len());
        if points * cameras > MOST_ROWS {
            let each = match cameras {
                1 => String::new(),
                n => format!(" for each of {n} cameras, {} in all", points * n),
            };
            return Err(Failure::request(
                format!("--vary asks for {points} points{each}"),
                format!("expected at most {MOST_ROWS}"),
            ));
        }
        let wrong = gather(host.workers, points, |point| self.line_at(point).is_err());
        let Some(first) = wrong.iter().position(|wrong| *wrong) else {
            return Ok(());
        };
        let problems = self.line_at(first).err().unwrap_or_default();
        let wrong = wrong.into_iter().filter(|wrong| *wrong);
        let how_many = format!("{} of {points} points are wrong", wrong.count());
        Err(self.refusal(first, &problems, &how_many))
    }

    /// Runs every camera at every point, and answers.
    ///
    /// # Errors
    /// [`Failure::Request`] for a point's line that is wrong, or whose pack is.
    pub fn answer(&self, host: &Host<'_>) -> Result<SweepAnswer, Failure> {
        let rows = self.run(host)?;
        Ok(SweepAnswer::of(self, &rows))
    }

    /// Every camera at every point, in the points' order; a step of the work is a point.
    fn run(&self, host: &Host<'_>) -> Result<Vec<Row>, Failure> {
        let shared = self.axes.iter().all(|axis| !axis.key.is_of_season());
        let air = shared.then(|| SeasonAir::new(&self.line));
        let work = host.begin(Some(self.points()), "points");
        let within = host.unwatched();
        let points = gather(host.workers, self.points(), |point| {
            let rows = self.run_point(point, air.as_ref(), &within);
            work.advance(1);
            rows
        });
        let rows: Result<Vec<Vec<Row>>, Failure> = points.into_iter().collect();
        Ok(rows?.into_iter().flatten().collect())
    }

    fn run_point(
        &self,
        point: usize,
        air: Option<&SeasonAir>,
        host: &Host<'_>,
    ) -> Result<Vec<Row>, Failure> {
        let impossible = |problems: &[Problem]| self.refusal(point, problems, "");
        let line = self
            .line_at(point)
            .map_err(|problems| impossible(&problems))?;
        let own_air;
        let air = match air {
            Some(shared) => shared,
            None => {
                own_air = SeasonAir::new(&line);
                &own_air
            }
        };
        let refused = |why: String| impossible(&[Problem::whole(why)]);
        let packs: Vec<_> = line.cameras.iter().map(|c| (c, &c.pack)).collect();
        let odds = sample_line(&line, air, &packs, self.paths, host)
            .map_err(|why| refused(why.to_string()))?;
        let cameras = line.cameras.iter().zip(&odds.cameras);
        let rows = cameras.map(|(camera, odds)| {
            let run = run_camera(&line, air, camera, &camera.pack)
                .map_err(|why| refused(why.to_string()))?;
            let warnings = warnings(&line.season, &run);
            Ok(row(point, &line, camera, odds, &run.outcome, warnings))
        });
        rows.collect()
    }
}

fn row(
    point: usize,
    line: &Line,
    camera: &Camera,
    odds: &Odds,
    expected: &Outcome,
    warnings: Vec<Warning>,
) -> Row {
    let season_days = line.season.days();
    let dead = &odds.lost[Lost::Camera];
    Row {
        point,
        camera: camera.name.clone(),
        season_days,
        days_expected: expected.followed.as_days(),
        outlives: expected.ends[Ending::Camera].is_none(),
        days: [0.1, 0.5, 0.9].map(|share| dead.days_at(share)),
        night_days_p50: night_ends(camera, odds).and_then(|ends| ends.days_at(0.5)),
        card_full_days_p50: odds.lost[Lost::CardRoom].days_at(0.5),
        lit: camera.draw.night_trigger.is_lit(),
        odds_alive: 1.0 - dead.ended_share(f64::from(season_days)),
        charge_left: expected.charge_left,
        cell: camera.pack.cell.name.clone(),
        warnings,
    }
}
