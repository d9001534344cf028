//! Forecasts as they are laid out; `plot/tests.rs` looks at whether they fit.

use overwinter_line::answer::forecast::{CameraCourse, ForecastRequest, answer};
use overwinter_line::answer::request::LineRequest;
use overwinter_line::line::Line;
use overwinter_line::odds::Paths;
use overwinter_model::Time;
use overwinter_model::season::{Cause, Ending, Outcome};

use super::super::MOST_CAMERAS;
use super::super::tests::{LINE_HEAD, SEASON, load, says, texts};
use super::*;
use crate::host::host;

/// A line of cameras given by name, kind, cell and triggers a day.
fn line_of([start, end]: [&str; 2], cameras: &[(String, &str, &str, u32)]) -> Line {
    let mut text = LINE_HEAD.replace("START", start).replace("END", end);
    for (name, kind, cell, triggers) in cameras {
        text += &format!(
            "[[camera]]\nname = \"{name}\"\ndraw.kind = \"{kind}\"\npack.cell = \"{cell}\"\n\
             activity.triggers_per_day = {triggers}\n"
        );
    }
    load(&text)
}

/// The line's forecast: along the path, or over sampled seasons.
fn forecast_of(line: &Line, sampled: bool) -> Forecast {
    let request = ForecastRequest {
        line: LineRequest {
            path: line.path.clone(),
            cameras: Vec::new(),
        },
        paths: sampled.then_some(Paths { count: 64, seed: 1 }),
        by: Vec::new(),
        course: Some(MOST_CAMERAS),
    };
    answer(line, &request, &host()).expect("a forecast")
}

fn course_of(forecast: &Forecast) -> &Course {
    forecast.course.as_ref().expect("the days were asked for")
}

fn drawn(answer: &Forecast) -> Picture {
    forecast(answer, course_of(answer))
}

fn outcomes(answer: &Forecast) -> Vec<&Outcome> {
    let cameras = answer.details.cameras.iter();
    cameras.map(|camera| &camera.outcome).collect()
}

/// One that loses its night pictures and dies soon after, one that fails from the first day, and
/// one that runs to the end.
pub(in super::super) fn three_cameras(season: [&str; 2]) -> Picture {
    drawn(&forecast_of(&three(season), false))
}

/// The same over sampled seasons.
pub(in super::super) fn three_sampled(season: [&str; 2]) -> Picture {
    drawn(&forecast_of(&three(season), true))
}

fn three(season: [&str; 2]) -> Line {
    line_of(
        season,
        &[
            (
                "ridge <north> & south".to_owned(),
                "stills-cat1",
                "nimh-aa",
                40,
            ),
            ("ford".to_owned(), "stills", "alkaline-aa", 30),
            ("old mill".to_owned(), "stills", "nimh-aa", 5),
        ],
    )
}

#[test]
fn a_forecast_names_its_cameras_axes_and_ends() {
    let answer = forecast_of(&three(SEASON), false);
    let picture = drawn(&answer);
    for what in [
        "Upper creek",
        "1 Nov 2026 to 31 Mar 2027",
        "ridge <north> & south",
        "ford",
        "old mill",
        "8 × nimh-aa",
        "charge left, %",
        "lowest voltage, V",
        "air, °C",
        "daily mean",
        "flash 8.0",
        "upload 7.6",
        "cut-off 7.2",
        "Nov",
        "Mar",
        "2026",
        "2027",
        "runs to the end",
    ] {
        assert!(says(&picture, what), "{what}");
    }
    let starts = |start: &str| {
        let texts = texts(&picture);
        texts
            .iter()
            .filter(|text| text.text.starts_with(start))
            .count()
    };
    let outcomes = outcomes(&answer);
    let ended = |ended: fn(&Outcome) -> bool| outcomes.iter().filter(|one| ended(one)).count();
    let lost = ended(|outcome| outcome.ends[Ending::NightPictures].is_some());
    let dead = ended(|outcome| outcome.ends[Ending::Camera].is_some());
    assert!(lost > 0 && dead > 0, "{lost} {dead}");
    assert_eq!(starts("night pictures lost "), lost);
    assert_eq!(starts("dead "), dead);
}

#[test]
fn sampled_paths_tell_the_same_dates_as_their_odds() {
    let line = three(SEASON);
    let answer = forecast_of(&line, true);
    let picture = drawn(&answer);
    for what in [
        "old mill",
        "8 × nimh-aa",
        "charge left, %",
        "still working, % of seasons",
        "8 of 10 seasons",
        "median",
        "air, °C",
        "daily mean",
        "uploads",
        "in 90 %",
        "in 50 %",
    ] {
        assert!(says(&picture, what), "{what}");
    }
    let count = |what: &str| texts(&picture).iter().filter(|t| t.text == what).count();
    assert_eq!((count("alive"), count("night pictures")), (3, 3));
    // One camera lives through every path, one loses its night pictures at once.
    let dates = texts(&picture);
    let dates: Vec<&str> = dates.iter().map(|text| text.text.as_str()).collect();
    assert!(
        dates.contains(&"the end") && dates.contains(&"no day"),
        "{dates:?}"
    );
    let causes: Vec<Cause> = outcomes(&answer)
        .iter()
        .filter_map(|outcome| Some(outcome.ends[Ending::Camera].as_ref()?.cause))
        .collect();
    let empty = |cause: &&Cause| **cause == Cause::WeakestCellEmpty;
    let emptied = causes.iter().filter(empty).count();
    let starting = |start: &str| dates.iter().filter(|text| text.starts_with(start)).count();
    assert_eq!(starting("weakest cell empty"), emptied);
    assert_eq!(starting("voltage too low at "), causes.len() - emptied);
    for camera in &answer.document.cameras {
        let days = camera.odds.as_ref().expect("sampled seasons").days;
        for days in [days.p10, days.p50] {
            if let Some(days) = days.filter(|days| *days >= 1.0) {
                let last = line.season.date(Time::from_days(days - 1.0));
                assert!(says(&picture, &words::day_of_year(last)), "{last}");
            }
        }
    }
}

/// A camera whose panel has a store, and one whose panel charges its pack.
pub(in super::super) fn two_panels([start, end]: [&str; 2]) -> Picture {
    let mut text = LINE_HEAD.replace("START", start).replace("END", end);
    text += "[panel]\nwatts = 2\n[[camera]]\nname = \"saddle\"\nfacing_deg = 10\n\
             pack.cell = \"lithium-aa\"\nactivity.triggers_per_day = 9\n\
             panel.store_wh = 12.5\npanel.store_cell = \"lfp-18650\"\n\
             [[camera]]\nname = \"ford\"\nfacing_deg = 20\n\
             pack.cell = \"nimh-aa\"\nactivity.triggers_per_day = 9\n";
    drawn(&forecast_of(&load(&text), true))
}

#[test]
fn a_store_stands_beside_its_pack() {
    let picture = two_panels(SEASON);
    for what in [
        "8 × lithium-aa, store of 12.5 Wh",
        "8 × nimh-aa",
        "panel's store, mean of all seasons",
    ] {
        assert!(says(&picture, what), "{what}");
    }
    assert!(!says(
        &three_sampled(SEASON),
        "panel's store, mean of all seasons"
    ));
}

#[test]
fn dates_are_labelled_by_the_length_of_the_season() {
    let labels = |end: &str, labels: &[&str]| {
        let picture = three_cameras(["2026-12-24", end]);
        labels.iter().all(|label| says(&picture, label))
    };
    assert!(labels(
        "2026-12-28",
        &["24 Dec", "25 Dec", "28 Dec", "2026"]
    ));
    assert!(labels(
        "2027-01-20",
        &["24 Dec", "31 Dec", "14 Jan", "2026", "2027"]
    ));
    assert!(labels("2027-06-30", &["Jan", "Feb", "Jun", "2027"]));
    assert!(labels(
        "2029-12-31",
        &["Jan", "Jul", "2027", "2028", "2029"]
    ));
}

#[test]
fn of_many_cameras_the_first_to_end_are_drawn() {
    let cameras: Vec<_> = (0..15)
        .map(|place| {
            (
                format!("camera {place}"),
                "stills-cat1",
                "nimh-aa",
                20 + place,
            )
        })
        .collect();
    let line = line_of(SEASON, &cameras);
    let sampled = forecast_of(&line, true);
    // Those that are drawn have their charge by the day, wherever they stand in the file.
    let cameras = &course_of(&sampled).cameras;
    let has_charge = |camera: &CameraCourse| camera.sampled.as_ref().map(|one| one.charge.len());
    assert_eq!(cameras.len(), MOST_CAMERAS);
    assert!(cameras.iter().all(|camera| has_charge(camera) == Some(151)));
    let many = drawn(&sampled);
    assert!(says(&many, "camera 14") && !says(&many, "camera 2"));
    let picture = drawn(&forecast_of(&line, false));
    assert!(says(
        &picture,
        "1 Nov 2026 to 31 Mar 2027; the 12 of 15 cameras that end first"
    ));
    // The more triggers, the sooner it ends.
    for place in 0..15 {
        assert_eq!(
            says(&picture, &format!("camera {place}")),
            place >= 3,
            "{place}"
        );
    }
}
