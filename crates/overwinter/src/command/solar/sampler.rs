//! Candidates for one camera, all through the same sampled seasons.

use crate::line::{Camera, Line};
use crate::odds::{Entrant, Kept, Odds, OddsError, Paths, sample_entrants};
use crate::progress::Progress;
use crate::run::SeasonAir;

/// What candidates are sampled with.
pub(super) struct Sampler<'a> {
    pub(super) line: &'a Line,
    pub(super) air: &'a SeasonAir,
    pub(super) paths: Paths,
    pub(super) progress: &'a Progress,
}

impl Sampler<'_> {
    /// How each candidate fares on its own pack. Those of one name have the same luck and weather,
    /// together or apart.
    pub(super) fn sample(&self, cameras: &[Camera], by_day: bool) -> Result<Vec<Odds>, OddsError> {
        let entrants = cameras
            .iter()
            .map(|camera| Entrant::new(self.line, self.air, camera, &camera.pack))
            .collect::<Result<Vec<_>, _>>()?;
        let kept = Kept {
            sun: by_day,
            charge: false,
        };
        let odds = sample_entrants(self.line, self.air, &entrants, self.paths, kept, &|| ())?;
        self.progress.advance(cameras.len());
        Ok(odds.cameras)
    }

    /// Shares of the seasons in which a camera is alive at the end, and in which the panel alone ran
    /// it.
    pub(super) fn lasting(&self, odds: &Odds) -> Lasting {
        let days = f64::from(self.line.season.days());
        Lasting {
            alive: 1.0 - odds.dead.ended_share(days),
            never_empty: 1.0 - odds.store_empty.ended_share(days),
        }
    }
}

/// Shares of the sampled seasons, 0 to 1.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lasting {
    /// Alive at the end, whatever it ran on.
    pub alive: f64,
    /// The store was never empty, nor the camera dead; a pack that is charged is its own store.
    pub never_empty: f64,
}
