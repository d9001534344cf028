//! Why no size of the map does.

use overwinter_model::season::{End, Ending};
use serde::Serialize;

use super::map::{Map, Point};
use super::sampler::{Lasting, Sampler};
use super::weeks;
use crate::line::Camera;
use crate::odds::OddsError;
use crate::run::run_camera;

/// The best size where none does, and what its worst weeks look like.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Shortfall {
    /// The smallest of those with the best odds.
    pub best: Point,
    /// What its panel offers in the worst weeks, watt-hours.
    pub offered_wh: f64,
    /// Of that, not taken because what is charged is too cold or too warm, or it comes too fast.
    pub kept_out_wh: f64,
    /// Of that, not taken for want of room.
    pub spilled_wh: f64,
    /// What went into it to stay.
    pub stored_wh: f64,
    /// What the camera draws in these weeks.
    pub drawn_wh: f64,
    /// How the camera ends in the mean season, if it does.
    pub dead: Option<End>,
}

/// What the worst weeks lack.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Cause {
    /// The camera is dead on its first day in every season, so that nothing is drawn of anything.
    NeverRuns,
    /// Less light is offered than the camera draws.
    Dark,
    /// Less of it is let in than the camera draws.
    KeptOut,
    /// There is enough on the whole, at other times.
    Room,
}

impl Shortfall {
    /// Looks at the best by `share`.
    pub(super) fn of(
        sampler: &Sampler<'_>,
        camera: &Camera,
        map: &Map,
        share: fn(&Lasting) -> f64,
    ) -> Result<Option<Self>, OddsError> {
        let Some(best) = map.best(share) else {
            return Ok(None);
        };
        let camera = best.size.put_on(camera);
        let odds = sampler.sample(std::slice::from_ref(&camera), true)?;
        let mean_season = run_camera(sampler.line, sampler.air, &camera, &camera.pack)?;
        let weeks = odds
            .first()
            .map(|odds| weeks::weeks(sampler.line, odds))
            .unwrap_or_default();
        let worst = weeks::worst(&weeks);
        let sum = |wh: fn(&weeks::Week) -> f64| {
            let worst = worst.iter().filter_map(|place| weeks.get(*place));
            worst.map(wh).sum()
        };
        Ok(Some(Self {
            best,
            offered_wh: sum(|week| week.mean.offered_wh),
            kept_out_wh: sum(|week| week.mean.kept_out_wh),
            spilled_wh: sum(|week| week.mean.spilled_wh),
            stored_wh: sum(|week| week.mean.stored_wh),
            drawn_wh: sum(|week| week.mean.drawn_wh),
            dead: mean_season.outcome.ends[Ending::Camera],
        }))
    }

    /// What is missing.
    #[must_use]
    pub fn cause(&self) -> Cause {
        if self.drawn_wh <= 0.0 {
            return Cause::NeverRuns;
        }
        let taken_wh = self.offered_wh - self.kept_out_wh;
        let charged_wh = taken_wh - self.spilled_wh;
        // What charging leaves of what is taken.
        let left = if charged_wh > 0.0 {
            self.stored_wh / charged_wh
        } else {
            1.0
        };
        if self.offered_wh * left < self.drawn_wh {
            Cause::Dark
        } else if taken_wh * left < self.drawn_wh {
            Cause::KeptOut
        } else {
            Cause::Room
        }
    }
}
