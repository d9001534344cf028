//! How well the catalogue's cells fit their published points.

use super::accuracy_table::ACCURACY;

/// How well one cell fits the points of one role.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct RoleAccuracy {
    /// Points: durations, capacities, energies, voltages and resistances.
    pub points: usize,
    /// Median and 90 % error of durations, capacities and energies, relative.
    pub durations: Option<(f64, f64)>,
    /// Median and 90 % error of the voltages of one cell, volts.
    pub voltages_v: Option<(f64, f64)>,
    /// Median and 90 % error of the resistances, relative.
    pub resistances: Option<(f64, f64)>,
}

/// How well one cell fits its published points.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Accuracy {
    /// Its name in the catalogue.
    pub cell: &'static str,
    /// Points that decided its parameters.
    pub fitted: RoleAccuracy,
    /// Points that the fit never saw.
    pub held_out: RoleAccuracy,
}

/// That of a cell of the catalogue; `None` for one without points of its own.
#[must_use]
pub fn accuracy(name: &str) -> Option<&'static Accuracy> {
    ACCURACY.iter().find(|accuracy| accuracy.cell == name)
}
