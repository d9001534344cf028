//! Written by the fit (`overwinter-fit`), as `datasheets-notes/summary.csv` is. Not to be edited.

use super::accuracy::Accuracy;

pub(super) static ACCURACY: &[Accuracy] = &[];
