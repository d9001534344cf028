//! Any request, and its answer.

use std::path::PathBuf;

use serde::Serialize;

use super::catalogue::{self, Catalogue};
use super::cell_from_points::{self, CellAnswer};
use super::check::{self, Check, CheckRequest};
use super::compare::{self, CompareRequest, Comparison};
use super::discharge::{self, Discharge, DischargeRequest};
use super::embed::{self, Blob, Embedded};
use super::forecast::{self, Forecast, ForecastRequest};
use super::request::LineRequest;
use super::revisit::{self, Revisit, RevisitRequest};
use super::settings::{self, SettingsAnswer, SettingsRequest};
use super::solar::{self, Solar, SolarRequest};
use super::sun::{self, SunAnswer, SunRequest};
use super::sweep::{Sweep, SweepAnswer, SweepRequest, parse_axes};
use crate::host::Host;
use crate::line::Line;
use crate::problem::Failure;

/// Anything that can be asked.
#[derive(Clone, Debug, PartialEq)]
pub enum Request {
    /// Until when each camera works.
    Forecast(ForecastRequest),
    /// The same on other cells.
    Compare(CompareRequest),
    /// Days over the values of a key.
    Sweep(SweepRequest),
    /// What each setting gains.
    Settings(SettingsRequest),
    /// The smallest panel and store.
    Solar(SolarRequest),
    /// When to be back.
    Revisit(RevisitRequest),
    /// The sun over the season.
    Sun(SunRequest),
    /// What looks wrong or risky.
    Check(CheckRequest),
    /// The cells.
    Catalogue,
    /// A bench test of cells.
    Discharge(Box<DischargeRequest>),
    /// The one camera of a line as bytes for a microcontroller.
    Embed(LineRequest),
    /// A cell of one's own out of this file of points.
    Cell(PathBuf),
}

/// The answer to a request. As a whole it can be written down.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Answer {
    /// Of [`Request::Forecast`].
    Forecast(Box<Forecast>),
    /// Of [`Request::Compare`].
    Compare(Box<Comparison>),
    /// Of [`Request::Sweep`].
    Sweep(Box<SweepAnswer>),
    /// Of [`Request::Settings`].
    Settings(Box<SettingsAnswer>),
    /// Of [`Request::Solar`].
    Solar(Box<Solar>),
    /// Of [`Request::Revisit`].
    Revisit(Box<Revisit>),
    /// Of [`Request::Sun`].
    Sun(Box<SunAnswer>),
    /// Of [`Request::Check`].
    Check(Box<Check>),
    /// Of [`Request::Catalogue`].
    Catalogue(Box<Catalogue>),
    /// Of [`Request::Discharge`].
    Discharge(Box<Discharge>),
    /// Of [`Request::Embed`].
    Embed(Box<Embedded>),
    /// Of [`Request::Cell`].
    Cell(Box<CellAnswer>),
}

/// An answer, and what can be read in its inputs and was hardly meant so.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Answered {
    /// The answer.
    pub answer: Answer,
    /// Doubts about the inputs, for a person; `check` has them among its findings.
    pub doubts: Vec<String>,
}

/// Answers any request.
///
/// # Errors
/// [`Failure::Input`] with all that is wrong in a file; [`Failure::Request`] for what cannot be answered.
pub fn answer(request: &Request, host: &Host<'_>) -> Result<Answered, Failure> {
    match request {
        Request::Forecast(request) => of_line(&request.line, host, |line| {
            let answer = forecast::answer(line, request, host)?;
            Ok(Answer::Forecast(Box::new(answer)))
        }),
        Request::Compare(request) => {
            let cells = compare::find_cells(&request.cells, host.files)?;
            of_line(&request.line, host, |line| {
                let answer = compare::answer(line, &cells, request.paths, host)?;
                Ok(Answer::Compare(Box::new(answer)))
            })
        }
        Request::Sweep(request) => sweep(request, host),
        Request::Settings(request) => of_line(&request.line, host, |line| {
            let answer = settings::answer(line, request.paths, host)?;
            Ok(Answer::Settings(Box::new(answer)))
        }),
        Request::Solar(request) => {
            let asked = request.line.read(host)?;
            let answer = solar::answer(&asked.file, &asked.line, request, host)?;
            Ok(Answered {
                answer: Answer::Solar(Box::new(answer)),
                doubts: asked.doubts,
            })
        }
        Request::Revisit(request) => of_line(&request.line, host, |line| {
            let answer = revisit::answer(line, request, host)?;
            Ok(Answer::Revisit(Box::new(answer)))
        }),
        Request::Sun(request) => of_line(&request.line, host, |line| {
            let answer = sun::answer(line, request.within_deg);
            Ok(Answer::Sun(Box::new(answer)))
        }),
        Request::Check(request) => of_line(&request.line, host, |line| {
            let answer = check::answer(line, request, host)?;
            Ok(Answer::Check(Box::new(answer)))
        }),
        Request::Catalogue => Ok(undoubted(Answer::Catalogue(Box::new(catalogue::answer())))),
        Request::Discharge(request) => {
            let cells = compare::find_cells(&request.cells, host.files)?;
            let answer = discharge::answer(&cells, request)?;
            Ok(undoubted(Answer::Discharge(Box::new(answer))))
        }
        Request::Embed(request) => of_line(request, host, |line| {
            let blob = Blob::of(line, embed::only_camera(line)?)?;
            Ok(Answer::Embed(Box::new(blob.answer())))
        }),
        Request::Cell(points) => {
            let own = crate::cell_from_points::load(host.files, points)?;
            let fitted = cell_from_points::run(own, host)?;
            Ok(undoubted(Answer::Cell(Box::new(fitted.answer(None)))))
        }
    }
}

/// An answer about no line.
fn undoubted(answer: Answer) -> Answered {
    Answered {
        answer,
        doubts: Vec::new(),
    }
}

fn of_line(
    request: &LineRequest,
    host: &Host<'_>,
    answer: impl FnOnce(&Line) -> Result<Answer, Failure>,
) -> Result<Answered, Failure> {
    let asked = request.read(host)?;
    Ok(Answered {
        answer: answer(&asked.line)?,
        doubts: asked.doubts,
    })
}

fn sweep(request: &SweepRequest, host: &Host<'_>) -> Result<Answered, Failure> {
    let axes = parse_axes(&request.vary)?;
    let asked = request.line.read(host)?;
    let sweep = Sweep::new(asked.file, asked.line, axes, request.paths, host)?;
    Ok(Answered {
        answer: Answer::Sweep(Box::new(sweep.answer(host)?)),
        doubts: asked.doubts,
    })
}

#[cfg(test)]
mod tests {
    use overwinter_model::bench::{Duty, TemperatureProfile};
    use overwinter_model::{Current, Load, Temperature};

    use super::super::revisit::Risk;
    use super::*;
    use crate::host::InMemory;
    use crate::odds::Paths;

    const LINE: &str = include_str!("../../examples/gate.toml");

    const POINTS: &str = r#"
name = "shop"
like = "alkaline-aa"
[[point]]
quantity = "capacity_mAh"
current_ma = 100
cutoff_v = 0.9
value = 2050
source = "invented"
"#;

    fn line() -> LineRequest {
        LineRequest {
            path: "line.toml".into(),
            cameras: Vec::new(),
        }
    }

    #[test]
    fn every_request_is_answered_from_memory_by_its_own_answer() {
        let files = InMemory::default()
            .with("line.toml", LINE)
            .with("points.toml", POINTS);
        let host = Host::alone(&files);
        let paths = Paths { count: 16, seed: 1 };
        let requests = [
            Request::Forecast(ForecastRequest {
                line: line(),
                paths: Some(paths),
                by: Vec::new(),
                course: Some(12),
            }),
            Request::Compare(CompareRequest {
                line: line(),
                cells: vec!["lithium-aa".to_owned()],
                paths,
            }),
            Request::Sweep(SweepRequest {
                line: line(),
                vary: vec!["triggers_per_day=5,10".to_owned()],
                paths,
            }),
            Request::Check(CheckRequest {
                line: line(),
                paths,
            }),
            Request::Sun(SunRequest {
                line: line(),
                within_deg: 30.0,
            }),
            Request::Catalogue,
            Request::Settings(SettingsRequest {
                line: line(),
                paths,
            }),
            Request::Revisit(RevisitRequest {
                line: line(),
                paths,
                risk: Risk::parse("10%", paths).expect("a risk"),
            }),
            Request::Discharge(Box::new(DischargeRequest {
                cells: vec!["lithium-aa".to_owned()],
                duty: Duty::continuous(Load::Current(Current::from_amperes(0.25))),
                air: TemperatureProfile::constant(Temperature::from_celsius(0.0)),
                cut_off: None,
            })),
            Request::Embed(line()),
            Request::Cell("points.toml".into()),
        ];
        for request in &requests {
            let answered = answer(request, &host).unwrap_or_else(|why| panic!("{why}"));
            let same = match request {
                Request::Forecast(_) => matches!(answered.answer, Answer::Forecast(_)),
                Request::Compare(_) => matches!(answered.answer, Answer::Compare(_)),
                Request::Sweep(_) => matches!(answered.answer, Answer::Sweep(_)),
                Request::Check(_) => matches!(answered.answer, Answer::Check(_)),
                Request::Sun(_) => matches!(answered.answer, Answer::Sun(_)),
                Request::Catalogue => matches!(answered.answer, Answer::Catalogue(_)),
                Request::Settings(_) => matches!(answered.answer, Answer::Settings(_)),
                Request::Revisit(_) => matches!(answered.answer, Answer::Revisit(_)),
                Request::Discharge(_) => matches!(answered.answer, Answer::Discharge(_)),
                Request::Embed(_) => matches!(answered.answer, Answer::Embed(_)),
                Request::Cell(_) => matches!(answered.answer, Answer::Cell(_)),
                // It takes seconds: whole-program tests have it.
                Request::Solar(_) => false,
            };
            assert!(same, "{request:?}");
            let again = answer(request, &host).unwrap_or_else(|why| panic!("{why}"));
            assert_eq!(answered, again);
        }
    }

    #[test]
    fn a_line_that_is_not_there_is_refused() {
        let files = InMemory::default();
        let request = Request::Check(CheckRequest {
            line: line(),
            paths: Paths::USUAL,
        });
        let why = answer(&request, &Host::alone(&files)).expect_err("no file");
        assert!(why.to_string().contains("no such file"), "{why}");
    }
}
