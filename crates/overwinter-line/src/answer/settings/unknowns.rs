//! Which of the things that nobody knows beforehand matters most to a camera.

use overwinter_model::cell::BeyondPoints;
use overwinter_model::pack::PackError;
use serde::Serialize;

use super::descending;
use super::measure::{Ends, ends_of};
use crate::line::{Camera, Line, PackChoice};
use crate::run::{CameraRun, SeasonAir, run_camera};
use overwinter_model::paths::POWER_SD_LN;

/// Something about a camera that is not known beforehand.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Input {
    /// How often something passes.
    Triggers,
    /// How cold the season gets.
    Air,
    /// What the camera takes.
    Draw,
    /// Which make of its kind was bought.
    Cells,
    /// How good cells of this kind are in a cold or under a load that no published point reaches.
    CellsBeyondPoints,
}

/// One input at a standard deviation down and up, and what that does.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Unknown {
    /// Which.
    pub(super) input: Input,
    /// The two values, for a person.
    pub(super) values: [String; 2],
    /// What comes of each on the expected path.
    pub(super) ends: [Ends; 2],
}

impl Unknown {
    /// How far apart the two ends lie: alive, without a loss, and in charge left.
    fn span(&self) -> [f64; 3] {
        let [low, high] = &self.ends;
        let apart = |of: fn(&Ends) -> f64| (of(low) - of(high)).abs();
        [
            apart(|ends| ends.alive_days),
            apart(|ends| ends.all_kept_days),
            apart(|ends| ends.charge_left),
        ]
    }
}

/// The unknowns of a camera, the one that moves its days most first.
///
/// # Errors
/// [`PackError`] if the pack's numbers of cells are out of range.
pub(super) fn unknowns(
    line: &Line,
    air: &SeasonAir,
    camera: &Camera,
    now: &CameraRun,
) -> Result<Vec<Unknown>, PackError> {
    let run = |air: &SeasonAir, camera: &Camera, pack: &PackChoice| {
        run_camera(line, air, camera, pack).map(|run| ends_of(&run.outcome))
    };
    let triggers = |by: f64| run(air, &camera.with_triggers_times(by.exp()), &camera.pack);
    let warmer = |by: f64| run(&air.warmer(by), camera, &camera.pack);
    let draw = |by: f64| run(air, &camera.with_draw_times(by.exp()), &camera.pack);
    let cells = |by: f64| run(air, camera, &camera.pack.with_cells_times(by.exp()));

    let rate_sd = camera.activity.counts().rate_sd_ln;
    let air_sd = season_sd_k(line);
    let mut unknowns = vec![
        Unknown {
            input: Input::Triggers,
            values: [-rate_sd, rate_sd].map(|by| percent(by.exp())),
            ends: both(rate_sd, triggers)?,
        },
        Unknown {
            input: Input::Draw,
            values: [-POWER_SD_LN, POWER_SD_LN].map(|by| percent(by.exp())),
            ends: both(POWER_SD_LN, draw)?,
        },
    ];
    // Replayed hours leave nothing open.
    if air_sd > 0.0 {
        unknowns.push(Unknown {
            input: Input::Air,
            values: [-air_sd, air_sd].map(|kelvin| format!("{kelvin:+.1} °C")),
            ends: both(air_sd, warmer)?,
        });
    }
    let cell = &camera.pack.cell.cell;
    let makes_sd = cell.makes.capacity.hypot(cell.makes.resistance);
    let cells_sd = makes_sd.hypot(cell.spread);
    unknowns.push(Unknown {
        input: Input::Cells,
        values: [-cells_sd, cells_sd].map(|by| percent(by.exp())),
        ends: both(cells_sd, cells)?,
    });
    if let Some(asked) = &now.outcome.asked {
        let BeyondPoints { resistance, reach } = cell.beyond(asked);
        let beyond_sd = resistance.hypot(reach);
        if beyond_sd > 0.0 {
            unknowns.push(Unknown {
                input: Input::CellsBeyondPoints,
                values: [-beyond_sd, beyond_sd].map(|by| percent(by.exp())),
                ends: both(beyond_sd, cells)?,
            });
        }
    }
    unknowns.sort_by(|a, b| descending(&a.span(), &b.span()));
    Ok(unknowns)
}

/// What comes of an input at its deviation below and above.
fn both(
    deviation: f64,
    run: impl Fn(f64) -> Result<Ends, PackError>,
) -> Result<[Ends; 2], PackError> {
    Ok([run(-deviation)?, run(deviation)?])
}

fn percent(share: f64) -> String {
    format!("{:.0} %", 100.0 * share)
}

/// How far a season's mean temperature strays from the normals, one standard deviation in kelvin:
/// the offset of a whole season and the mean of its days' own anomalies.
///
/// ```text
/// sd² = sd_season² + Σ σ² (1 + ρ) / (1 − ρ) / n²
/// ```
///
/// over the `n` days with their anomaly's deviation `σ` and persistence `ρ` (the mean of a first-order
/// autoregression longer than its memory; textbooks, from memory).
fn season_sd_k(line: &Line) -> f64 {
    let spread = line.climate.spread();
    let first = line.season.first_day();
    let days = f64::from(line.season.days());
    let of_day = |day| {
        let month = spread.months().get(first.plus(day).month_index());
        month.map_or(0.0, |month| {
            let kept = month.temperature_lag1;
            month.temperature_sd_k.powi(2) * (1.0 + kept) / (1.0 - kept)
        })
    };
    let anomalies: f64 = (0..line.season.days()).map(of_day).sum();
    (spread.winters_sd_k().powi(2) + anomalies / (days * days)).sqrt()
}
