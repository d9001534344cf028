//! `[panel]` as it stands on disk.

use serde::Deserialize;
use toml::Spanned;

use crate::line::section::Keyed;
use crate::line::value::{KeyType, OfFile, Value};

shared_section!(
    /// `[panel]`: a solar panel, what stands around it, and what it charges.
    PanelKeys {
        /// Power in 1000 W/m2 at 25 °C; 0 for no panel.
        watts: f64,
        /// From the horizontal.
        tilt_deg: f64,
        /// Where it faces: degrees from north through east.
        azimuth_deg: f64,
        /// Share of the sky overhead that trees in leaf cover.
        trees_pct: f64,
        /// `evergreen` or `deciduous`.
        trees: String,
        /// Share that deciduous trees cover without leaves.
        bare_trees_pct: f64,
        /// Day on which leaves begin to come out, `MM-DD`.
        leaf_out: String,
        /// Day on which they begin to fall.
        leaf_fall: String,
        /// Height of the horizon, or pairs of azimuth and height.
        horizon_deg: HorizonHeights,
        /// Share of light that dirt keeps off.
        dirt_pct: f64,
        /// Share of light that snow on the panel keeps off, January first.
        snow_on_panel_pct: Vec<f64>,
        /// `maximum-power` or `direct`.
        controller: String,
        /// What a maximum-power controller passes on.
        controller_pct: f64,
        /// Voltage of the panel at its highest power, for `direct`.
        panel_v: f64,
        /// `store` or `pack`.
        charges: String,
        /// Cell of the panel's own store.
        store_cell: String,
        /// What the store holds when full, as far as it can be used.
        store_wh: f64,
        /// What the store gives back of what comes in.
        store_pct: f64,
        /// How far the temperature of what is charged lags behind the air's.
        lag_h: f64,
    }
);

impl PanelKeys {
    /// The line's keys as a camera's own stand over them: where a camera's own choice has no use for
    /// some of the line's keys, it puts them aside.
    pub(in crate::line) fn under(&self, own: &Self) -> Self {
        let mut shared = self.clone();
        let chosen = |key: &Option<Spanned<String>>, name: &str| {
            key.as_ref().is_some_and(|key| key.get_ref() == name)
        };
        if chosen(&own.controller, "direct") {
            shared.controller_pct = None;
        }
        if chosen(&own.controller, "maximum-power") {
            shared.panel_v = None;
        }
        if chosen(&own.trees, "evergreen") {
            shared.bare_trees_pct = None;
            shared.leaf_out = None;
            shared.leaf_fall = None;
        }
        if chosen(&own.charges, "pack") {
            shared.store_cell = None;
            shared.store_wh = None;
            shared.store_pct = None;
        }
        shared
    }
}

/// One height all around, or heights by azimuth.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(
    untagged,
    expecting = "a height, or pairs of azimuth and height such as [[90, 5], [180, 12]]"
)]
pub(in crate::line) enum HorizonHeights {
    /// The same in every direction.
    Everywhere(f64),
    /// Azimuth and height.
    ByAzimuth(Vec<(f64, f64)>),
}

impl OfFile for HorizonHeights {
    const TYPE: KeyType = KeyType::Number;

    fn from_value(value: &Value) -> Option<Self> {
        f64::from_value(value).map(Self::Everywhere)
    }
}
