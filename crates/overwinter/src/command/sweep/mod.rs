//! `sweep`: days over values, as text, JSON, tables and pictures.

mod answer;
mod contents;
mod table;

pub use answer::{csv, csv_output, json};
pub use contents::picture_contents;
pub use table::text;
