//! What a fit is held against, and how much each point weighs.

use overwinter_model::Voltage;

use crate::points::{How, Measure, Row};

/// What a row is to a fit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Role {
    /// Decides the parameters.
    Fitted,
    /// Never seen by the fit.
    HeldOut,
    /// From memory, where no other point exists.
    WeakPrior,
    /// Of another grade under the same name: never seen by the fit, and shows how far grades differ.
    OtherGrade,
    /// At odds with several other sources: never seen by the fit.
    Conflicting,
}

impl Role {
    /// All of them.
    pub const ALL: [Self; 5] = [
        Self::Fitted,
        Self::HeldOut,
        Self::WeakPrior,
        Self::OtherGrade,
        Self::Conflicting,
    ];

    /// Whether points of this role move the parameters.
    #[must_use]
    pub const fn decides(self) -> bool {
        matches!(self, Self::Fitted | Self::WeakPrior)
    }

    /// In tables.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Fitted => "fitted",
            Self::HeldOut => "held out",
            Self::WeakPrior => "from memory",
            Self::OtherGrade => "other grades",
            Self::Conflicting => "conflicting",
        }
    }
}

/// A row that the model can repeat.
#[derive(Clone, Debug)]
pub struct Point {
    /// As written.
    pub row: Row,
    /// What it is to the fit.
    pub role: Role,
    /// How its distance is judged.
    pub measure: Measure,
    /// One standard deviation: relative, or in the row's unit.
    pub sigma: f64,
}

/// What kinds of figures there are, as far as the aims for them differ.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Group {
    /// Durations, capacities, energies and shares of them.
    Services,
    /// Voltages, open or under load.
    Voltages,
    /// Resistances.
    Resistances,
}

impl Group {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::Services, Self::Voltages, Self::Resistances];

    /// That of a row.
    #[must_use]
    pub fn of(row: &Row) -> Self {
        match row.quantity.as_str() {
            "voltage_V" | "ocv_V" => Self::Voltages,
            "resistance_ohm" => Self::Resistances,
            _ => Self::Services,
        }
    }

    /// In tables.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Services => "durations, capacities, energies",
            Self::Voltages => "voltages",
            Self::Resistances => "resistances",
        }
    }
}

/// What adds to the tolerance of the rows of one cell.
#[derive(Clone, Copy, Debug)]
pub struct Weights {
    /// How far the makes of one grade lie apart, relative, in durations.
    pub grades: f64,
    /// Whether memory rows enter as weak priors: only where no other point exists.
    pub from_memory: bool,
}

impl Weights {
    /// One standard deviation of a row, relative or in its unit: its own tolerance, with what a good
    /// model may be off by and what the grades differ. `floor` is that of the cell, which was tested
    /// with so many `in_series`.
    #[must_use]
    pub fn sigma(&self, row: &Row, floor: Voltage, in_series: u8) -> f64 {
        // Driven far below its floor a cell gives what no device gets.
        let floor = floor.as_volts();
        let driven_over = row.cutoff_v.is_some_and(|volts| volts < 0.5 * floor);
        let own = self.sigma_above_floor(row, f64::from(in_series));
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
            Group::Services => tolerance.hypot(0.02).hypot(self.grades),
        }
    }
}
