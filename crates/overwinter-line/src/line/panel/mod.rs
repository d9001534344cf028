//! A camera's solar panel: how it stands, and what it charges.

mod accepted;
mod around;
mod keys;
mod read;
#[cfg(test)]
mod tests;

use overwinter_model::draw::Draw;
use overwinter_model::harvest::{Controller, Mount, Panel, Plane, Surroundings};
use overwinter_model::season::{Feeds, StoreCells};
use overwinter_model::{Energy, Power, Time, Voltage};

pub(super) use around::Standing;
pub(super) use keys::PanelKeys;
pub(super) use read::read;

use super::{Camera, Misfit, PackChoice};
use crate::cells::{NamedCell, SharedCell};

/// Voltage of a panel at its highest power over that of what it charges directly: panels are made so
/// that even warm ones charge what they are sold for, 18 V for 12 V (common practice, no source).
const DIRECT_OVER_CHARGED: f64 = 1.5;

/// What a panel charges.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Charges {
    /// A store of its own.
    Store,
    /// The camera's pack.
    Pack,
}

/// A camera's solar panel.
#[derive(Clone, Debug)]
pub struct PanelChoice {
    /// The panel itself.
    pub panel: Panel,
    /// How it is turned.
    pub plane: Plane,
    /// What stands around it and lies on it.
    pub around: Surroundings,
    /// What stands between it and what it charges.
    pub controller: Controller,
    /// What it charges, if the line file says.
    pub charges: Option<Charges>,
    /// Its own store, where it charges one.
    pub store: StoreChoice,
    /// How far the temperature of what is charged lags behind the air's.
    pub lag: Time,
    /// Keys that have an effect and are not in the file.
    pub usual: Vec<&'static str>,
}

/// A panel's own store.
#[derive(Clone, Debug)]
pub struct StoreChoice {
    /// Its cells; they can be charged.
    pub cell: SharedCell,
    /// What it holds when full, as far as it can be used.
    pub capacity: Energy,
    /// What it gives back of what comes in, 0 to 1.
    pub efficiency: f64,
}

impl StoreChoice {
    /// Its cells, for the model.
    #[must_use]
    pub fn cells(&self) -> StoreCells<'_> {
        StoreCells {
            cell: &self.cell.cell,
            rated: self.cell.rated,
            capacity: self.capacity,
        }
    }

    /// Voltage, half full, of as many cells in series as suit a panel of this voltage, one at least.
    fn voltage(&self, panel: Voltage) -> Voltage {
        let one = half_full(&self.cell);
        one * (panel / DIRECT_OVER_CHARGED / one).round().max(1.0)
    }
}

impl PanelChoice {
    /// What it charges with this pack in the camera. Where the line file does not say, the pack if it can
    /// be charged.
    #[must_use]
    pub fn charges(&self, pack: &PackChoice) -> Charges {
        self.charges.unwrap_or_else(|| usual_charges(&pack.cell))
    }

    /// The cell that is charged with this pack in the camera.
    #[must_use]
    pub fn charged_cell<'a>(&'a self, pack: &'a PackChoice) -> &'a NamedCell {
        match self.charges(pack) {
            Charges::Store => &self.store.cell,
            Charges::Pack => &pack.cell,
        }
    }

    /// The most that may go into what is charged, before losses; `None` for a cell without limits.
    #[must_use]
    pub fn most_taken(&self, pack: &PackChoice) -> Option<Power> {
        match self.charges(pack) {
            Charges::Store => self.store.cells().limit().highest,
            Charges::Pack => {
                let charging = pack.cell.cell.charging?;
                Some(pack_voltage(pack) * (charging.largest * f64::from(pack.parallel)))
            }
        }
    }

    /// For the model, with this pack in a camera that draws so. A primary pack is never charged: the model refuses
    /// it too.
    #[must_use]
    pub fn feeds(&self, pack: &PackChoice, draw: &Draw) -> Feeds {
        match self.charges(pack) {
            Charges::Store => Feeds::Store(self.store.cells().store(
                self.store.efficiency,
                self.lag,
                draw,
            )),
            Charges::Pack => Feeds::Pack { lag: self.lag },
        }
    }

    /// The panel in its place, before what it charges with this pack in the camera.
    #[must_use]
    pub fn mount(&self, pack: &PackChoice) -> Mount {
        let charged = match (self.charges(pack), self.controller) {
            (Charges::Pack, _) => pack_voltage(pack),
            (Charges::Store, Controller::Direct { best, .. }) => self.store.voltage(best),
            (Charges::Store, Controller::MaximumPower { .. }) => half_full(&self.store.cell),
        };
        Mount {
            panel: self.panel,
            plane: self.plane,
            around: self.around.clone(),
            controller: self.controller,
            charged,
        }
    }
}

/// The pack, if it can be charged.
fn usual_charges(cell: &NamedCell) -> Charges {
    if cell.cell.charging.is_some() {
        Charges::Pack
    } else {
        Charges::Store
    }
}

/// Voltage of a battery that is half full, with nothing connected.
fn half_full(cell: &NamedCell) -> Voltage {
    cell.cell.open_circuit.at(0.5) * f64::from(cell.cell.in_series)
}

fn pack_voltage(pack: &PackChoice) -> Voltage {
    half_full(&pack.cell) * f64::from(pack.series)
}

impl PackChoice {
    /// What the pack holds by the name of its cells: rated charge at the voltage of half full ones.
    #[must_use]
    pub fn nominal_energy(&self) -> Energy {
        pack_voltage(self) * self.cell.rated * f64::from(self.parallel)
    }
}

/// Whether the camera's panel would charge a pack that must not be charged.
pub(super) fn misfit(camera: &Camera, pack: &PackChoice) -> Option<Misfit> {
    let charged = camera.panel.as_ref()?.charges(pack) == Charges::Pack;
    (charged && pack.cell.cell.charging.is_none()).then(|| Misfit {
        what: "must not be charged, and the panel charges the pack",
        expected: "a rechargeable cell, or charges = \"store\" in [panel]".to_owned(),
    })
}
