//! Hours taken together: what a step of a sampled path needs to know of them.

use super::light::BlockLight;
use crate::cell::Cell;
use crate::circuit::BRANCHES;
use crate::draw::{Draw, UploadMode};
use crate::harvest::PanelDay;
use crate::season::Hour;
use crate::units::{Temperature, Time};

/// The hours of a block that are alike in their light.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Light {
    /// Hours of it, as parts of hours are.
    pub(super) hours: f64,
    /// Triggers expected in them.
    pub(super) triggers: f64,
    /// As cold as an event may find it, kelvin.
    pub(super) coldest_k: f64,
    /// Mean over them less the coldest.
    pub(super) above_coldest_k: f64,
}

/// Several hours of one day, shared by all paths of a camera.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Block {
    /// How long it is.
    pub(super) span: Time,
    /// Mean temperature, kelvin.
    pub(super) air_k: f64,
    /// How much faster the wells level out over the block than at its mean temperature.
    pub(super) levelling_gain: f64,
    /// How much faster the cells age.
    pub(super) ageing_gain: f64,
    /// What is left of each branch's polarisation at its end.
    pub(super) relaxing: [f64; BRANCHES],
    /// With enough daylight.
    pub(super) day: Light,
    /// In need of the flash.
    pub(super) night: Light,
    /// Temperature at the hour of the daily upload, if that is within, kelvin.
    pub(super) daily_upload_k: Option<f64>,
    /// Where in the block its coldest hour begins, 0 to 1.
    pub(super) coldest_from: f64,
    /// Where it ends: the cells have least by then.
    pub(super) coldest_to: f64,
    /// What a panel has to give.
    pub(super) light: Option<BlockLight>,
}

impl Block {
    /// Takes `hours` of one day together, for a camera that draws `draw` from `cell`; `None` if there
    /// are none.
    #[must_use]
    pub fn of(hours: &[Hour], draw: &Draw, cell: &Cell) -> Option<Self> {
        let coldest = |a: &&Hour, b: &&Hour| {
            let (a, b) = (a.coldest.as_kelvin(), b.coldest.as_kelvin());
            a.total_cmp(&b)
        };
        let first = hours.first()?;
        let lowest = hours.iter().min_by(coldest).unwrap_or(first);
        let position = hours.iter().position(|hour| hour == lowest).unwrap_or(0);
        let count = hours.iter().fold(0.0, |count, _| count + 1.0);
        let passed = hours.iter().take(position).fold(0.0, |sum, _| sum + 1.0);
        let kelvin: f64 = hours.iter().map(|hour| hour.air.as_kelvin()).sum();
        let daily = draw.upload.as_ref().and_then(|upload| match upload.mode {
            UploadMode::Each => None,
            UploadMode::Daily { hour } => Some(hour),
        });
        Some(Self {
            span: Time::from_hours(count),
            air_k: kelvin / count,
            levelling_gain: gain(hours, kelvin / count, cell.kinetics_activation_k),
            ageing_gain: gain(hours, kelvin / count, cell.storage.activation_k),
            relaxing: cell
                .branches
                .map(|branch| libm::exp(-(Time::from_hours(count) / branch.time))),
            day: Light::of(hours, |hour| (1.0 - hour.dark_share, hour.day_triggers)),
            night: Light::of(hours, |hour| (hour.dark_share, hour.night_triggers)),
            daily_upload_k: daily
                .and_then(|at| hours.iter().find(|hour| hour.of_day == at))
                .map(|hour| hour.coldest.as_kelvin()),
            coldest_from: passed / count,
            coldest_to: (passed + 1.0) / count,
            light: None,
        })
    }

    /// The same block with what a panel brings in its `hours`, which are of the day that `panel`
    /// stands for; the days of its month have this mean clearness.
    #[must_use]
    pub fn lit(self, hours: &[Hour], panel: &PanelDay, clearness: f64) -> Self {
        Self {
            light: Some(BlockLight::of(hours, panel, clearness)),
            ..self
        }
    }

    /// Both lights together.
    pub(super) fn either_light(&self) -> Light {
        let Self { day, night, .. } = self;
        let hours = day.hours + night.hours;
        let mean_k = |light: &Light| light.hours * (light.coldest_k + light.above_coldest_k);
        let coldest_k = self.coldest_k();
        Light {
            hours,
            triggers: day.triggers + night.triggers,
            coldest_k,
            above_coldest_k: (mean_k(day) + mean_k(night)) / hours - coldest_k,
        }
    }

    /// As cold as it may get.
    pub(super) fn coldest_k(&self) -> f64 {
        let far = Temperature::REFERENCE.as_kelvin() + 1000.0;
        let of = |light: &Light| {
            if light.hours > 0.0 {
                light.coldest_k
            } else {
                far
            }
        };
        libm::fmin(of(&self.day), of(&self.night))
    }
}

/// Mean rate of a process over `hours`, over its rate at their mean temperature: more than 1, as
/// rates grow faster than temperature.
fn gain(hours: &[Hour], mean_k: f64, activation_k: f64) -> f64 {
    let rates = hours
        .iter()
        .map(|hour| libm::exp(-activation_k * (1.0 / hour.air.as_kelvin() - 1.0 / mean_k)));
    let (sum, count) = rates.fold((0.0, 0.0), |(sum, count), rate| (sum + rate, count + 1.0));
    sum / count
}

impl Light {
    /// Collects what `share` says is of this kind of each hour: the part of the hour, and the triggers.
    fn of(hours: &[Hour], share: impl Fn(&Hour) -> (f64, f64)) -> Self {
        let mut light = Self::default();
        let mut kelvin = 0.0;
        for hour in hours {
            let (part, triggers) = share(hour);
            if part <= 0.0 && triggers <= 0.0 {
                continue;
            }
            let coldest = hour.coldest.as_kelvin();
            if light.hours <= 0.0 || coldest < light.coldest_k {
                light.coldest_k = coldest;
            }
            // A pattern may have triggers in the last moments of a light that the hour has no part of.
            let part = libm::fmax(part, 1e-6);
            light.hours += part;
            light.triggers += triggers;
            kelvin += part * hour.air.as_kelvin();
        }
        if light.hours > 0.0 {
            light.above_coldest_k = libm::fmax(kelvin / light.hours - light.coldest_k, 0.0);
        }
        light
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::Power;
    use proptest::prelude::*;

    proptest! {
        /// In air that does not change every moment is as cold as the coldest, to the last digit.
        #[test]
        fn no_moment_is_colder_than_the_coldest(
            celsius in -30.0..30.0_f64,
            parts in prop::collection::vec(0.0..1.0_f64, 1..12),
        ) {
            let air = Temperature::from_celsius(celsius);
            let hour = |of_day, dark_share: f64| Hour {
                of_day,
                air,
                coldest: air,
                day_triggers: 0.0,
                night_triggers: 0.0,
                dark_share,
                panel: Power::ZERO,
            };
            let hours: std::vec::Vec<Hour> = (0..).zip(&parts).map(|(at, part)| hour(at, *part)).collect();
            let light = Light::of(&hours, |hour| (hour.dark_share, 0.0));
            prop_assert!((0.0..1e-9).contains(&light.above_coldest_k), "{light:?}");
        }
    }
}
