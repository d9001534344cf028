//! How cold a panel's own store may get before it is too weak for its camera.

use overwinter_model::cell::{Cell, CellState, Wells};
use overwinter_model::draw::Draw;
use overwinter_model::{Power, Temperature, Time, Voltage};

use super::StoreChoice;

/// Between these, °C, a store may be found weak: colder than stores are used, and warmer.
const COLDEST: f64 = -60.0;
const WARMEST: f64 = 60.0;

/// Halvings of what lies between them: to a thousandth of a degree.
const HALVINGS: u32 = 17;

impl StoreChoice {
    /// The temperature below which it is too weak for the camera's heaviest moment when it is half full:
    /// the warmest that is looked at where it always is, `None` where it is at none. Cells give less the
    /// colder they are.
    #[must_use]
    pub fn weak_below(&self, draw: &Draw) -> Option<Temperature> {
        let heaviest = heaviest(draw);
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

    /// The largest power that it carries half full, for as long as its slow resistance takes.
    fn most_given(&self, at: Temperature) -> Power {
        let cell: &Cell = &self.cell.cell;
        let state = CellState {
            wells: Wells::level(cell.capacity / 2.0, cell.kinetics.available_share),
            polarisation: Voltage::ZERO,
            age: Time::ZERO,
        };
        let circuit = cell.at(at).circuit(&state);
        let room = (circuit.open_circuit - cell.floor).max(Voltage::ZERO);
        let current = room / (circuit.ohmic + circuit.slow);
        let one = cell.capacity * cell.open_circuit.at(0.5);
        cell.floor * current * (self.capacity / one)
    }
}

/// The camera's largest power.
pub(crate) fn heaviest(draw: &Draw) -> Power {
    let events = [&draw.day_trigger, &draw.night_trigger];
    let check_in = draw.check_in.as_ref().map(|check_in| &check_in.event);
    let bursts = events.into_iter().chain(check_in);
    let bursts = bursts.flat_map(|event| event.bursts());
    let upload = draw.upload.iter();
    let upload = upload.flat_map(|upload| [&upload.session, &upload.picture]);
    let powers = bursts.chain(upload).map(|burst| burst.power + burst.flash);
    powers.fold(draw.standby, Power::max)
}
