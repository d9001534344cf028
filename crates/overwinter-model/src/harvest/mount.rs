//! A panel where it stands: from a day's sky to the power that arrives at what it charges.

use super::{
    Controller, DaySurroundings, Light, Panel, Plane, SkyDay, SkyModel, Sun, Surroundings,
    clearness_points, sky_day::SkyHour,
};
use crate::arithmetic::share;
use crate::{Day, Power, Temperature, Voltage};

/// How many clearnesses a [`PanelDay`] is worked out for.
pub const CLEARNESS_NODES: usize = 9;

/// Between two of them: the last is the clearest that a day gets.
pub const CLEARNESS_STEP: f64 = super::clearness::CLEAREST / 8.0;

/// A panel in its place, with the controller through which it charges something.
#[derive(Clone, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct Mount {
    /// The panel.
    pub panel: Panel,
    /// How it is turned.
    pub plane: Plane,
    /// What stands around it.
    pub around: Surroundings,
    /// What stands between it and what it charges.
    pub controller: Controller,
    /// Voltage of what it charges, taken as steady: half full, with nothing connected.
    pub charged: Voltage,
}

impl Mount {
    /// What arrives in each hour of a day whose air is known, by the day's clearness.
    #[must_use]
    pub fn day(&self, sky: &SkyDay, day: Day, air: &[Temperature; 24]) -> PanelDay {
        let around = self.around.on(day);
        let mut hours = [[Power::ZERO; CLEARNESS_NODES]; 24];
        for ((hour, sky), air) in hours.iter_mut().zip(sky.hours()).zip(air) {
            *hour = self.nodes(&sky, &around, *air);
        }
        PanelDay { hours }
    }

    /// What is expected to arrive in one hour of a day whose clearness has this mean and spread: that
    /// of [`PanelDay::expected`], without a day at every clearness on the way.
    #[cfg_attr(target_os = "none", inline(never))]
    pub(crate) fn expected(
        &self,
        hour: &SkyHour,
        around: &DaySurroundings<'_>,
        air: Temperature,
        clearness_mean: f64,
        clearness_spread: f64,
    ) -> Power {
        let nodes = self.nodes(hour, around, air);
        expected(&nodes, clearness_mean, clearness_spread)
    }

    /// What arrives in one hour at each clearness.
    fn nodes(
        &self,
        hour: &SkyHour,
        around: &DaySurroundings<'_>,
        air: Temperature,
    ) -> [Power; CLEARNESS_NODES] {
        let mut powers = [Power::ZERO; CLEARNESS_NODES];
        for (node, power) in (0_u8..).zip(&mut powers) {
            let light = hour.light(clearness_of(node));
            if light.global.as_w_per_m2() > 0.0 {
                *power = self.power(around, &hour.sun, &light, air);
            }
        }
        powers
    }

    /// The same for a day whose light is known by the hour: alike at every clearness.
    #[must_use]
    pub fn replayed_day(
        &self,
        sky: &SkyDay,
        day: Day,
        lights: &[Light; 24],
        air: &[Temperature; 24],
    ) -> PanelDay {
        let powers = self.powers(sky, &self.around.on(day), lights, air);
        PanelDay {
            hours: powers.map(|power| [power; CLEARNESS_NODES]),
        }
    }

    fn powers(
        &self,
        sky: &SkyDay,
        around: &DaySurroundings<'_>,
        lights: &[Light; 24],
        air: &[Temperature; 24],
    ) -> [Power; 24] {
        let mut powers = [Power::ZERO; 24];
        let hours = sky.suns().iter().zip(lights).zip(air);
        for (power, ((sun, light), air)) in powers.iter_mut().zip(hours) {
            if light.global.as_w_per_m2() > 0.0 {
                *power = self.power(around, sun, light, *air);
            }
        }
        powers
    }

    #[cfg_attr(target_os = "none", inline(never))]
    fn power(
        &self,
        around: &DaySurroundings<'_>,
        sun: &Sun,
        light: &Light,
        air: Temperature,
    ) -> Power {
        let on_plane = around.light(&self.plane, sun, light, SkyModel::HayDavies);
        let light = on_plane.total();
        let cells = self.panel.temperature(light, air);
        let share = self.controller.share(&self.panel, cells, self.charged);
        // The rating last, so that [`PanelDay::scaled`] gives the bits of a bigger panel's own day.
        self.panel.rated * (self.panel.share_of_rated(light, cells) * share)
    }
}

/// What arrives from a panel in the hours of a day, by the day's clearness: straight lines between
/// nodes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PanelDay {
    hours: [[Power; CLEARNESS_NODES]; 24],
}

impl PanelDay {
    /// Nothing, however clear.
    pub const DARK: Self = Self {
        hours: [[Power::ZERO; CLEARNESS_NODES]; 24],
    };

    /// Power of each hour at each node, [`CLEARNESS_STEP`] apart from zero on.
    #[must_use]
    pub fn nodes(&self) -> &[[Power; CLEARNESS_NODES]; 24] {
        &self.hours
    }

    /// Power of each hour on a day of this clearness.
    #[must_use]
    pub fn at_clearness(&self, clearness: f64) -> [Power; 24] {
        self.hours.map(|hour| between(&hour, clearness))
    }

    /// Power expected of each hour of a day whose clearness has this mean and spread: the mean over
    /// [`clearness_points`].
    #[must_use]
    pub fn expected(&self, clearness_mean: f64, clearness_spread: f64) -> [Power; 24] {
        self.hours
            .map(|hour| expected(&hour, clearness_mean, clearness_spread))
    }

    /// The same mount with a panel so many times as big.
    #[must_use]
    pub fn scaled(&self, times: f64) -> Self {
        Self {
            hours: self.hours.map(|hour| hour.map(|power| power * times)),
        }
    }
}

/// The mean over [`clearness_points`] of an hour's power.
fn expected(nodes: &[Power; CLEARNESS_NODES], clearness_mean: f64, clearness_spread: f64) -> Power {
    clearness_points(clearness_mean, clearness_spread)
        .map(|(weight, clearness)| between(nodes, clearness) * weight)
        .fold(Power::ZERO, |sum, power| sum + power)
}

/// Clearness at a node.
fn clearness_of(node: u8) -> f64 {
    f64::from(node) * CLEARNESS_STEP
}

/// On the straight lines between the nodes of an hour.
fn between(nodes: &[Power; CLEARNESS_NODES], clearness: f64) -> Power {
    let [first, ..] = nodes;
    let steps = clearness / CLEARNESS_STEP;
    let pieces = nodes.iter().zip(nodes.iter().skip(1));
    let mut power = *first;
    let mut passed = 0.0;
    for (from, to) in pieces {
        power += (*to - *from) * share(steps - passed);
        passed += 1.0;
    }
    power
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Place, Time};
    use proptest::prelude::*;

    const DAY: Day = Day::from_days_since_2000(9862 + 60);

    fn mount(tilt: f64, azimuth: f64) -> Mount {
        Mount {
            panel: Panel::rated(Power::from_watts(3.0)),
            plane: Plane::new(tilt, azimuth).unwrap(),
            around: Surroundings::open(),
            controller: Controller::MaximumPower { efficiency: 0.9 },
            charged: Voltage::from_volts(3.7),
        }
    }

    proptest! {
        #[test]
        fn lines_between_nodes_are_close_to_the_light_itself(
            latitude in -65.0..65.0_f64, tilt in 0.0..90.0_f64, clearness in 0.0..0.85_f64,
            away in -90.0..90.0_f64,
        ) {
            let equator = if latitude < 0.0 { 0.0 } else { 180.0 };
            let azimuth = (equator + away + 360.0) % 360.0;
            let place = Place::new(latitude, 10.0, 1.0).unwrap();
            let sky = SkyDay::new(&place, DAY, 100.0, Time::ZERO);
            let air = [Temperature::from_celsius(-5.0); 24];
            let mount = mount(tilt, azimuth);
            let sum = |powers: [Power; 24]| powers.iter().map(|p| p.as_watts()).sum::<f64>();
            let day = mount.day(&sky, DAY, &air);
            let on_lines = sum(day.at_clearness(clearness));
            let lights = sky.at_clearness(clearness);
            let itself = sum(mount.replayed_day(&sky, DAY, &lights, &air).at_clearness(0.0));
            // Against the best day for this plane. Usually within 1 %; where a steep plane turns its
            // back on a high sun the split bends most.
            let most = (0..CLEARNESS_NODES as u8)
                .map(|node| sum(day.at_clearness(clearness_of(node))))
                .fold(0.0, f64::max);
            prop_assert!((on_lines - itself).abs() < 0.04 * most, "{on_lines} {itself} {most}");
        }

        #[test]
        fn a_bigger_panel_brings_as_much_more(times in 0.0..5.0_f64, clearness in 0.0..1.0_f64) {
            let place = Place::new(50.0, 10.0, 1.0).unwrap();
            let sky = SkyDay::new(&place, DAY, 100.0, Time::ZERO);
            let air = [Temperature::from_celsius(5.0); 24];
            let small = mount(60.0, 180.0);
            let mut big = small.clone();
            big.panel.rated = small.panel.rated * times;
            let scaled = small.day(&sky, DAY, &air).scaled(times).at_clearness(clearness);
            let bigger = big.day(&sky, DAY, &air).at_clearness(clearness);
            for (scaled, bigger) in scaled.iter().zip(bigger) {
                prop_assert!((scaled.as_watts() - bigger.as_watts()).abs() < 1e-9);
            }
        }
    }
}
