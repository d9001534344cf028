//! `embed`: a camera's season as bytes for a microcontroller, and what such bytes hold.

mod text;

use std::path::Path;

use overwinter_line::answer::embed::Embedded;
use overwinter_model::blob::{self, BlobError};

pub use text::text;

use super::json_text;

use crate::output::{Kind, Output};

/// The answer for a script.
#[must_use]
pub fn json(answer: &Embedded) -> String {
    json_text(&answer.document)
}

/// A blob's file; `force` replaces whatever file is there.
#[must_use]
pub fn output(path: &Path, force: bool) -> Output {
    let kind = Kind {
        what: "a blob that this program wrote",
        wrote: is_blob,
    };
    Output::new(path, kind, force)
}

/// Whether a file that begins so is a blob, a spoilt one included.
fn is_blob(head: &[u8]) -> bool {
    !matches!(
        blob::decode(head),
        Err(BlobError::Envelope(
            overwinter_model::EnvelopeError::OtherKind
        ))
    )
}
