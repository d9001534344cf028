//! A panel on the device's own sky.

use crate::harvest::{DaySurroundings, HourlySky, Mount, PanelDay, SkyDay};
use crate::units::{Power, Temperature, Time};
use crate::{Day, Place, SunDay};

/// How clear the days of a month are: light on the horizontal over that without an atmosphere.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct MonthClearness {
    /// Mean over its days, 0 to 1.
    #[cfg_attr(feature = "serde", serde(with = "crate::decimal"))]
    pub mean: f64,
    /// Standard deviation between its days, 0 to 0.5.
    #[cfg_attr(feature = "serde", serde(with = "crate::decimal"))]
    pub sd: f64,
}

/// A panel and the sky over it.
#[derive(Clone, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct Sunlight {
    /// The panel where it stands.
    pub mount: Mount,
    /// Height above the sea, metres.
    #[cfg_attr(feature = "serde", serde(with = "crate::decimal"))]
    pub elevation_m: f64,
    /// Each month's, January first.
    pub clearness: [MonthClearness; 12],
}

/// A panel on one day.
#[derive(Clone, Debug)]
pub(super) struct SunlitDay<'a> {
    mount: &'a Mount,
    around: DaySurroundings<'a>,
    sky: HourlySky,
    clearness: &'a MonthClearness,
}

impl Sunlight {
    /// The panel on a day with this sun.
    #[inline(never)]
    pub(super) fn day(&self, sun: &SunDay, day: Day) -> Option<SunlitDay<'_>> {
        Some(SunlitDay {
            mount: &self.mount,
            around: self.mount.around.on(day),
            sky: HourlySky::new(sun, day, self.elevation_m),
            clearness: self.clearness.get(day.month_index())?,
        })
    }

    /// What the panel brings in each hour of a day with this air, by the day's clearness.
    #[must_use]
    pub fn panel_day(&self, place: &Place, day: Day, air: &[Temperature; 24]) -> PanelDay {
        let sky = SkyDay::new(place, day, self.elevation_m, Time::ZERO);
        self.mount.day(&sky, day, air)
    }
}

impl SunlitDay<'_> {
    /// What the panel is expected to bring in an hour of this air, under the day's sun.
    #[inline(never)]
    pub(super) fn power(&self, sun: &SunDay, of_day: usize, air: Temperature) -> Power {
        let MonthClearness { mean, sd } = self.clearness;
        let expected = |sky| self.mount.expected(&sky, &self.around, air, *mean, *sd);
        self.sky.hour(sun, of_day).map_or(Power::ZERO, expected)
    }
}
