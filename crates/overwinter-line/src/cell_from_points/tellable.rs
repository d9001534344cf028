//! Which parameters a set of points can tell.

use overwinter_model::Resistance;
use overwinter_model::cell::OCV_POINTS;

use crate::fit::{Free, Group, Knob, Point};
use crate::points::{RatedCell, State, heaviest_current};

/// Loads closer together than this say the same.
const LOADS_APART: f64 = 2.0;

/// Temperatures closer together than this say the same, kelvin.
const TEMPERATURES_APART_K: f64 = 10.0;

/// Fewer voltages under load tell a resistance and not the open-circuit voltage behind it.
const VOLTAGES_OF_A_CURVE: usize = 3;

/// The knobs that `points` can tell, with the freedom of each: one standard deviation in
/// logarithms. The freedoms are round: what cells of one kind and of several makers differ by
/// (common practice, no source).
pub(super) fn knobs(start: &RatedCell, points: &[Point]) -> Vec<Free> {
    let told = Told::new(start, points);
    let mut knobs: Vec<(Knob, f64)> = Vec::new();
    if told.open_circuit {
        knobs.push((Knob::OcvTop, 0.02));
        knobs.extend((0..OCV_POINTS - 1).map(|i| (Knob::OcvSlope(i), 0.3)));
    }
    if told.capacity {
        knobs.push((Knob::Capacity, 0.5));
    }
    if told.resistance {
        knobs.push((Knob::OhmicFresh, 0.5));
        knobs.extend(branches(start).map(|i| (Knob::BranchFresh(i), 0.5)));
    }
    if told.rates {
        knobs.extend([(Knob::AvailableShare, 0.1), (Knob::LevellingRate, 0.3)]);
    }
    if told.cold {
        knobs.push((Knob::OhmicActivation, 0.2));
        knobs.extend(branches(start).map(|i| (Knob::BranchActivation(i), 0.2)));
        knobs.push((Knob::LevellingActivation, 0.2));
    }
    if told.storage {
        knobs.push((Knob::LossPerYear, 0.7));
    }
    let free = |(knob, prior)| Free::new(knob, &start.cell, prior);
    knobs.into_iter().map(free).collect()
}

/// The branches that the cell has.
fn branches(start: &RatedCell) -> impl Iterator<Item = usize> {
    let branches = start.cell.branches.into_iter().enumerate();
    branches.filter_map(|(i, branch)| (branch.resistor.fresh > Resistance::ZERO).then_some(i))
}

/// What kinds of things points tell.
struct Told {
    capacity: bool,
    resistance: bool,
    open_circuit: bool,
    /// How much less a heavier load gets.
    rates: bool,
    /// How much worse it is in the cold.
    cold: bool,
    storage: bool,
}

impl Told {
    fn new(start: &RatedCell, points: &[Point]) -> Self {
        let of = |group| points.iter().filter(move |p| Group::of(&p.row) == group);
        let stored = |point: &&Point| {
            let state = State::parse(&point.row.state);
            state.is_ok_and(|state| state.stored.is_some())
        };
        // A share of a cell's own capacity does not tell that capacity.
        let of_another_temperature =
            |point: &Point| point.row.quantity.starts_with("capacity_pct_of_2");
        let share = |point: &Point| {
            of_another_temperature(point) || point.row.quantity == "capacity_pct_after_storage"
        };
        let currents = of(Group::Services)
            .filter(|point| !stored(point))
            .filter_map(|point| heaviest_current(start, &point.row).ok())
            .map(|current| current.as_amperes());
        let apart = |(low, high): (f64, f64)| high / low >= LOADS_APART;
        let rates = spread(currents).is_some_and(apart);
        let loaded = points
            .iter()
            .filter(|point| point.row.quantity != "ocv_V" && !stored(point));
        let temperatures = loaded.filter_map(|point| point.row.temp_c);
        let far = |(low, high): (f64, f64)| high - low >= TEMPERATURES_APART_K;
        let cold = spread(temperatures).is_some_and(far)
            || of(Group::Services).any(of_another_temperature);
        let under_load = of(Group::Voltages).any(|point| point.row.quantity == "voltage_V");
        let open = of(Group::Voltages).any(|point| point.row.quantity == "ocv_V");
        Self {
            capacity: of(Group::Services).any(|point| !share(point)),
            resistance: of(Group::Resistances).next().is_some() || under_load || rates,
            open_circuit: open || of(Group::Voltages).count() >= VOLTAGES_OF_A_CURVE,
            rates,
            cold,
            storage: points.iter().any(|point| stored(&point)),
        }
    }
}

/// The smallest and the largest; `None` if there are none.
fn spread(values: impl Iterator<Item = f64>) -> Option<(f64, f64)> {
    values.fold(None, |range, value| {
        let (low, high) = range.unwrap_or((value, value));
        Some((low.min(value), high.max(value)))
    })
}
