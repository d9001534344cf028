//! The voltage that a pack would show at another depth than it is thought to have.

use crate::cell::{CellState, Specimen, Wells};
use crate::circuit::Load;
use crate::installation::Installation;
use crate::pack::{Pack, PackAt, PackState};
use crate::season::CameraState;
use crate::units::{Charge, Energy, Power, Temperature, Voltage};

use super::UnderLoad;

/// Meters are off by this share of what they show, another way each time. Common practice, no source.
const METER_SD: f64 = 0.005;

/// What a load pulls the voltage down by is known to this share: a resistance varies from cell to
/// cell and with the cold. Common practice, no source.
const DROP_SD: f64 = 0.2;

/// Below a full cell the curve goes on as straight as over this first stretch.
const FIRST_STRETCH: f64 = 0.02;

/// A pack under a load, at one temperature.
pub(super) struct Terminals<'a> {
    pack: &'a Pack,
    at: PackAt<'a>,
    cells: PackState,
    depth: f64,
    /// Of one string.
    load: Load,
}

impl<'a> Terminals<'a> {
    pub(super) fn new(
        installation: &'a Installation,
        state: &CameraState,
        air: Temperature,
        load: UnderLoad,
    ) -> Self {
        let scenario = &installation.scenario;
        let pack = &scenario.pack;
        let held = state.store.map_or(Energy::ZERO, |store| store.held);
        let power = match load {
            UnderLoad::Asleep if held > Energy::ZERO => Power::ZERO,
            UnderLoad::Asleep => scenario.draw.standby,
            UnderLoad::Power(power) => power,
        };
        Self {
            pack,
            at: pack.at(air),
            cells: state.cells,
            depth: pack.depth(&state.cells),
            load: Load::Power(power / f64::from(pack.parallel())),
        }
    }

    pub(super) fn cells(&self) -> f64 {
        f64::from(self.pack.cells_in_series())
    }

    pub(super) fn depth(&self) -> f64 {
        self.depth
    }

    /// Volts of one cell in the mean at a depth of the ordinary cells, 0 where the load cannot be
    /// carried. Below a depth of 0, which no cell has, the curve goes on straight.
    pub(super) fn volts(&self, depth: f64) -> f64 {
        if depth >= 0.0 {
            return self.loaded(depth).as_volts() / self.cells();
        }
        let full = self.volts(0.0);
        full + (full - self.volts(FIRST_STRETCH)) * (-depth / FIRST_STRETCH)
    }

    /// Variance of what a meter is off, of one cell in the mean, V².
    pub(super) fn meter_var(&self, measured: Voltage) -> f64 {
        let off = measured.as_volts() / self.cells() * METER_SD;
        off * off
    }

    /// Variance of what the load pulls the voltage down by, the same.
    pub(super) fn drop_var(&self) -> f64 {
        let inner = self.at.string_circuit(&self.cells).open_circuit;
        let drop = (inner - self.loaded(self.depth)).as_volts() / self.cells();
        let off = drop * DROP_SD;
        off * off
    }

    fn loaded(&self, depth: f64) -> Voltage {
        let cells = moved(self.pack, &self.cells, depth - self.depth);
        let circuit = self.at.string_circuit(&cells);
        let polarisation = self.at.polarisation(&cells);
        let current = circuit.current(self.load, &polarisation);
        current.map_or(Voltage::ZERO, |current| {
            circuit.voltage(current, &polarisation)
        })
    }

    /// The cells at another depth: between empty and full.
    pub(super) fn settled(&self, depth: f64) -> PackState {
        let PackState { ordinary, weakest } = moved(self.pack, &self.cells, depth - self.depth);
        PackState {
            ordinary: within(self.pack.cell().specimen(), ordinary),
            weakest: within(self.pack.weakest(), weakest),
        }
    }
}

/// The same charge taken from every cell of the string, and from both wells alike.
fn moved(pack: &Pack, cells: &PackState, deeper: f64) -> PackState {
    let share = pack.cell().kinetics.available_share;
    let charge = pack.cell().capacity * deeper;
    let less = |state: CellState| CellState {
        wells: Wells {
            available: state.wells.available - charge * share,
            bound: state.wells.bound - charge * (1.0 - share),
        },
        ..state
    };
    PackState {
        ordinary: less(cells.ordinary),
        weakest: less(cells.weakest),
    }
}

fn within(one: Specimen<'_>, state: CellState) -> CellState {
    let share = one.cell().kinetics.available_share;
    let held = |charge: Charge, share: f64| charge.max(Charge::ZERO).min(one.capacity() * share);
    CellState {
        wells: Wells {
            available: held(state.wells.available, share),
            bound: held(state.wells.bound, 1.0 - share),
        },
        ..state
    }
}
