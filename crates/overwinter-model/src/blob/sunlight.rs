//! A panel on the device's own sky.

use serde::{Deserialize, Serialize};

use crate::harvest::{Mount, PanelDay, SkyDay, lit_hours};
use crate::season::Hour;
use crate::units::{Power, Temperature, Time};
use crate::{Day, Place};

/// How clear the days of a month are: light on the horizontal over that without an atmosphere.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct MonthClearness {
    /// Mean over its days, 0 to 1.
    #[serde(with = "crate::number")]
    pub mean: f64,
    /// Standard deviation between its days, 0 to 0.5.
    #[serde(with = "crate::number")]
    pub sd: f64,
}

/// A panel and the sky over it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Sunlight {
    /// The panel where it stands.
    pub mount: Mount,
    /// Height above the sea, metres.
    #[serde(with = "crate::number")]
    pub elevation_m: f64,
    /// Each month's, January first.
    pub clearness: [MonthClearness; 12],
}

impl Sunlight {
    /// What the panel is expected to bring in each hour of a day, whose air is known, into them.
    #[inline(never)]
    pub(super) fn fill_power(&self, hours: &mut [Hour; 24], place: &Place, day: Day) {
        let Some(MonthClearness { mean, sd }) = self.clearness.get(day.month_index()) else {
            return;
        };
        let around = self.mount.around.on(day);
        for (hour, sky) in hours
            .iter_mut()
            .zip(lit_hours(place, day, self.elevation_m))
        {
            hour.panel = sky.map_or(Power::ZERO, |sky| {
                self.mount.expected(&sky, &around, hour.air, *mean, *sd)
            });
        }
    }

    /// What the panel brings in each hour of a day with this air, by the day's clearness.
    #[must_use]
    pub fn panel_day(&self, place: &Place, day: Day, air: &[Temperature; 24]) -> PanelDay {
        let sky = SkyDay::new(place, day, self.elevation_m, Time::ZERO);
        self.mount.day(&sky, day, air)
    }
}
