//! A panel on the device's own sky.

use serde::{Deserialize, Serialize};

use super::range::{OutOfRange, SHARE, within};
use crate::harvest::{
    Controller, DaySurroundings, Ground, HourlySky, Mount, Panel, PanelDay, SkyDay,
};
use crate::units::{Power, Temperature, Time};
use crate::{Day, Place, SunDay};

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

    /// Whether a device can run this.
    pub(super) fn check(&self) -> Result<(), OutOfRange> {
        let Mount {
            panel: of_panel,
            plane: _,
            around,
            controller: of_controller,
            charged,
        } = &self.mount;
        panel(of_panel)?;
        ground(&around.ground)?;
        for kept_off in around.kept_off_by_month {
            within("share kept off by dirt and snow", kept_off, &SHARE)?;
        }
        controller(of_controller)?;
        within("voltage charged (V)", charged.as_volts(), &(0.1..=100.0))?;
        within(
            "height above the sea (m)",
            self.elevation_m,
            &(-500.0..=9000.0),
        )?;
        for month in self.clearness {
            within("mean clearness", month.mean, &SHARE)?;
            within("spread of clearness", month.sd, &(0.0..=0.5))?;
        }
        Ok(())
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

fn panel(panel: &Panel) -> Result<(), OutOfRange> {
    within("panel (W)", panel.rated.as_watts(), &(0.0..=1e4))?;
    within("panel (1/K)", panel.per_kelvin, &(-0.02..=0.02))?;
    let heating = panel.heating_k_per_w_per_m2;
    within("heating of the panel (K m²/W)", heating, &(0.0..=1.0))?;
    within("losses of the panel", panel.losses, &SHARE)
}

fn ground(ground: &Ground) -> Result<(), OutOfRange> {
    within("albedo", ground.bare_albedo, &SHARE)?;
    within("albedo of snow", ground.snow_albedo, &SHARE)?;
    for snow in ground.snow_by_month {
        within("share of a month with snow", snow, &SHARE)?;
    }
    Ok(())
}

fn controller(controller: &Controller) -> Result<(), OutOfRange> {
    match controller {
        Controller::MaximumPower { efficiency } => {
            within("efficiency of the controller", *efficiency, &SHARE)
        }
        Controller::Direct { best, diode } => {
            let best = best.as_volts();
            within("panel's best voltage (V)", best, &(0.1..=200.0))?;
            within("voltage of the diode (V)", diode.as_volts(), &(0.0..=5.0))
        }
    }
}
