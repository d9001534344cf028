//! Whole-program tests: each runs the binary in an empty folder of its own.

mod any_text;
mod bad_flags;
mod bad_lines;
mod bad_values;
mod bad_weather;
mod bench_notes;
mod books;
mod check;
mod commands;
mod docs;
mod embed;
mod examples;
mod odds;
mod own_cell;
mod panels;
mod pictures;
mod refusal;
mod revisit;
mod sandbox;
mod settings;
mod solar;
mod sun;
mod sweep;
mod sweep_refused;
mod sweep_text;
