//! `forecast`: how long each camera runs and takes night pictures, along the expected path and over sampled seasons.

use time::Date;

use super::refused;
use crate::host::Host;
use crate::line::{Line, Season};
use crate::odds::{self as sampling, Kept, LineOdds, Paths, parts};
use crate::problem::Failure;
use crate::run::{CameraRun, SeasonAir, run_camera};

/// Sampled seasons of a line, and the dates that somebody asks about.
pub struct Sampled {
    /// What became of its cameras.
    pub odds: LineOdds,
    /// Which seasons.
    pub paths: Paths,
    /// Days at whose end the odds are wanted, within the season.
    pub by: Vec<Date>,
}

/// Runs every camera on its own cells.
///
/// # Errors
/// [`Failure::Request`] if a pack's numbers of cells are out of range.
pub fn run(line: &Line) -> Result<Vec<CameraRun>, Failure> {
    let air = SeasonAir::new(line);
    let runs = line.cameras.iter();
    runs.map(|camera| run_camera(line, &air, camera, &camera.pack).map_err(refused))
        .collect()
}

/// Samples so many seasons of the line on its own cells, and keeps what is asked for.
///
/// # Errors
/// [`Failure::Request`] if a date in `by` lies outside the season, or no paths can be drawn.
pub fn sample(
    line: &Line,
    paths: Paths,
    by: Vec<Date>,
    kept: Kept<'_>,
    host: &Host<'_>,
) -> Result<Sampled, Failure> {
    let Season { start, end } = line.season;
    if let Some(outside) = by.iter().find(|date| !(start..=end).contains(*date)) {
        return Err(Failure::request(
            format!("--by {outside} is not within the season"),
            format!("expected a date from {start} to {end}"),
        ));
    }
    let cameras: Vec<_> = line.cameras.iter().map(|c| (c, &c.pack)).collect();
    let _work = host.begin(Some(parts(cameras.len(), paths)), "parts of the seasons");
    let air = SeasonAir::new(line);
    let odds = sampling::sample(line, &air, &cameras, paths, kept, host).map_err(refused)?;
    Ok(Sampled { odds, paths, by })
}
