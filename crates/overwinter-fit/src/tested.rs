//! The range of conditions that a cell's points cover.

use overwinter::points::{Condition, evaluate};
use overwinter_model::cell::Tested;
use overwinter_model::cell::catalogue::CatalogueCell;
use overwinter_model::{Current, Load, Temperature};

use crate::points::{Group, Point, Role};

/// The range of the discharges among `points` that are not from memory.
pub(crate) fn tested(entry: &CatalogueCell, points: &[Point]) -> Tested {
    let mut range = Tested {
        coldest: Temperature::REFERENCE,
        warmest: Temperature::REFERENCE,
        heaviest: Current::ZERO,
        heaviest_in_frost: Current::ZERO,
    };
    for point in points.iter().filter(|p| p.role != Role::WeakPrior) {
        if Group::of(&point.row) == Group::Resistances || evaluate(entry, &point.row).is_err() {
            continue;
        }
        let Ok(Condition::Repeated { single, .. }) = Condition::parse(&point.row.condition_load)
        else {
            continue;
        };
        let Some(temp_c) = point.row.temp_c else {
            continue;
        };
        let here = Temperature::from_celsius(temp_c);
        if here < range.coldest {
            range.coldest = here;
        }
        if here > range.warmest {
            range.warmest = here;
        }
        let current = single.map_or(Current::ZERO, |load| per_cell(load, entry));
        range.heaviest = range.heaviest.max(current);
        if temp_c < 0.0 {
            range.heaviest_in_frost = range.heaviest_in_frost.max(current);
        }
    }
    range
}

/// About the current of a load, at the open-circuit voltage of half the charge.
fn per_cell(load: Load, entry: &CatalogueCell) -> Current {
    let volts = entry.cell.open_circuit.at(0.5) * f64::from(entry.cell.in_series);
    match load {
        Load::Current(current) => current,
        Load::Power(power) => power / volts,
        Load::Resistance(resistance) => volts / resistance,
    }
}
