//! What a fit is held against, and how much each point weighs.

use overwinter_model::Time;

use crate::points::{Condition, How, Measure, Row};

/// What a row is to a fit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Role {
    /// Decides the parameters.
    Fitted,
    /// Never seen by the fit.
    HeldOut,
    /// From memory, where no other point exists.
    WeakPrior,
}

impl Role {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::Fitted, Self::HeldOut, Self::WeakPrior];

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

/// Whether it is of a pulse as short as a flash.
pub(crate) fn is_short(row: &Row) -> bool {
    const LONGEST: Time = Time::from_seconds(1.0);
    match Condition::parse(&row.condition_load) {
        Ok(
            Condition::Pulse(_, span)
            | Condition::Step { span, .. }
            | Condition::PulseAgainst { span, .. },
        ) => span <= LONGEST,
        _ => false,
    }
}

/// What adds to the tolerance of the rows of one cell.
#[derive(Clone, Copy, Debug)]
pub struct Weights {
    /// How far makes sold under one name lie apart, relative, in durations: one row is of one make.
    pub makes: f64,
    /// The same in the voltages of one cell under load, volts.
    pub makes_v: f64,
    /// Whether memory rows enter as weak priors: only where no other point exists.
    pub from_memory: bool,
}

impl Weights {
    /// One standard deviation of a row, relative or in its unit: its own tolerance, with what a good
    /// model may be off by and what makes differ. The cell was tested with so many `in_series`.
    #[must_use]
    pub fn sigma(&self, row: &Row, in_series: u8) -> f64 {
        let own = self.error(row, in_series);
        let cold = row.temp_c.is_some_and(|celsius| celsius < 5.0);
        // There are few, and a flash in the cold is what this is for; pulses are a camera's.
        match row.how {
            How::Memory => own,
            _ if is_short(row) => own / 4.0,
            _ if row.quantity == "service_pulses" => own / 8.0,
            _ if cold => own / 2.0,
            _ => own,
        }
    }

    /// One standard deviation of a row before it is weighed: relative or in its unit.
    pub(crate) fn error(&self, row: &Row, in_series: u8) -> f64 {
        let cells = f64::from(in_series);
        let tolerance = row.tol_pct.unwrap_or(10.0) / 100.0;
        // The median of so many lies so much closer to that of all.
        let of_makes = row.makes.unwrap_or(1.0).sqrt();
        match Group::of(row) {
            // 15 mV a cell: the open-circuit table does no better.
            Group::Voltages if row.quantity == "voltage_V" => (tolerance * row.value)
                .hypot(0.015 * cells)
                .hypot(self.makes_v * cells / of_makes),
            Group::Voltages => (tolerance * row.value).hypot(0.015 * cells),
            Group::Resistances => tolerance.hypot(0.1),
            // A share of the same cell's own capacity does not depend on its make.
            Group::Services if row.quantity.contains("pct") => tolerance.hypot(0.02),
            Group::Services => tolerance.hypot(0.02).hypot(self.makes / of_makes),
        }
    }
}
