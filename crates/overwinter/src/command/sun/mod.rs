//! `sun`: the sun over the season at the site.

mod json;
mod text;

pub use json::json;
pub use text::text;
