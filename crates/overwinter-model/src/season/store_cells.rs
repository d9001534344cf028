//! A store out of cells of one kind: what it takes, what it loses, and how cold it may get.

use crate::cell::{Cell, CellState, Wells};
use crate::circuit::Polarisation;
use crate::draw::Draw;
use crate::harvest::{ChargeLimit, Store};
use crate::units::{Charge, Energy, Power, Temperature, Time, Voltage};

/// Between these, °C, a store may be found weak: colder than stores are used, and warmer.
const COLDEST: f64 = -60.0;
const WARMEST: f64 = 60.0;

/// Halvings of what lies between them: to a thousandth of a degree.
const HALVINGS: u32 = 17;

/// Cells of one kind, so many of them that together they hold a store's energy.
#[derive(Clone, Copy, Debug)]
pub struct StoreCells<'a> {
    /// One of them; it can be charged.
    pub cell: &'a Cell,
    /// Nominal capacity of one.
    pub rated: Charge,
    /// What all of them hold when full, as far as it can be used.
    pub capacity: Energy,
}

impl StoreCells<'_> {
    /// The store that they make before a camera that draws so; charging keeps `efficiency` of what comes
    /// in, 0 to 1.
    ///
    /// It takes charge as its cell does: never colder, and at most the cell's largest current for its
    /// size. What it loses by lying there is what a cell loses in the first month after it was charged,
    /// at 20 °C: a store is charged again and again.
    #[must_use]
    pub fn store(&self, efficiency: f64, lag: Time, draw: &Draw) -> Store {
        let month = Time::from_days(30.0);
        Store {
            capacity: self.capacity,
            charge_efficiency: efficiency,
            limit: self.limit(),
            lag,
            self_discharge_per_month: 1.0 - self.cell.storage.kept(Time::ZERO, month),
            weak_below: self.weak_below(draw),
        }
    }

    /// When they take charge, and how fast.
    #[must_use]
    pub fn limit(&self) -> ChargeLimit {
        let charging = self.cell.charging;
        ChargeLimit {
            coldest: charging.map(|charging| charging.coldest),
            warmest: charging.map(|charging| charging.warmest),
            highest: charging.map(|charging| self.capacity / (self.rated / charging.largest)),
        }
    }

    /// The temperature below which they are too weak for the camera's heaviest moment when they are half
    /// full: the warmest that is looked at, 60 °C, where they always are, `None` where they are at none
    /// from -60 °C on. Cells give less the colder they are.
    #[must_use]
    pub fn weak_below(&self, draw: &Draw) -> Option<Temperature> {
        let heaviest = draw.heaviest();
        let is_weak = |celsius| self.most_given(Temperature::from_celsius(celsius)) < heaviest;
        if !is_weak(COLDEST) {
            return None;
        }
        if is_weak(WARMEST) {
            return Some(Temperature::from_celsius(WARMEST));
        }
        let (mut weak, mut strong) = (COLDEST, WARMEST);
        for _ in 0..HALVINGS {
            let half_way = f64::midpoint(weak, strong);
            if is_weak(half_way) {
                weak = half_way;
            } else {
                strong = half_way;
            }
        }
        Some(Temperature::from_celsius(strong))
    }

    /// The largest power that they carry half full, for as long as the slowest branch takes.
    fn most_given(&self, at: Temperature) -> Power {
        let cell = self.cell;
        let state = CellState {
            wells: Wells::level(cell.capacity / 2.0, cell.kinetics.available_share),
            polarisation: Polarisation::NONE,
            age: Time::ZERO,
        };
        let circuit = cell.at(at).circuit(&state);
        let room = (circuit.open_circuit - cell.floor).max(Voltage::ZERO);
        let current = room / circuit.settled_resistance();
        let one = cell.capacity * cell.open_circuit.at(0.5);
        cell.floor * current * (self.capacity / one)
    }
}
