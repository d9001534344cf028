//! Turns points of discharges, voltages and resistances into a cell's parameters: weighted least
//! squares with a robust loss, in which every parameter has its start as a prior.
//!
//! The catalogue's cells come out of it (`overwinter-fit` holds their recipes), and so does a
//! user's own cell ([`crate::cell_from_points`]).

mod digits;
mod knob;
mod point;
mod problem;
mod residual;
mod tested;

pub use digits::{clean, rounded};
pub use knob::{Free, Knob};
pub(crate) use point::is_short;
pub use point::{Group, Point, Role, Weights};
pub use problem::{Fitted, Problem};
pub use residual::{Errors, Residual, residuals};
pub use tested::{tested, wider};
