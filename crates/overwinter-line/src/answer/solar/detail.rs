//! One size looked at closely: the worst weeks, what becomes of the light, and its place.

use overwinter_model::Time;
use overwinter_model::season::Ending;
use serde::Serialize;
use time::{Date, Duration};

use super::sampler::Sampler;
use super::siting::Siting;
use super::size::Size;
use super::weeks::{self, Week};
use super::{Answer, Lasting, Shortfall};
use crate::line::{Camera, Line, Season};
use crate::odds::{OddsError, PanelMean, SunDays};
use crate::run::{SeasonAir, run_camera};

/// Why a size is looked at.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub enum Why {
    /// It is the file's own.
    Own,
    /// It is the smallest that carries the camera on the panel alone.
    PanelAlone,
    /// It is the smallest with the odds asked for.
    Smallest,
    /// It has the best odds of a map in which none does.
    Best,
}

/// A size looked at closely.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Detail {
    /// Why this one.
    pub why: Why,
    /// How big.
    pub size: Size,
    /// How long it lasts.
    pub lasting: Lasting,
    /// What becomes of the light over the season.
    pub light: PanelMean,
    /// The season day by day.
    pub sun: SunDays,
    /// The same by weeks.
    pub weeks: Vec<Week>,
    /// Places of the worst among them.
    pub worst: Vec<usize>,
    /// How long it lasts without sun at that time of year.
    pub without_sun: WithoutSun,
    /// Trees and turns.
    pub siting: Siting,
}

/// How long a full store or pack lasts without any sun.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub enum WithoutSun {
    /// So many days.
    Days(f64),
    /// To the season's end, which is so many days off.
    ToSeasonsEnd(f64),
    /// The camera is dead on its first day in every season, with sun or without.
    NeverRuns,
}

impl Detail {
    /// Looks at the size that says most of a camera.
    pub(super) fn new(
        sampler: &Sampler<'_>,
        camera: &Camera,
        own: Option<Size>,
        answer: &Answer,
        shortfall: Option<&Shortfall>,
    ) -> Result<Option<Self>, OddsError> {
        let own = own.map(|size| (Why::Own, size));
        let panel_alone = answer
            .panel_alone
            .map(|point| (Why::PanelAlone, point.size));
        let best = shortfall.map(|short| (Why::Best, short.best.size));
        let smallest = answer.smallest.map(|point| (Why::Smallest, point.size));
        match own.or(panel_alone).or(best).or(smallest) {
            Some((why, size)) => Self::at(sampler, camera, why, size),
            None => Ok(None),
        }
    }

    /// The first of the darkest days.
    #[must_use]
    pub fn dark_from(&self) -> Option<Date> {
        let start = self.weeks.first()?.start;
        // A season is at most 1200 days long.
        Some(start + Duration::days(self.siting.dark.start as i64))
    }

    /// What the panel is offered in them, watt-hours: by the seasons that its weeks are from, or by what
    /// is expected where in none of them the camera lives so long.
    #[must_use]
    pub fn dark_offered_wh(&self) -> f64 {
        let dark = &self.siting.dark;
        let sampled_wh = self.sun.mean(dark.start, dark.end).offered_wh;
        if sampled_wh > 0.0 {
            sampled_wh
        } else {
            self.siting.own_wh
        }
    }

    fn at(
        sampler: &Sampler<'_>,
        camera: &Camera,
        why: Why,
        size: Size,
    ) -> Result<Option<Self>, OddsError> {
        let camera = size.put_on(camera);
        let odds = sampler.sample(std::slice::from_ref(&camera), true)?;
        let (Some(odds), Some(panel)) = (odds.first(), &camera.panel) else {
            return Ok(None);
        };
        let lasting = sampler.lasting(&camera, odds);
        let weeks = weeks::weeks(sampler.line, odds);
        let worst = weeks::worst(&weeks);
        Ok(Some(Self {
            why,
            size,
            lasting,
            light: odds.mean.panel,
            sun: odds.sun.clone(),
            without_sun: without_sun(sampler.line, &camera, size, &weeks, &worst)?,
            siting: Siting::new(sampler, &camera, panel, lasting)?,
            weeks,
            worst,
        }))
    }
}

/// From the first of the worst weeks on. A store holds so much, and the camera draws so much of it; a
/// pack's voltage decides, along the expected path.
fn without_sun(
    line: &Line,
    camera: &Camera,
    size: Size,
    weeks: &[Week],
    worst: &[usize],
) -> Result<WithoutSun, OddsError> {
    let worst: Vec<&Week> = worst.iter().filter_map(|place| weeks.get(*place)).collect();
    let drawn_wh: f64 = worst.iter().map(|week| week.mean.drawn_wh).sum();
    if drawn_wh <= 0.0 {
        return Ok(WithoutSun::NeverRuns);
    }
    if size.store.strings.is_none() {
        let days: usize = worst.iter().map(|week| week.days).sum();
        return Ok(WithoutSun::Days(size.store.wh * days as f64 / drawn_wh));
    }
    let start = worst.first().map_or(line.season.start, |week| week.start);
    let rest = Line {
        season: Season {
            start,
            end: line.season.end,
        },
        ..line.clone()
    };
    let dark = Camera {
        panel: None,
        ..camera.clone()
    };
    let outcome = run_camera(&rest, &SeasonAir::new(&rest), &dark, &dark.pack)?.outcome;
    let days = |time: Time| time.as_days();
    Ok(match outcome.ends[Ending::Camera] {
        Some(_) => WithoutSun::Days(days(outcome.followed)),
        None => WithoutSun::ToSeasonsEnd(days(outcome.followed)),
    })
}
