//! Forecasts as they are laid out; `plot/tests.rs` looks at whether they fit.

use overwinter_line::odds::Kept;
use overwinter_line::odds::{Paths, sample};
use overwinter_line::run::{SeasonAir, run_camera};
use overwinter_model::Time;
use overwinter_model::season::Cause;

use super::super::tests::{LINE_HEAD, SEASON, load, says, texts};
use super::*;
use crate::host::host;

/// A line of cameras given by name, kind, cell and triggers a day, run to its end.
fn run_line(
    [start, end]: [&str; 2],
    cameras: &[(String, &str, &str, u32)],
) -> (Line, Vec<CameraRun>) {
    let mut text = LINE_HEAD.replace("START", start).replace("END", end);
    for (name, kind, cell, triggers) in cameras {
        text += &format!(
            "[[camera]]\nname = \"{name}\"\ndraw.kind = \"{kind}\"\npack.cell = \"{cell}\"\n\
             activity.triggers_per_day = {triggers}\n"
        );
    }
    let line = load(&text);
    let air = SeasonAir::new(&line);
    let runs = line.cameras.iter();
    let runs = runs
        .map(|camera| run_camera(&line, &air, camera, &camera.pack).expect("a pack"))
        .collect();
    (line, runs)
}

/// One that loses its night pictures and dies soon after, one that fails from the first day, and
/// one that runs to the end.
pub(in super::super) fn three_cameras(season: [&str; 2]) -> Picture {
    let (line, runs) = three_runs(season);
    forecast(&line, &runs, None)
}

/// The same over sampled paths.
pub(in super::super) fn three_sampled(season: [&str; 2]) -> Picture {
    let (line, runs) = three_runs(season);
    forecast(&line, &runs, Some(&odds_of(&line)))
}

fn odds_of(line: &Line) -> LineOdds {
    let cameras: Vec<_> = line.cameras.iter().map(|c| (c, &c.pack)).collect();
    let all: Vec<usize> = (0..cameras.len()).collect();
    sampled(line, &all)
}

/// Sampled seasons with what is kept by the day of some cameras.
fn sampled(line: &Line, kept: &[usize]) -> LineOdds {
    let cameras: Vec<_> = line.cameras.iter().map(|c| (c, &c.pack)).collect();
    let paths = Paths { count: 64, seed: 1 };
    let kept = Kept {
        charge: true,
        sun: true,
        cameras: kept,
    };
    sample(line, &SeasonAir::new(line), &cameras, paths, kept, &host()).expect("odds")
}

fn three_runs(season: [&str; 2]) -> (Line, Vec<CameraRun>) {
    run_line(
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
    let (line, runs) = three_runs(SEASON);
    let picture = forecast(&line, &runs, None);
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
    let ended = |ended: fn(&CameraRun) -> bool| runs.iter().filter(|run| ended(run)).count();
    let lost = ended(|run| run.outcome.night_pictures_lost.is_some());
    let dead = ended(|run| run.outcome.dead.is_some());
    assert!(lost > 0 && dead > 0, "{lost} {dead}");
    assert_eq!(starts("night pictures lost "), lost);
    assert_eq!(starts("dead "), dead);
}

#[test]
fn sampled_paths_tell_the_same_dates_as_their_odds() {
    let (line, runs) = three_runs(SEASON);
    let odds = odds_of(&line);
    let picture = forecast(&line, &runs, Some(&odds));
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
    let causes: Vec<Cause> = runs
        .iter()
        .filter_map(|run| Some(run.outcome.dead.as_ref()?.cause))
        .collect();
    let empty = |cause: &&Cause| **cause == Cause::WeakestCellEmpty;
    let emptied = causes.iter().filter(empty).count();
    let starting = |start: &str| dates.iter().filter(|text| text.starts_with(start)).count();
    assert_eq!(starting("weakest cell empty"), emptied);
    assert_eq!(starting("voltage too low at "), causes.len() - emptied);
    for camera in &odds.cameras {
        for days in [0.1, 0.5].map(|share| camera.dead.days_at(share)) {
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
    let line = load(&text);
    let air = SeasonAir::new(&line);
    let runs = line.cameras.iter();
    let runs: Vec<_> = runs
        .map(|camera| run_camera(&line, &air, camera, &camera.pack).expect("a pack"))
        .collect();
    forecast(&line, &runs, Some(&odds_of(&line)))
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
    let (line, runs) = run_line(SEASON, &cameras);
    let odds = sampled(&line, &drawn(&runs));
    // Those that are drawn have their charge by the day, wherever they stand in the file.
    let has_charge = |number: usize| odds.cameras[number].charge.at(0, 0.5).is_some();
    assert_eq!(
        drawn(&runs).into_iter().filter(|&n| has_charge(n)).count(),
        12
    );
    assert!((0..3).all(|number| !has_charge(number)));
    let many = forecast(&line, &runs, Some(&odds));
    assert!(says(&many, "camera 14") && !says(&many, "camera 2"));
    let picture = forecast(&line, &runs, None);
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
