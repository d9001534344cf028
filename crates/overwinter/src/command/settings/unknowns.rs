//! Which of the things that nobody knows beforehand matters most to a camera.

use overwinter_model::pack::PackError;

use super::descending;
use super::measure::{Ends, ends_of};
use crate::line::{Camera, Line, PackChoice};
use crate::run::{CameraRun, SeasonAir, run_camera};

/// One standard deviation of each input: common practice, no source.
mod deviation {
    /// Of the logarithm of the rate of triggers: a factor of 1.65 either way.
    pub(super) const TRIGGERS_LN: f64 = 0.5;
    /// Of a season's mean temperature, kelvin.
    pub(super) const AIR_K: f64 = 1.5;
    /// Of the camera's draw, relative.
    pub(super) const DRAW: f64 = 0.10;
}

/// Something about a camera that is not known beforehand.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Input {
    /// How often something passes.
    Triggers,
    /// How cold the season gets.
    Air,
    /// What the camera takes.
    Draw,
    /// How good this set of cells is, among sets of its kind.
    Cells,
    /// How good cells of this kind are in a cold or under a load that no published point reaches.
    CellsBeyondPoints,
}

/// One input at a standard deviation down and up, and what that does.
#[derive(Clone, Debug, PartialEq)]
pub struct Unknown {
    /// Which.
    pub input: Input,
    /// The two values, for a person.
    pub values: [String; 2],
    /// What comes of each on the expected path.
    pub ends: [Ends; 2],
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
    let draw = |by: f64| run(air, &camera.with_draw_times(1.0 + by), &camera.pack);
    let cells = |by: f64| run(air, camera, &camera.pack.with_cells_times(1.0 + by));

    let mut unknowns = vec![
        Unknown {
            input: Input::Triggers,
            values: [-1.0, 1.0]
                .map(|sign: f64| format!("{:.0} %", 100.0 * (sign * deviation::TRIGGERS_LN).exp())),
            ends: both(deviation::TRIGGERS_LN, triggers)?,
        },
        Unknown {
            input: Input::Air,
            values: [-deviation::AIR_K, deviation::AIR_K].map(|kelvin| format!("{kelvin:+} °C")),
            ends: both(deviation::AIR_K, warmer)?,
        },
        Unknown {
            input: Input::Draw,
            values: percents(deviation::DRAW),
            ends: both(deviation::DRAW, draw)?,
        },
    ];
    let cell = &camera.pack.cell.cell;
    unknowns.push(Unknown {
        input: Input::Cells,
        values: percents(cell.spread),
        ends: both(cell.spread, cells)?,
    });
    let asked = now.outcome.asked.as_ref();
    if asked.is_some_and(|asked| cell.tested.doubts(asked).next().is_some()) {
        unknowns.push(Unknown {
            input: Input::CellsBeyondPoints,
            values: percents(cell.cold_uncertainty),
            ends: both(cell.cold_uncertainty, cells)?,
        });
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

fn percents(share: f64) -> [String; 2] {
    [1.0 - share, 1.0 + share].map(|share| format!("{:.0} %", 100.0 * share))
}
