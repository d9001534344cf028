//! Candidates for one camera, all through the same sampled seasons.

use crate::answer::ends::{night_ends, upload_ends};
use crate::host::{Host, Work};
use crate::line::{Camera, Line};
use crate::odds::{Ends, Kept, Lost, Odds, OddsError, Paths, sample};
use crate::run::SeasonAir;
use serde::Serialize;

/// What candidates are sampled with.
pub(super) struct Sampler<'a> {
    pub(super) line: &'a Line,
    pub(super) air: &'a SeasonAir,
    pub(super) paths: Paths,
    pub(super) host: &'a Host<'a>,
    pub(super) work: &'a Work<'a>,
}

impl Sampler<'_> {
    /// How each candidate fares on its own pack. Those of one name have the same luck and weather,
    /// together or apart.
    pub(super) fn sample(&self, cameras: &[Camera], by_day: bool) -> Result<Vec<Odds>, OddsError> {
        let all: Vec<usize> = (0..cameras.len()).collect();
        let kept = Kept {
            sun: by_day,
            charge: false,
            paths: false,
            cameras: &all,
        };
        let packs: Vec<_> = cameras
            .iter()
            .map(|camera| (camera, &camera.pack))
            .collect();
        let odds = sample(self.line, self.air, &packs, self.paths, kept, self.host)?;
        self.work.advance(cameras.len());
        Ok(odds.cameras)
    }

    /// Shares of the seasons in which `camera` lasts, by what is wanted of it.
    pub(super) fn lasting(&self, camera: &Camera, odds: &Odds) -> Lasting {
        let days = f64::from(self.line.season.days());
        let kept = |ends: &Ends| 1.0 - ends.ended_share(days);
        Lasting {
            alive: kept(&odds.lost[Lost::Camera]),
            never_empty: kept(&odds.lost[Lost::Store]),
            night_pictures: night_ends(camera, odds).map(kept),
            uploads: upload_ends(camera, odds).map(kept),
        }
    }
}

/// Shares of the sampled seasons, 0 to 1.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Lasting {
    /// Alive at the end, whatever it ran on.
    pub alive: f64,
    /// The store was never empty, nor the camera dead; a pack that is charged is its own store.
    pub never_empty: f64,
    /// Night pictures to the end; `None` for a camera without a flash.
    pub night_pictures: Option<f64>,
    /// Every upload and report to the end; `None` for a camera that sends none.
    pub uploads: Option<f64>,
}
