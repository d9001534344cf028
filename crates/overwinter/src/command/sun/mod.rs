//! `sun`: the sun over the season at the site.

mod json;
mod text;

pub use json::json;
pub use text::text;

/// How near to a lens's axis the sun counts unless it is said, degrees: half the width of a usual
/// camera's picture (40 to 55 degrees), and some more where it shines onto the glass and the motion
/// sensor beside it (common practice, no source).
pub const WITHIN_DEG: f64 = 30.0;
