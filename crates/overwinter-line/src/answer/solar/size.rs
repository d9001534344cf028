//! Panels and stores that are tried.

use overwinter_model::{Energy, Power};
use serde::Serialize;

use crate::line::{Camera, Charges, PanelChoice, Prices};

/// Panels, watts.
const PANELS_W: [f64; 7] = [1.0, 1.5, 2.0, 3.0, 5.0, 7.0, 10.0];

/// A panel's own stores, watt-hours.
const STORES_WH: [f64; 6] = [3.0, 6.0, 12.0, 25.0, 50.0, 100.0];

/// Strings in parallel of a pack that is charged.
const STRINGS: [u8; 4] = [1, 2, 3, 4];

/// A panel with what it charges.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Size {
    /// Power of the panel, watts.
    pub panel_w: f64,
    /// What is charged.
    pub store: StoreSize,
}

/// What a panel charges.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct StoreSize {
    /// What it holds: nominal, if it is the pack.
    pub wh: f64,
    /// Strings in parallel, if it is the pack.
    pub strings: Option<u8>,
}

impl Size {
    /// A camera's own, as its file has it.
    pub(super) fn of(camera: &Camera, panel: &PanelChoice) -> Self {
        let store = match panel.charges(&camera.pack) {
            Charges::Store => StoreSize {
                wh: panel.store.capacity.as_watt_hours(),
                strings: None,
            },
            Charges::Pack => in_parallel(camera, camera.pack.parallel),
        };
        Self {
            panel_w: panel.panel.rated.as_watts(),
            store,
        }
    }

    /// The camera with a panel and a store of this size.
    pub(super) fn put_on(&self, camera: &Camera) -> Camera {
        let mut camera = camera.clone();
        if let Some(strings) = self.store.strings {
            camera.pack.parallel = strings;
        }
        if let Some(panel) = &mut camera.panel {
            panel.panel.rated = Power::from_watts(self.panel_w);
            if self.store.strings.is_none() {
                panel.store.capacity = Energy::from_watt_hours(self.store.wh);
            }
        }
        camera
    }

    /// What the panel and what it charges cost, if both prices are known.
    pub(super) fn cost(&self, camera: &Camera, prices: &Prices) -> Option<f64> {
        let panel = prices.per_panel_watt? * self.panel_w;
        let store = match self.store.strings {
            None => prices.per_store_wh? * self.store.wh,
            Some(strings) => {
                let pack = &camera.pack;
                let count = u32::from(pack.series) * u32::from(strings);
                prices.of(&pack.cell.name, count)?
            }
        };
        Some(panel + store)
    }
}

fn in_parallel(camera: &Camera, strings: u8) -> StoreSize {
    let mut pack = camera.pack.clone();
    pack.parallel = strings;
    StoreSize {
        wh: pack.nominal_energy().as_watt_hours(),
        strings: Some(strings),
    }
}

/// The panels tried, and `own` watts too.
pub(super) fn panels(own: Option<f64>) -> Vec<f64> {
    with_own(&PANELS_W, own)
}

/// The stores tried for a camera's panel, and its file's own too.
pub(super) fn stores(camera: &Camera, own: Option<Size>) -> Vec<StoreSize> {
    let panel = camera.panel.as_ref();
    match panel.map_or(Charges::Store, |panel| panel.charges(&camera.pack)) {
        Charges::Store => with_own(&STORES_WH, own.map(|own| own.store.wh))
            .into_iter()
            .map(|wh| StoreSize { wh, strings: None })
            .collect(),
        Charges::Pack => {
            let mut strings = STRINGS.to_vec();
            if !strings.contains(&camera.pack.parallel) {
                strings.push(camera.pack.parallel);
            }
            strings.sort_unstable();
            let sizes = strings.into_iter();
            sizes.map(|strings| in_parallel(camera, strings)).collect()
        }
    }
}

/// In their order, `own` among them once.
fn with_own(usual: &[f64], own: Option<f64>) -> Vec<f64> {
    let is_new = |own: &f64| usual.iter().all(|one| (one - own).abs() > 1e-9);
    let mut all = usual.to_vec();
    all.extend(own.filter(is_new));
    all.sort_by(f64::total_cmp);
    all
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_own_size_stands_in_its_order_and_once() {
        assert_eq!(with_own(&[1.0, 2.0], None), [1.0, 2.0]);
        assert_eq!(with_own(&[1.0, 2.0], Some(2.0)), [1.0, 2.0]);
        assert_eq!(with_own(&[1.0, 2.0], Some(1.7)), [1.0, 1.7, 2.0]);
        assert_eq!(with_own(&[1.0, 2.0], Some(4.0)), [1.0, 2.0, 4.0]);
    }
}
