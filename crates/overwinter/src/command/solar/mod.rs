//! `solar`: panels and stores, as text, JSON and maps.

mod contents;
mod json;
mod text;

pub use contents::picture_contents;
pub use json::json;
pub use text::text;
