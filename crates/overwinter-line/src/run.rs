//! Runs the cameras of a line through its season.

use std::ops::Range;

use overwinter_model::cell::Doubt;
use overwinter_model::draw::Use;
use overwinter_model::harvest::{Mount, PanelDay};
use overwinter_model::pack::PackError;
use overwinter_model::season::{Hour, Outcome, hours_of_day, run};
use overwinter_model::{AirOfDay, Energy, Power, Temperature, Time, Voltage};
use serde::Serialize;

use crate::line::{Camera, Line, PackChoice};
use crate::season_light::SeasonLight;
use overwinter_model::paths::FORESEEN_DAYS;

/// One day of a camera's season.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct DayTrace {
    /// Share of the charge left at the end of the day.
    pub charge_left: f64,
    /// Lowest voltage of the day under any event that may have come; `None` if the pack could
    /// not carry one at any voltage.
    pub lowest: Option<Voltage>,
}

/// A camera's way through the season on the expected path.
#[derive(Clone, Debug)]
pub struct CameraRun {
    /// The cells it ran on.
    pub pack: PackChoice,
    /// What became of it.
    pub outcome: Outcome,
    /// Day by day, to its end; the last may be a part of a day.
    pub days: Vec<DayTrace>,
}

impl CameraRun {
    /// What its cells were asked for that lies beyond their published points.
    pub fn doubts(&self) -> impl Iterator<Item = Doubt> {
        let asked = self.outcome.asked.as_ref();
        asked
            .into_iter()
            .flat_map(|asked| self.pack.cell.cell.tested.doubts(asked))
    }
}

/// The air of every day of the season at the line's site, and its light; shared by its cameras.
///
/// It covers [`FORESEEN_DAYS`] even where the season is shorter: sampled seasons choose the length of
/// their blocks by them, which must not depend on when the season ends.
#[derive(Debug)]
pub struct SeasonAir {
    days: Vec<AirOfDay>,
    /// How many of the days are the season's.
    season_days: usize,
    light: SeasonLight,
}

impl SeasonAir {
    /// Works it out.
    #[must_use]
    pub fn new(line: &Line) -> Self {
        let weather = line.climate.weather();
        let first = line.season.first_day();
        let season_days = line.season.days().max(0) as usize;
        let days = (0..).take(season_days.max(FORESEEN_DAYS));
        let days = days.map(|day| weather.of_day(&line.place, first.plus(day)));
        Self {
            days: days.collect(),
            season_days,
            light: SeasonLight::default(),
        }
    }

    /// Mean temperature of each day of the season, and as cold as it got or an ordinary one gets.
    pub fn days(&self) -> impl Iterator<Item = (Temperature, Temperature)> + '_ {
        let days = self.days.iter().take(self.season_days);
        days.map(|day| (day.mean(), day.lowest()))
    }

    /// What arrives from a camera's panel on each day of the season, or of the first
    /// [`FORESEEN_DAYS`] if the season is shorter, with `pack` in the camera; `None` without a panel.
    #[must_use]
    pub fn panel_days(
        &self,
        line: &Line,
        camera: &Camera,
        pack: &PackChoice,
    ) -> Option<Vec<PanelDay>> {
        let mount = camera.panel.as_ref()?.mount(pack);
        Some(self.light.panel_days(line, &self.days, &mount))
    }

    /// What a panel in its place is expected to bring on each of some `days` of the season.
    #[must_use]
    pub fn expected_light(&self, line: &Line, mount: &Mount, days: Range<usize>) -> Vec<Energy> {
        let first = line.season.first_day();
        let panel = self.light.worked_out(line, &self.days, mount, days.clone());
        let numbered = (0..).skip(days.start).zip(&panel);
        let light = numbered.map(|(day, panel)| {
            let month = line.climate.spread().month(first.plus(day).month_index());
            let powers = panel.expected(month.clearness_mean, month.clearness_sd);
            let all = powers.iter().fold(Power::ZERO, |sum, power| sum + *power);
            all * Time::from_hours(1.0)
        });
        light.collect()
    }

    /// The hours of a season as they meet one camera, under what its panel is expected to bring.
    pub(crate) fn hours<'a>(
        &'a self,
        line: &'a Line,
        camera: &'a Camera,
        panel_days: Option<Vec<PanelDay>>,
    ) -> impl Iterator<Item = Hour> + 'a {
        let hours = self.foreseen_hours(line, camera, panel_days);
        hours.take(self.season_days * 24)
    }

    /// The hours of a season as they meet one camera, on to [`FORESEEN_DAYS`] if the season is shorter.
    pub(crate) fn foreseen_hours<'a>(
        &'a self,
        line: &'a Line,
        camera: &'a Camera,
        panel_days: Option<Vec<PanelDay>>,
    ) -> impl Iterator<Item = Hour> + 'a {
        let first = line.season.first_day();
        (0..).zip(&self.days).flat_map(move |(index, air)| {
            let flash_below = camera.settings.flash_below_sun_deg;
            let day = first.plus(index);
            let rates = camera.activity.rates_of_day(&line.place, day, flash_below);
            let panel = panel_days
                .as_ref()
                .and_then(|days| days.get(index as usize));
            let panel = panel.map_or([Power::ZERO; 24], |panel| {
                let month = line.climate.spread().month(day.month_index());
                panel.expected(month.clearness_mean, month.clearness_sd)
            });
            hours_of_day(&rates, air, &panel)
        })
    }
}

/// Runs one camera on `pack` along the expected path.
///
/// # Errors
/// [`PackError`] if the pack's numbers of cells are out of range.
pub fn run_camera(
    line: &Line,
    air: &SeasonAir,
    camera: &Camera,
    pack: &PackChoice,
) -> Result<CameraRun, PackError> {
    let scenario = camera.scenario(pack)?;
    let mut days: Vec<DayTrace> = Vec::with_capacity(air.season_days);
    let hours = air.hours(line, camera, air.panel_days(line, camera, pack));
    let outcome = run(&scenario, hours, 1, |seen| {
        // A step that ends at midnight belongs to the day before.
        let day = ((seen.after.as_days() - 1e-9).max(0.0)) as usize;
        if days.len() <= day {
            days.push(DayTrace {
                charge_left: seen.charge_left,
                lowest: seen.lowest,
            });
        }
        if let Some(today) = days.last_mut() {
            today.charge_left = seen.charge_left;
            today.lowest = match (today.lowest, seen.lowest) {
                (Some(so_far), Some(lowest)) => Some(so_far.min(lowest)),
                _ => None,
            };
        }
    });
    Ok(CameraRun {
        pack: pack.clone(),
        outcome,
        days,
    })
}

/// The name of a use in tables and, with underscores, in JSON.
#[must_use]
pub fn use_name(what: Use) -> &'static str {
    match what {
        Use::Standby => "standby",
        Use::DayPictures => "day pictures",
        Use::NightPictures => "night pictures",
        Use::Flash => "flash",
        Use::Video => "video",
        Use::UploadSession => "upload session",
        Use::UploadData => "upload data",
        Use::CheckIn => "reports",
    }
}
