//! The light of a season: the sun over its days, and what each panel brings on them.

use std::collections::VecDeque;
use std::ops::Range;
use std::sync::{Arc, Mutex, OnceLock, PoisonError};

use overwinter_model::harvest::{Controller, Mount, PanelDay, SkyDay};
use overwinter_model::{AirOfDay, Power, Voltage};

use crate::line::Line;

/// So many mounts' days are kept, for cameras and candidates that share one: two thirds of a megabyte
/// each for a year.
const MOST_KEPT: usize = 16;

/// What the cameras of a line share of the light.
#[derive(Debug, Default)]
pub(crate) struct SeasonLight {
    /// The sun of each day, once somebody asks.
    skies: OnceLock<Vec<SkyDay>>,
    /// Days of mounts with a panel of a watt, the last asked for first.
    kept: Mutex<VecDeque<(Mount, Arc<[PanelDay]>)>>,
}

impl SeasonLight {
    /// What arrives from a panel on each day that `air` is of, from the season's first on.
    pub(crate) fn panel_days(&self, line: &Line, air: &[AirOfDay], mount: &Mount) -> Vec<PanelDay> {
        let watts = mount.panel.rated.as_watts();
        let days = self.days_of_a_watt(line, air, &of_a_watt(mount));
        days.iter().map(|day| day.scaled(watts)).collect()
    }

    fn days_of_a_watt(&self, line: &Line, air: &[AirOfDay], mount: &Mount) -> Arc<[PanelDay]> {
        if let Some(days) = self.find(mount) {
            return days;
        }
        let days: Arc<[PanelDay]> = self.worked_out(line, air, mount, 0..air.len()).into();
        let mut kept = self.kept.lock().unwrap_or_else(PoisonError::into_inner);
        kept.push_front((mount.clone(), Arc::clone(&days)));
        kept.truncate(MOST_KEPT);
        days
    }

    fn find(&self, mount: &Mount) -> Option<Arc<[PanelDay]>> {
        let mut kept = self.kept.lock().unwrap_or_else(PoisonError::into_inner);
        let place = kept.iter().position(|(known, _)| known == mount)?;
        let found = kept.remove(place)?;
        let days = Arc::clone(&found.1);
        kept.push_front(found);
        Some(days)
    }

    /// Some of the season's days as they are, without keeping them.
    pub(crate) fn worked_out(
        &self,
        line: &Line,
        air: &[AirOfDay],
        mount: &Mount,
        some: Range<usize>,
    ) -> Vec<PanelDay> {
        let first = line.season.first_day();
        let days = (0..).map(|day| first.plus(day));
        let skies = self.skies.get_or_init(|| skies(line, air.len()));
        let all = days.zip(skies).zip(air);
        let days = all.skip(some.start).take(some.len());
        let days = days.map(|((day, sky), air)| match line.climate.replayed_light(day) {
            Some(lights) => mount.replayed_day(sky, day, &lights, &air.hours),
            None => mount.day(sky, day, &air.hours),
        });
        days.collect()
    }
}

/// The same mount with a panel of a watt; a controller that follows the highest power does not ask what
/// is charged.
fn of_a_watt(mount: &Mount) -> Mount {
    let mut mount = mount.clone();
    mount.panel.rated = Power::from_watts(1.0);
    if matches!(mount.controller, Controller::MaximumPower { .. }) {
        mount.charged = Voltage::ZERO;
    }
    mount
}

/// The sun over so many days from the first of a line's season on.
fn skies(line: &Line, days: usize) -> Vec<SkyDay> {
    let first = line.season.first_day();
    let light_offset = line.climate.light_offset();
    let sky = |day| SkyDay::new(&line.place, first.plus(day), line.elevation_m, light_offset);
    (0..).take(days).map(sky).collect()
}
