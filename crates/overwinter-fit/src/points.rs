//! Which rows a fit uses, and how much each weighs.

use overwinter::points::{How, Measure, Row, entry_for, evaluate};
use overwinter_model::cell::catalogue::CatalogueCell;

/// What a row is to a fit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Role {
    /// Decides the parameters.
    Fitted,
    /// Every row whose running number is a multiple of three: never seen by the fit.
    HeldOut,
    /// From memory, where no other point exists.
    WeakPrior,
}

impl Role {
    pub(crate) const fn word(self) -> &'static str {
        match self {
            Self::Fitted => "fitted",
            Self::HeldOut => "held out",
            Self::WeakPrior => "from memory",
        }
    }
}

/// A row that the model can repeat.
#[derive(Clone, Debug)]
pub(crate) struct Point {
    pub(crate) row: Row,
    pub(crate) role: Role,
    pub(crate) measure: Measure,
    /// One standard deviation: relative, or in the row's unit.
    pub(crate) sigma: f64,
}

/// What kinds of figures there are, as far as the aims for them differ.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Group {
    /// Durations, capacities, energies and shares of them.
    Services,
    Voltages,
    Resistances,
}

impl Group {
    pub(crate) const ALL: [Self; 3] = [Self::Services, Self::Voltages, Self::Resistances];

    pub(crate) fn of(row: &Row) -> Self {
        match row.quantity.as_str() {
            "voltage_V" | "ocv_V" => Self::Voltages,
            "resistance_ohm" => Self::Resistances,
            _ => Self::Services,
        }
    }

    pub(crate) const fn word(self) -> &'static str {
        match self {
            Self::Services => "durations, capacities, energies",
            Self::Voltages => "voltages",
            Self::Resistances => "resistances",
        }
    }
}

/// The rows that the model can repeat with this cell. `from_memory` lets memory rows in as weak
/// priors.
pub(crate) fn usable(rows: Vec<Row>, entry: &CatalogueCell, weights: &Weights) -> Vec<Point> {
    rows.into_iter()
        .filter_map(|row| {
            if entry_for(&row).ok()?.name != entry.name {
                return None;
            }
            let modelled = evaluate(entry, &row).ok()?;
            let held = row.running_number().is_some_and(|n| n % 3 == 0);
            let role = match row.how {
                How::Memory if weights.from_memory => Role::WeakPrior,
                How::Memory => return None,
                _ if held => Role::HeldOut,
                _ => Role::Fitted,
            };
            let sigma = weights.sigma(&row, entry, f64::from(modelled.in_series));
            Some(Point {
                row,
                role,
                measure: modelled.measure,
                sigma,
            })
        })
        .collect()
}

/// How far another grade may be off, relative: alkaline cells of nine makes span that much.
const OTHER_GRADE: f64 = 0.2;

/// What adds to the tolerance of the rows of one cell.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Weights {
    /// How far the grades under one name lie apart, relative, in durations.
    pub(crate) grades: f64,
    /// Sources of figures of other grades than the one the cell stands for: they show how far
    /// grades lie apart, and weigh little.
    pub(crate) other_grades: &'static [&'static str],
    /// Whether memory rows enter as weak priors: only where no other point exists.
    pub(crate) from_memory: bool,
}

impl Weights {
    /// The row's own tolerance, with what a good model may be off by and what the grades differ.
    fn sigma(&self, row: &Row, entry: &CatalogueCell, cells: f64) -> f64 {
        // Driven far below its floor a cell gives what no device gets.
        let floor = entry.cell.floor.as_volts();
        let driven_over = row.cutoff_v.is_some_and(|volts| volts < 0.5 * floor);
        let own = self.sigma_above_floor(row, cells);
        if driven_over {
            own.hypot(0.3)
        } else if row.how != How::Memory && row.temp_c.is_some_and(|celsius| celsius < 5.0) {
            // There are few, and the cold is what this is for.
            0.5 * own
        } else {
            own
        }
    }

    fn sigma_above_floor(&self, row: &Row, cells: f64) -> f64 {
        let tolerance = row.tol_pct.unwrap_or(10.0) / 100.0;
        match Group::of(row) {
            // 15 mV a cell: the open-circuit table and one slow branch do no better.
            Group::Voltages => (tolerance * row.value).hypot(0.015 * cells),
            Group::Resistances => tolerance.hypot(0.1),
            // A share of the same cell's own capacity does not depend on its grade.
            Group::Services if row.quantity.contains("pct") => tolerance.hypot(0.02),
            Group::Services if self.other_grades.contains(&row.source_id.as_str()) => {
                tolerance.hypot(OTHER_GRADE)
            }
            Group::Services => tolerance.hypot(0.02).hypot(self.grades),
        }
    }
}
