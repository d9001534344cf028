//! The season of each camera over the dates: along the expected path, or over sampled ones.

mod air;
mod ends;
mod expected;
mod panel;
mod sampled;
mod shape;
#[cfg(test)]
pub(super) mod tests;

use overwinter_model::season::{End, Outcome};

use super::picture::{Align, EDGE, LINE, Picture, TITLE, Text, WIDTH};
use super::{MOST_CAMERAS, labels};
use overwinter_line::line::{Line, PackChoice};
use overwinter_line::odds::LineOdds;
use overwinter_line::run::CameraRun;
use overwinter_line::words;

/// Between two panels.
const GAP: i32 = 44;

/// The course of a line's season, and below it the temperature of the air.
///
/// With `odds`, sampled with the charge left by day: for each camera the charge left, the expected
/// path within the middle eight tenths of the paths; and the share of the paths in which it is
/// alive and takes night pictures. Without: for each camera the charge left and the lowest voltage
/// of each day on the expected path, with its limits and its ends.
///
/// `runs` and `odds` belong to the line's cameras in their order. Of more than twelve cameras those
/// are drawn that end first on the expected path.
#[must_use]
pub fn forecast(line: &Line, runs: &[CameraRun], odds: Option<&LineOdds>) -> Picture {
    let mut picture = Picture::new();
    let drawn = drawn(runs);
    header(&mut picture, line, drawn.len(), runs.len());
    let cameras = drawn.iter().filter_map(|&number| {
        let camera = line.cameras.get(number)?;
        Some((number, camera, runs.get(number)?))
    });
    if let Some(odds) = odds {
        let seen = cameras.filter_map(|(number, camera, run)| {
            let odds = odds.cameras.get(number)?;
            Some(sampled::Seen { camera, run, odds })
        });
        sampled::draw(&mut picture, line, &seen.collect::<Vec<_>>());
    } else {
        let shown: Vec<_> = cameras.map(|(_, camera, run)| (camera, run)).collect();
        expected::draw(&mut picture, line, &shown);
    }
    picture
}

/// Numbers of the cameras that [`forecast`] draws: all in their order, or of too many those that end first,
/// in the order in which they end.
#[must_use]
pub fn drawn(runs: &[CameraRun]) -> Vec<usize> {
    let mut cameras: Vec<usize> = (0..runs.len()).collect();
    if cameras.len() > MOST_CAMERAS {
        cameras.sort_by(|&a, &b| {
            let (a, b) = (end_days(&runs[a].outcome), end_days(&runs[b].outcome));
            a.partial_cmp(&b).unwrap_or(std::cmp::Ordering::Equal)
        });
        cameras.truncate(MOST_CAMERAS);
    }
    cameras
}

/// When a camera is dead, else when it first fails in something, else never.
fn end_days(outcome: &Outcome) -> [f64; 2] {
    let days = |end: Option<End>| end.map_or(f64::INFINITY, |end| end.after.as_days());
    let night = days(outcome.night_pictures_lost);
    [days(outcome.dead), night.min(days(outcome.uploads_failed))]
}

fn header(picture: &mut Picture, line: &Line, shown: usize, all: usize) {
    let y = EDGE + TITLE / 2;
    let site = Text::title((EDGE, y), line.site.as_str());
    picture.text(site.within(WIDTH - 2 * EDGE));
    let season = &line.season;
    let mut dates = format!(
        "{} to {}",
        words::date(season.start),
        words::date(season.end)
    );
    if shown < all {
        dates += &format!("; the {shown} of {all} cameras that end first");
    }
    picture.text(Text::new((EDGE, y + LINE), dates, Align::Left));
    picture.height = y + 2 * LINE;
}

/// `8 × alkaline-aa`, with the strings where there are several.
fn cells(pack: &PackChoice) -> String {
    match pack.parallel {
        1 => format!("{} × {}", pack.series, pack.cell.name),
        n => format!("{n} × {} × {}", pack.series, pack.cell.name),
    }
}
