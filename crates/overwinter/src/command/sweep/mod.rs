//! `sweep`: days over values, as text, JSON, tables and pictures.

mod answer;
mod drawing;
mod table;

pub use answer::{csv, csv_output, json};
pub use drawing::drawing;
pub use table::text;
