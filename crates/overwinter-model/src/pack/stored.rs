//! A pack on its way in or out, checked on the way.

use serde::{Deserialize, Serialize};

use super::PackError;
use crate::cell::Cell;

/// A [`super::Pack`], not yet checked. The weakest cell follows from the others.
#[derive(Serialize, Deserialize)]
pub(super) struct Pack {
    cell: Cell,
    series: u8,
    parallel: u8,
}

impl TryFrom<Pack> for super::Pack {
    type Error = PackError;
    fn try_from(stored: Pack) -> Result<Self, PackError> {
        Self::new(&stored.cell, stored.series, stored.parallel)
    }
}

impl From<super::Pack> for Pack {
    fn from(pack: super::Pack) -> Self {
        Self {
            cell: *pack.cell(),
            series: pack.series(),
            parallel: pack.parallel(),
        }
    }
}
