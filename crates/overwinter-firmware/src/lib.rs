//! What the image and the host both do with a blob, so that their answers can be held against
//! each other bit by bit.

#![no_std]
#![forbid(unsafe_code)]

mod answer;
mod gauge;
mod line;

pub use answer::answer;
pub use gauge::{ERASED, Slots, gauge};
pub use line::Line;
