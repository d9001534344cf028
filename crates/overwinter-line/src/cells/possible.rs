//! Whether a fitted cell may be written: whether its file could be read back.

use super::{NamedCell, file, text};
use crate::problem::Failure;

/// Refuses a cell that wild points have driven out of what a cell can be.
///
/// # Errors
/// [`Failure::Request`] with the parameter that is out of its range.
pub fn check(named: &NamedCell) -> Result<(), Failure> {
    let text = text(named, "").map_err(|why| why.to_string());
    let refused = match text.map(|text| file::read(&text)) {
        Ok(Ok(_)) => return Ok(()),
        Ok(Err(problems)) => problems.first().map(|problem| problem.message.clone()),
        Err(why) => Some(why),
    };
    Err(Failure::request(
        format!("no cell fits these points: {}", refused.unwrap_or_default()),
        "check their values and units, and `like`",
    ))
}
