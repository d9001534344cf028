//! How far off the resistance of an own cell may still be where the catalogue's points do not reach.

use overwinter_model::Temperature;
use overwinter_model::cell::{Beyond, Cell};

use super::point::WEIGHTS;
use crate::fit::{Point, is_short};
use crate::points::{Measure, RatedCell, evaluate, pulse};

/// By how much the resistances are turned to see what a point says of them, in logarithms.
const TURN: f64 = 0.05;

/// The doubt of the resistances for each step away from the catalogue's points, after `points`: see
/// [`BeyondPoints`](overwinter_model::cell::BeyondPoints).
///
/// A season draws one number and takes it times the way, so a pulse that was measured at the end of a way tells that
/// number, the better the longer the way and the smaller its own error. The doubt of the catalogue's cell is
/// the prior. The errors of one bench go together (thermometer, leads, the one make): the most telling pulse
/// decides, and not how many there are.
pub(super) fn of_resistance(entry: &RatedCell, points: &[Point]) -> f64 {
    let prior = entry.cell.beyond_points.resistance;
    let pulses = points.iter().filter(|point| is_short(&point.row));
    let tellings = pulses.filter_map(|point| telling(entry, point));
    let most = tellings.fold(0.0, f64::max);
    prior / (prior * most).hypot(1.0)
}

/// By how many standard deviations a pulse moves if the resistances are `e` times as high one step away from the
/// points.
fn telling(entry: &RatedCell, point: &Point) -> Option<f64> {
    let (current, span) = pulse(entry, &point.row).ok()?;
    let temperature = Temperature::from_celsius(point.row.temp_c?);
    let steps = Beyond::of(&entry.cell.tested, current, span).at(temperature);
    let turned = RatedCell {
        cell: with_resistances(entry.cell, TURN.exp()),
        ..*entry
    };
    let [as_it_is, turned] = [entry, &turned].map(|entry| evaluate(entry, &point.row).ok());
    let (as_it_is, turned) = (as_it_is?, turned?);
    let moved = match point.measure {
        Measure::Relative => (turned.ours / as_it_is.ours).ln(),
        Measure::Absolute => turned.ours - as_it_is.ours,
    };
    let sd = WEIGHTS.error(&point.row, as_it_is.in_series);
    let telling = steps.resistance * moved.abs() / TURN / sd;
    telling.is_finite().then_some(telling)
}

/// The cell with so many times its resistances.
fn with_resistances(mut cell: Cell, times: f64) -> Cell {
    cell.ohmic.fresh = cell.ohmic.fresh * times;
    for branch in &mut cell.branches {
        branch.resistor.fresh = branch.resistor.fresh * times;
    }
    cell
}
