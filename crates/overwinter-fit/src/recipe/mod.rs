//! Where each cell's fit starts, what it may turn, and what it takes as given.
//!
//! A start is the prior as well: what no point decides stays where it is put here. Where a
//! number has a source, it stands beside it; the rest are round guesses, from memory.

mod alkaline;
mod lead_acid;
mod lithium;
mod nimh;

use overwinter_line::fit::{Free, Knob, Weights};
use overwinter_model::cell::{Branch, Cell, OCV_POINTS, Resistor};
use overwinter_model::{Resistance, Temperature, Time};

/// How one cell is fitted.
pub(crate) struct Recipe {
    /// Its name in the catalogue, and that of its note.
    pub(crate) name: &'static str,
    /// What it starts from.
    pub(crate) start: Start,
    /// What the fit may turn besides the open-circuit voltage, with the freedom of each: one
    /// standard deviation in logarithms.
    pub(crate) free: &'static [(Knob, f64)],
    /// Freedom of the open-circuit voltage; `None` holds the whole curve.
    pub(crate) open_circuit: Option<Curve>,
    /// How rows weigh.
    pub(crate) weights: Weights,
    /// Whether the points of the cell that it starts from were published for this one too, so
    /// that their range counts.
    pub(crate) common_points: bool,
}

/// What a fit starts from.
pub(crate) enum Start {
    /// A cell of its own.
    Own(fn() -> Cell),
    /// The fitted cell of that name, changed.
    From(&'static str, fn(&Cell) -> Cell),
}

/// Freedom of an open-circuit curve: one standard deviation in logarithms.
#[derive(Clone, Copy)]
pub(crate) struct Curve {
    /// Of the voltage of a fresh or full cell.
    pub(crate) top: f64,
    /// Of each slope.
    pub(crate) slopes: f64,
}

impl Recipe {
    /// The knobs of a fit from `start`. The open-circuit voltage comes first, top to bottom.
    pub(crate) fn knobs(&self, start: &Cell) -> Vec<Free> {
        let mut free = Vec::new();
        if let Some(prior) = self.open_circuit {
            free.push(Free::new(Knob::OcvTop, start, prior.top));
            let slopes = (0..OCV_POINTS - 1).map(Knob::OcvSlope);
            free.extend(slopes.map(|knob| Free::new(knob, start, prior.slopes)));
        }
        free.extend(
            self.free
                .iter()
                .map(|&(knob, prior)| Free::new(knob, start, prior)),
        );
        free
    }
}

/// All cells, each after what it starts from.
pub(crate) const RECIPES: &[Recipe] = &[
    alkaline::AA,
    alkaline::C,
    alkaline::D,
    lithium::IRON_DISULFIDE_AA,
    nimh::AA,
    lead_acid::TWELVE_VOLT,
    lead_acid::TWELVE_VOLT_SMALL,
    lead_acid::SIX_VOLT,
    lithium::IRON_PHOSPHATE_18650,
    lithium::ION_18650,
];

/// A resistance of a start.
const fn resistor(ohms: f64, growth: f64, late_growth: f64, activation_k: f64) -> Resistor {
    Resistor {
        fresh: Resistance::from_ohms(ohms),
        growth,
        late_growth,
        activation_k,
    }
}

/// A branch of a start.
const fn branch(resistor: Resistor, seconds: f64) -> Branch {
    Branch {
        resistor,
        time: Time::from_seconds(seconds),
    }
}

/// A range that [`overwinter_line::fit::tested`] fills in.
const NOT_YET_TESTED: overwinter_model::cell::Tested = overwinter_model::cell::Tested {
    coldest: Temperature::REFERENCE,
    warmest: Temperature::REFERENCE,
    heaviest: overwinter_model::Current::ZERO,
    heaviest_in_frost: overwinter_model::Current::ZERO,
};
