//! One cell: its parameters, its state, and what they give at a temperature.
//!
//! A cell's usable capacity is nowhere written down. It is what has been delivered when the
//! voltage under the load meets the device's lowest working voltage, and that moves with the
//! temperature through four things: the resistance that acts at once, the branches that take their
//! time, the rate at which charge comes within reach, and the open-circuit voltage itself.

pub mod accepted;
pub mod catalogue;
mod charger;
mod charging;
mod doubt;
mod makes;
mod on_bench;
mod open_circuit;
mod specimen;
mod storage;
mod wells;

pub(crate) use charger::{ChargeLimits, Charger, Recharge};
pub use charging::{Accepted, ChargeRefused, Charging};
pub use doubt::{Asked, Doubt};
pub use makes::{Beyond, BeyondPoints, Makes, Steps};
pub use on_bench::CellOnBench;
pub use open_circuit::{OCV_DEPTHS, OCV_POINTS, OpenCircuit};
pub use specimen::Specimen;
pub use storage::Storage;
pub(crate) use wells::Filling;
pub use wells::{Kinetics, Levelling, Wells};

use crate::circuit::{BRANCHES, Circuit, Overpotential, Polarisation, each};
use crate::number::Number;
use crate::units::{Charge, Current, Energy, Resistance, Temperature, Time, Voltage};

/// What a cell is made of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[non_exhaustive]
pub enum Chemistry {
    /// Zinc and manganese dioxide in potassium hydroxide.
    Alkaline,
    /// Lithium and iron disulfide, 1.5 V.
    LithiumIronDisulfide,
    /// Nickel and metal hydride.
    NickelMetalHydride,
    /// Lead and lead dioxide in sulfuric acid, sealed.
    LeadAcid,
    /// Lithium iron phosphate and graphite.
    LithiumIronPhosphate,
    /// Lithium with a layered oxide of nickel, manganese and cobalt, and graphite.
    LithiumIon,
}

impl Chemistry {
    /// Every one, in the order in which it is stored.
    #[cfg(feature = "blob")]
    pub(crate) const ALL: [Self; 6] = [
        Self::Alkaline,
        Self::LithiumIronDisulfide,
        Self::NickelMetalHydride,
        Self::LeadAcid,
        Self::LithiumIronPhosphate,
        Self::LithiumIon,
    ];

    /// Whether the cell may be charged at all.
    #[must_use]
    pub const fn rechargeable(self) -> bool {
        match self {
            Self::Alkaline | Self::LithiumIronDisulfide => false,
            Self::NickelMetalHydride
            | Self::LeadAcid
            | Self::LithiumIronPhosphate
            | Self::LithiumIon => true,
        }
    }
}

/// `e^(B (1/T − 1/T_ref))`, the Arrhenius factor of a process with activation `B` in kelvin:
/// above 1 in the cold for a positive `B`.
pub(crate) fn arrhenius(activation_k: f64, temperature: Temperature) -> f64 {
    let inverse = 1.0 / temperature.as_kelvin() - 1.0 / Temperature::REFERENCE.as_kelvin();
    libm::exp(activation_k * inverse)
}

/// How much the wells hold back, by its Arrhenius factor: in the warmth no less than at the reference
/// temperature, of which no point tells.
#[cfg_attr(not(target_os = "none"), inline(always))]
pub(crate) fn held_back<N: Number>(factor: N) -> N {
    factor.max(N::from(1.0))
}

/// A resistance that grows with depth of discharge and in the cold.
///
/// ```text
/// R(x, T) = R_fresh (1 + a x + b x⁴) e^(B (1/T − 1/T_ref))
/// ```
///
/// The form is ours; `R_fresh`, `a`, `b` and `B` come out of the fit to published points.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct Resistor {
    /// `R_fresh`: of a full cell at the reference temperature.
    pub fresh: Resistance,
    /// `a`: growth in proportion to depth, 0 or more.
    #[cfg_attr(feature = "serde", serde(with = "crate::decimal"))]
    pub growth: f64,
    /// `b`: growth that sets in late, 0 or more.
    #[cfg_attr(feature = "serde", serde(with = "crate::decimal"))]
    pub late_growth: f64,
    /// `B`: activation in kelvin; above 0 means higher in the cold.
    #[cfg_attr(feature = "serde", serde(with = "crate::decimal"))]
    pub activation_k: f64,
}

impl Resistor {
    /// Resistance at a depth of discharge, times a factor for temperature and age.
    #[cfg_attr(not(target_os = "none"), inline(always))]
    pub(crate) fn at<N: Number>(&self, depth: N, factor: N) -> Resistance<N> {
        let (growth, late) = (N::from(self.growth), N::from(self.late_growth));
        let squared = depth * depth;
        let grown = N::from(1.0) + growth * depth + late * squared * squared;
        self.fresh.everywhere() * (factor * grown)
    }
}

/// A resistance that takes its time.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct Branch {
    /// The resistance.
    pub resistor: Resistor,
    /// Its time constant, above zero.
    pub time: Time,
}

impl Branch {
    /// One without a resistance.
    pub const NONE: Self = Self {
        resistor: Resistor {
            fresh: Resistance::ZERO,
            growth: 0.0,
            late_growth: 0.0,
            activation_k: 0.0,
        },
        time: Time::from_seconds(1.0),
    };
}

/// Where a cell's parameters rest on published points; outside, the model extrapolates.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct Tested {
    /// Coldest published point.
    pub coldest: Temperature,
    /// Warmest published point.
    pub warmest: Temperature,
    /// Heaviest published current into one cell, at room temperature.
    pub heaviest: Current,
    /// Heaviest published current into one cell below 0 °C.
    pub heaviest_in_frost: Current,
}

/// The parameters of one cell, or of one battery of `in_series` cells in a case.
///
/// Voltages and resistances are those of one cell inside.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct Cell {
    /// What it is made of.
    pub chemistry: Chemistry,
    /// Cells in series inside the case: 1, or 6 for a 12 V lead-acid battery.
    pub in_series: u8,
    /// Charge of a fresh or full one to the end of its open-circuit curve at a vanishing load.
    pub capacity: Charge,
    /// Voltage under which one cell is driven over: it is harmed, leaks or reverses.
    pub floor: Voltage,
    /// Open-circuit voltage by depth of discharge, at the reference temperature.
    pub open_circuit: OpenCircuit,
    /// Change of the open-circuit voltage with temperature, volts per kelvin.
    #[cfg_attr(feature = "serde", serde(with = "crate::decimal"))]
    pub open_circuit_per_k: f64,
    /// The resistance that acts at once.
    pub ohmic: Resistor,
    /// What the first milliamperes cost most of, at the reference temperature. In the cold it comes with
    /// smaller currents, by as much as the first branch's resistance grows: both are charge transfer.
    pub overpotential: Overpotential,
    /// What takes its time: charge transfer (tenths of a second), then diffusion near the surface (seconds
    /// to a minute). What takes longer is in the wells.
    pub branches: [Branch; BRANCHES],
    /// The two wells at the reference temperature.
    pub kinetics: Kinetics,
    /// Activation of the levelling between the wells, in kelvin: above 0 means slower in the cold.
    #[cfg_attr(feature = "serde", serde(with = "crate::decimal"))]
    pub kinetics_activation_k: f64,
    /// Activation of how much the wells hold back, in kelvin: above 0 means more in the cold.
    #[cfg_attr(feature = "serde", serde(with = "crate::decimal"))]
    pub reach_activation_k: f64,
    /// What is lost with nothing connected.
    pub storage: Storage,
    /// How it is charged; `None` for primary cells, which must not be.
    pub charging: Option<Charging>,
    /// Relative spread of capacity between new cells of one pack, one standard deviation.
    #[cfg_attr(feature = "serde", serde(with = "crate::decimal"))]
    pub spread: f64,
    /// How makes that are sold under one name differ from this one, the median.
    pub makes: Makes,
    /// How far off it may be where nobody has measured it.
    pub beyond_points: BeyondPoints,
    /// Range of the published points.
    pub tested: Tested,
}

/// A [`Cell`]'s charge, polarisation and age.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct CellState {
    /// The charge.
    pub wells: Wells,
    /// Voltage across each branch.
    pub polarisation: Polarisation,
    /// Age since fresh or last full, counted as time at the reference temperature.
    pub age: Time,
}

impl CellState {
    /// Nothing.
    pub(crate) const EMPTY: Self = Self {
        wells: Wells {
            available: Charge::ZERO,
            bound: Charge::ZERO,
        },
        polarisation: Polarisation::NONE,
        age: Time::ZERO,
    };
}

/// A [`Cell`] at one temperature: every factor that needs an exponential, computed once.
#[derive(Clone, Copy, Debug)]
pub struct CellAt<'a> {
    cell: &'a Cell,
    /// Of this very cell.
    capacity: Charge,
    temperature: Temperature,
    open_circuit_shift: Voltage,
    ohmic_factor: f64,
    branch_factors: [f64; BRANCHES],
    kinetics: Kinetics,
    held_back: f64,
    ageing: f64,
}

impl Cell {
    /// One whose capacity is just that of its kind.
    #[must_use]
    pub const fn specimen(&self) -> Specimen<'_> {
        self.with_capacity(self.capacity)
    }

    /// One that differs from its kind in nothing but its capacity.
    #[must_use]
    pub const fn with_capacity(&self, capacity: Charge) -> Specimen<'_> {
        Specimen {
            cell: self,
            capacity,
        }
    }

    /// A fresh (primary) or full (rechargeable) cell.
    #[must_use]
    pub fn full(&self) -> CellState {
        self.specimen().full()
    }

    /// How it is charged, if it may be: never a primary cell, whatever its numbers say.
    #[must_use]
    pub fn rechargeable(&self) -> Option<&Charging> {
        self.charging
            .as_ref()
            .filter(|_| self.chemistry.rechargeable())
    }

    /// The same cell with `share` of its capacity and charging current, and `1/share` of its
    /// resistance: a bigger or smaller one of the same make-up.
    #[must_use]
    pub fn scaled(&self, share: f64) -> Self {
        let mut cell = *self;
        cell.capacity = self.capacity * share;
        cell.ohmic.fresh = self.ohmic.fresh / share;
        for branch in &mut cell.branches {
            branch.resistor.fresh = branch.resistor.fresh / share;
        }
        cell.overpotential.half_at = self.overpotential.half_at * share;
        cell.charging = self.charging.map(|charging| Charging {
            largest: charging.largest * share,
            ..charging
        });
        cell
    }

    /// What a temperature adds to the open-circuit voltage of one cell.
    #[cfg_attr(not(target_os = "none"), inline(always))]
    pub(crate) fn open_circuit_shift<N: Number>(&self, temperature: Temperature<N>) -> Voltage<N> {
        Voltage::from_si(N::from(self.open_circuit_per_k) * temperature.above_reference())
    }

    /// The cell at `temperature`.
    #[must_use]
    pub fn at(&self, temperature: Temperature) -> CellAt<'_> {
        let Kinetics {
            available_share,
            rate_per_second,
        } = self.kinetics;
        let slowed = arrhenius(-self.kinetics_activation_k, temperature);
        CellAt {
            cell: self,
            capacity: self.capacity,
            temperature,
            open_circuit_shift: self.open_circuit_shift(temperature),
            ohmic_factor: arrhenius(self.ohmic.activation_k, temperature),
            branch_factors: self
                .branches
                .map(|branch| arrhenius(branch.resistor.activation_k, temperature)),
            kinetics: Kinetics {
                available_share,
                rate_per_second: rate_per_second * slowed,
            },
            held_back: held_back(arrhenius(self.reach_activation_k, temperature)),
            ageing: arrhenius(-self.storage.activation_k, temperature),
        }
    }

    /// Share of the capacity that has gone, 0 to 1.
    #[must_use]
    pub fn depth(&self, state: &CellState) -> f64 {
        self.specimen().depth(state)
    }

    /// Energy that the charge still in the cell would give at its open-circuit voltage, all
    /// `in_series` cells together.
    #[must_use]
    pub fn energy_left(&self, state: &CellState) -> Energy {
        self.specimen().energy_left(state)
    }
}

impl<'a> CellAt<'a> {
    /// The same temperature for one that differs in nothing but its capacity.
    #[must_use]
    pub(crate) fn with_capacity(&self, capacity: Charge) -> Self {
        Self { capacity, ..*self }
    }

    const fn specimen(&self) -> Specimen<'a> {
        self.cell.with_capacity(self.capacity)
    }

    /// What the temperature adds to the open-circuit voltage of one cell.
    pub(crate) const fn open_circuit_shift(&self) -> Voltage {
        self.open_circuit_shift
    }

    /// One cell as the load sees it in `state`.
    #[must_use]
    pub fn circuit(&self, state: &CellState) -> Circuit {
        let surface = self.surface_depth(state);
        let depth = self.specimen().depth(state);
        let cell = self.cell;
        let aged = cell.storage.resistance_factor(state.age);
        let [charge_transfer, ..] = self.branch_factors;
        Circuit {
            open_circuit: cell.open_circuit.at(surface) + self.open_circuit_shift,
            ohmic: cell.ohmic.at(depth, self.ohmic_factor * aged),
            overpotential: cell.overpotential.slowed(charge_transfer),
            branches: each(cell.branches, self.branch_factors, |branch, factor| {
                branch.resistor.at(depth, factor * aged)
            }),
            times: cell.branches.map(|branch| branch.time),
        }
    }

    /// The depth that the terminals see: deeper than [`Specimen::depth`] under and after a load.
    #[must_use]
    pub fn surface_depth(&self, state: &CellState) -> f64 {
        let share = self.kinetics.available_share;
        state
            .wells
            .surface_depth(self.capacity, share, self.held_back)
    }

    /// What a load reaches: see [`Wells::within_reach`].
    pub(crate) fn within_reach(&self, wells: &Wells) -> Charge {
        wells.within_reach(self.kinetics.available_share, self.held_back)
    }

    /// Lets `current` flow for `span`. What is within reach must last that long: see
    /// [`CellAt::time_to_empty`].
    #[must_use]
    pub fn after(&self, state: &CellState, current: Current, span: Time) -> CellState {
        let circuit = self.circuit(state);
        CellState {
            wells: state.wells.after(&self.kinetics, current, span),
            polarisation: circuit.relax(&state.polarisation, current, span),
            age: state.age,
        }
    }

    /// When nothing is left within reach at a constant `current`, if that is within `span`.
    #[must_use]
    pub fn time_to_empty(&self, state: &CellState, current: Current, span: Time) -> Option<Time> {
        state
            .wells
            .time_to_empty(&self.kinetics, self.held_back, current, span)
    }

    /// Self-discharge and ageing over `span`, with nothing drawn.
    #[must_use]
    pub fn stored(&self, state: &CellState, span: Time) -> CellState {
        let equivalent = span * self.ageing;
        let kept = self.cell.storage.kept(state.age, equivalent);
        CellState {
            wells: state.wells.scaled(kept),
            polarisation: state.polarisation,
            age: state.age + equivalent,
        }
    }
}
