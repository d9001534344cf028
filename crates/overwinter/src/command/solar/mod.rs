//! `solar`: panels and stores, as text, JSON and maps.

mod drawing;
mod json;
mod text;

pub use drawing::drawing;
pub use json::json;
pub use text::text;
