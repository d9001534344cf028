//! The numbers of a cell that a fit may turn, and how each is kept within its bounds.

use overwinter_model::cell::{Cell, OCV_DEPTHS};
use overwinter_model::{Charge, Current, Resistance, Time, Voltage};

/// One number of a cell.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Knob {
    /// Charge at a vanishing load, mAh.
    Capacity,
    /// Open-circuit voltage of a fresh cell, V; the whole curve shifts with it.
    OcvTop,
    /// Slope of the open-circuit voltage from this point of the table to the next, in volts a
    /// unit of depth; positive, so the curve falls whatever the fit does.
    OcvSlope(usize),
    /// The resistance that acts at once, of a fresh cell, ohm.
    OhmicFresh,
    /// Its growth in proportion to depth.
    OhmicGrowth,
    /// Its growth that sets in late.
    OhmicLateGrowth,
    /// Its activation, K.
    OhmicActivation,
    /// What the largest currents cost in overpotential, V.
    OverpotentialMost,
    /// The current that costs half of that, mA.
    OverpotentialHalfAt,
    /// The resistance of a branch of a fresh cell, ohm.
    BranchFresh(usize),
    /// Its growth in proportion to depth.
    BranchGrowth(usize),
    /// Its growth that sets in late.
    BranchLateGrowth(usize),
    /// Its activation, K.
    BranchActivation(usize),
    /// Its time constant, s.
    BranchTime(usize),
    /// Share of the available well.
    AvailableShare,
    /// How fast the wells level, 1/s.
    LevellingRate,
    /// Activation of that, K.
    LevellingActivation,
    /// Activation of how much the wells hold back, K.
    ReachActivation,
    /// Steady self-discharge, 1/a.
    LossPerYear,
    /// Self-discharge of the first time.
    EarlyLoss,
    /// How long the first time is, days.
    EarlyTime,
    /// Activation of self-discharge, K.
    StorageActivation,
}

impl Knob {
    /// Its value in a cell, in the unit in which the catalogue writes it.
    #[must_use]
    pub fn read(self, cell: &Cell) -> f64 {
        match self {
            Self::Capacity => cell.capacity.as_milliampere_hours(),
            Self::OcvTop => cell.open_circuit.volts[0],
            Self::OcvSlope(i) => {
                let volts = &cell.open_circuit.volts;
                (volts[i] - volts[i + 1]) / (OCV_DEPTHS[i + 1] - OCV_DEPTHS[i])
            }
            Self::OhmicFresh => cell.ohmic.fresh.as_ohms(),
            Self::OhmicGrowth => cell.ohmic.growth,
            Self::OhmicLateGrowth => cell.ohmic.late_growth,
            Self::OhmicActivation => cell.ohmic.activation_k,
            Self::OverpotentialMost => cell.overpotential.most.as_volts(),
            Self::OverpotentialHalfAt => cell.overpotential.half_at.as_milliamperes(),
            Self::BranchFresh(i) => cell.branches[i].resistor.fresh.as_ohms(),
            Self::BranchGrowth(i) => cell.branches[i].resistor.growth,
            Self::BranchLateGrowth(i) => cell.branches[i].resistor.late_growth,
            Self::BranchActivation(i) => cell.branches[i].resistor.activation_k,
            Self::BranchTime(i) => cell.branches[i].time.as_seconds(),
            Self::AvailableShare => cell.kinetics.available_share,
            Self::LevellingRate => cell.kinetics.rate_per_second,
            Self::LevellingActivation => cell.kinetics_activation_k,
            Self::ReachActivation => cell.reach_activation_k,
            Self::LossPerYear => cell.storage.loss_per_year,
            Self::EarlyLoss => cell.storage.early_loss,
            Self::EarlyTime => cell.storage.early_time.as_days(),
            Self::StorageActivation => cell.storage.activation_k,
        }
    }

    /// Sets it. The slopes of the open-circuit voltage must be set after its top and in order.
    pub fn write(self, cell: &mut Cell, value: f64) {
        match self {
            Self::Capacity => cell.capacity = Charge::from_milliampere_hours(value),
            Self::OcvTop => {
                let shift = value - cell.open_circuit.volts[0];
                cell.open_circuit.volts.iter_mut().for_each(|v| *v += shift);
            }
            Self::OcvSlope(i) => {
                let volts = &mut cell.open_circuit.volts;
                let next = volts[i] - value * (OCV_DEPTHS[i + 1] - OCV_DEPTHS[i]);
                let shift = next - volts[i + 1];
                volts[i + 1..].iter_mut().for_each(|v| *v += shift);
            }
            Self::OhmicFresh => cell.ohmic.fresh = Resistance::from_ohms(value),
            Self::OhmicGrowth => cell.ohmic.growth = value,
            Self::OhmicLateGrowth => cell.ohmic.late_growth = value,
            Self::OhmicActivation => cell.ohmic.activation_k = value,
            Self::OverpotentialMost => cell.overpotential.most = Voltage::from_volts(value),
            Self::OverpotentialHalfAt => {
                cell.overpotential.half_at = Current::from_milliamperes(value);
            }
            Self::BranchFresh(i) => {
                cell.branches[i].resistor.fresh = Resistance::from_ohms(value);
            }
            Self::BranchGrowth(i) => cell.branches[i].resistor.growth = value,
            Self::BranchLateGrowth(i) => cell.branches[i].resistor.late_growth = value,
            Self::BranchActivation(i) => cell.branches[i].resistor.activation_k = value,
            Self::BranchTime(i) => cell.branches[i].time = Time::from_seconds(value),
            Self::AvailableShare => cell.kinetics.available_share = value,
            Self::LevellingRate => cell.kinetics.rate_per_second = value,
            Self::LevellingActivation => cell.kinetics_activation_k = value,
            Self::ReachActivation => cell.reach_activation_k = value,
            Self::LossPerYear => cell.storage.loss_per_year = value,
            Self::EarlyLoss => cell.storage.early_loss = value,
            Self::EarlyTime => cell.storage.early_time = Time::from_days(value),
            Self::StorageActivation => cell.storage.activation_k = value,
        }
    }

    /// Lowest and highest value that can be meant; all above zero, since every knob is turned on
    /// a logarithmic scale.
    fn bounds(self) -> (f64, f64) {
        match self {
            Self::Capacity => (100.0, 50_000.0),
            Self::OcvTop => (1.2, 4.3),
            Self::OcvSlope(_) => (1e-3, 100.0),
            Self::OverpotentialMost => (1e-3, 0.5),
            Self::OverpotentialHalfAt => (0.1, 5000.0),
            Self::OhmicFresh | Self::BranchFresh(_) => (1e-4, 2.0),
            Self::OhmicGrowth | Self::BranchGrowth(_) => (1e-3, 30.0),
            Self::OhmicLateGrowth | Self::BranchLateGrowth(_) => (1e-3, 1000.0),
            Self::OhmicActivation | Self::BranchActivation(_) => (300.0, 8000.0),
            Self::BranchTime(_) => (0.02, 5000.0),
            Self::AvailableShare => (0.03, 0.995),
            Self::LevellingRate => (1e-7, 1e-1),
            Self::LevellingActivation => (300.0, 9000.0),
            Self::ReachActivation => (10.0, 6000.0),
            Self::LossPerYear => (1e-3, 2.0),
            Self::EarlyLoss => (1e-3, 0.4),
            Self::EarlyTime => (1.0, 200.0),
            Self::StorageActivation => (1000.0, 12_000.0),
        }
    }
}

/// A knob that a fit turns, from a start that also is its prior.
#[derive(Clone, Copy, Debug)]
pub struct Free {
    /// Which.
    pub knob: Knob,
    /// Its value before the fit.
    pub start: f64,
    /// One standard deviation of the prior, in natural logarithms of the value.
    pub prior: f64,
}

impl Free {
    /// A knob that starts from its value in `cell`, or from its bound where that lies outside.
    #[must_use]
    pub fn new(knob: Knob, cell: &Cell, prior: f64) -> Self {
        let mut free = Self {
            knob,
            start: knob.read(cell),
            prior,
        };
        free.start = free.within(free.start);
        free
    }

    /// The value, or the nearest within the bounds.
    #[must_use]
    pub(super) fn within(&self, value: f64) -> f64 {
        let (low, high) = self.knob.bounds();
        value.clamp(low * 1.001, high / 1.001)
    }

    /// The unbounded number behind a value: the logit of its place between its bounds, on a
    /// logarithmic scale, in units that are those of the logarithm in the middle.
    #[must_use]
    pub(super) fn hidden(&self, value: f64) -> f64 {
        let (low, high) = self.knob.bounds();
        let span = (high / low).ln();
        let place = (value / low).ln() / span;
        (place / (1.0 - place)).ln() * span / 4.0
    }

    /// The value behind an unbounded number.
    #[must_use]
    pub(super) fn value(&self, hidden: f64) -> f64 {
        let (low, high) = self.knob.bounds();
        let span = (high / low).ln();
        let place = 1.0 / (1.0 + (-4.0 * hidden / span).exp());
        low * (place * span).exp()
    }

    /// How far a value lies from the start, in logarithms.
    #[must_use]
    pub(super) fn moved(&self, value: f64) -> f64 {
        (value / self.start).ln()
    }
}
