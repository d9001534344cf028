//! What a command answers: worked out here, printed and drawn by whoever asked.

mod any;
pub mod budget;
pub mod catalogue;
pub mod cell_from_points;
pub mod check;
pub mod compare;
pub mod discharge;
pub mod document;
pub mod embed;
pub mod ends;
pub mod figures;
pub mod forecast;
mod path;
pub mod request;
pub mod revisit;
pub mod settings;
pub mod solar;
pub mod sun;
pub mod sweep;
pub mod warnings;

pub use any::{Answer, Answered, Request, answer};

use crate::problem::Failure;

/// What cannot be run or sampled, as an answer to a request.
fn refused(why: impl std::error::Error) -> Failure {
    Failure::Request {
        message: why.to_string(),
        help: None,
    }
}
