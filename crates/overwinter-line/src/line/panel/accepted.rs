//! What the keys of `[panel]` may be, whatever the others are.

use std::ops::RangeInclusive;

use super::Charges;
use super::around::{check_leaf_days, read_horizon};
use super::keys::PanelKeys;
use crate::keys::Reader;
use crate::line::cell_files::CellFiles;

pub(super) const WATTS: RangeInclusive<f64> = 0.0..=200.0;
pub(super) const TILT_DEG: RangeInclusive<f64> = 0.0..=90.0;
pub(super) const AZIMUTH_DEG: RangeInclusive<f64> = 0.0..=360.0;
pub(super) const PCT: RangeInclusive<f64> = 0.0..=100.0;
pub(super) const DIRT_PCT: RangeInclusive<f64> = 0.0..=90.0;
pub(super) const EFFICIENCY_PCT: RangeInclusive<f64> = 10.0..=100.0;
pub(super) const PANEL_V: RangeInclusive<f64> = 0.5..=60.0;
pub(super) const STORE_WH: RangeInclusive<f64> = 0.1..=10_000.0;
pub(super) const LAG_H: RangeInclusive<f64> = 0.0..=48.0;

/// Whether trees shed their leaves.
pub(super) const TREES: [(&str, bool); 2] = [("evergreen", false), ("deciduous", true)];

/// Whether a panel charges without a converter.
pub(super) const CONTROLLERS: [(&str, bool); 2] = [("maximum-power", false), ("direct", true)];

/// What a panel charges.
pub(super) const CHARGES: [(&str, Option<Charges>); 2] = [
    ("store", Some(Charges::Store)),
    ("pack", Some(Charges::Pack)),
];

/// Notes every value that its key cannot have, for a camera whose panel of no watts makes nothing of
/// them. What goes with what is not looked at: the keys are those of other cameras.
pub(super) fn check_values(reader: &mut Reader, keys: &PanelKeys, own: &CellFiles) {
    let numbers = [
        ("tilt_deg", &keys.tilt_deg, TILT_DEG),
        ("azimuth_deg", &keys.azimuth_deg, AZIMUTH_DEG),
        ("trees_pct", &keys.trees_pct, PCT),
        ("bare_trees_pct", &keys.bare_trees_pct, PCT),
        ("dirt_pct", &keys.dirt_pct, DIRT_PCT),
        ("controller_pct", &keys.controller_pct, EFFICIENCY_PCT),
        ("panel_v", &keys.panel_v, PANEL_V),
        ("store_wh", &keys.store_wh, STORE_WH),
        ("store_pct", &keys.store_pct, EFFICIENCY_PCT),
        ("lag_h", &keys.lag_h, LAG_H),
    ];
    for (key, given, range) in numbers {
        reader.number(given.as_ref(), key, range, 0.0);
    }
    if let Some(given) = &keys.snow_on_panel_pct {
        let _checked: Option<[f64; 12]> = reader.numbers(given, "snow_on_panel_pct", PCT);
    }
    reader.choice(keys.trees.as_ref(), "trees", &TREES, false);
    reader.choice(keys.controller.as_ref(), "controller", &CONTROLLERS, false);
    reader.choice(keys.charges.as_ref(), "charges", &CHARGES, None);
    read_horizon(reader, keys);
    check_leaf_days(reader, keys);
    if let Some(cell) = &keys.store_cell {
        own.find(reader, cell);
    }
}
