//! A gauge as bytes that outlast a restart, and two places for them of which one is always whole.
//!
//! The bytes are those of the blob's envelope (kind `OWGA`): a checksum is at the end, so that a write
//! that was cut off is seen. The payload is, in `postcard`'s encoding: the checksum of the blob, how
//! many times was saved, the hour of the season, the camera's state, and how sure its depth is.

use core::fmt;

use serde::{Deserialize, Serialize};

use super::belief::Belief;
use super::passed::HOUR;
use super::{Gauge, LAST_HOUR};
use crate::blob::{Installation, OutOfRange, within};
use crate::cell::CellState;
use crate::envelope::{self, EnvelopeError, Kind};
use crate::season::{CameraState, Feeds};
use crate::units::Charge;

const KIND: Kind = Kind {
    magic: *b"OWGA",
    version: 1,
};

/// No saved gauge is longer: the buffer that [`Gauge::save`] needs.
///
/// 16 numbers of at most 9 bytes, three of at most 5, four marks, and the envelope.
pub const MOST_SAVED_BYTES: usize = 176;

/// All of a gauge but the blob's content.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub(super) struct Saved {
    #[serde(with = "crate::number::count")]
    pub(super) blob_checksum: u32,
    /// How many times it was saved: the higher, the newer.
    #[serde(with = "crate::number::count")]
    pub(super) saves: u32,
    #[serde(with = "crate::number::count")]
    pub(super) hour: u32,
    pub(super) camera: CameraState,
    pub(super) belief: Belief,
}

/// Why saved bytes cannot be gone on with, or a gauge not be saved.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub enum SavedError {
    /// Not a saved gauge, not a whole one, damaged, or of another version.
    Envelope(EnvelopeError),
    /// The checksum is right, and what it covers makes no sense.
    Content,
    /// Saved with another blob.
    OtherBlob {
        /// The checksum of that blob.
        saved: u32,
        /// The checksum of the one at hand.
        known: u32,
    },
    /// A value that cannot be gone on with.
    OutOfRange(OutOfRange),
    /// The buffer is too small: see [`MOST_SAVED_BYTES`].
    NoRoom,
}

impl fmt::Display for SavedError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Envelope(why) => write!(f, "the saved gauge is unusable: {why}"),
            Self::Content => write!(f, "what the saved gauge holds makes no sense"),
            Self::OtherBlob { saved, known } => write!(
                f,
                "saved with the blob of checksum {saved:08x}, not with {known:08x}"
            ),
            Self::OutOfRange(why) => write!(f, "the saved gauge cannot be gone on with: {why}"),
            Self::NoRoom => write!(f, "the buffer is too small for the gauge"),
        }
    }
}

impl core::error::Error for SavedError {}

impl From<EnvelopeError> for SavedError {
    fn from(why: EnvelopeError) -> Self {
        Self::Envelope(why)
    }
}

impl From<OutOfRange> for SavedError {
    fn from(why: OutOfRange) -> Self {
        Self::OutOfRange(why)
    }
}

impl<'a> Gauge<'a> {
    /// Writes the gauge to the start of `buffer`, and tells how many bytes it took.
    ///
    /// # Errors
    /// [`SavedError::NoRoom`].
    #[inline(never)]
    pub fn save(&mut self, buffer: &mut [u8]) -> Result<usize, SavedError> {
        let next = Saved {
            saves: self.saved.saves.saturating_add(1),
            ..self.saved
        };
        let length = envelope::seal(KIND, buffer, |place| {
            let written = postcard::to_slice(&next, place).ok()?;
            Some(written.len())
        });
        let length = length.ok_or(SavedError::NoRoom)?;
        self.saved = next;
        Ok(length)
    }

    /// Which of two slots the next [`Gauge::save`] belongs in, 0 or 1: never the one that the gauge
    /// was saved in last or resumed from.
    #[must_use]
    pub const fn next_slot(&self) -> usize {
        if self.saved.saves.is_multiple_of(2) {
            0
        } else {
            1
        }
    }

    /// A gauge that goes on where a saved one was, to the last bit.
    ///
    /// # Errors
    /// [`SavedError`] for anything that is not the whole of a gauge that was saved with this blob.
    #[inline(never)]
    pub fn resume(
        installation: &'a Installation,
        blob_checksum: u32,
        bytes: &[u8],
    ) -> Result<Self, SavedError> {
        let saved = read(bytes)?;
        if saved.blob_checksum != blob_checksum {
            return Err(SavedError::OtherBlob {
                saved: saved.blob_checksum,
                known: blob_checksum,
            });
        }
        check(installation, &saved)?;
        Ok(Self {
            installation,
            saved,
        })
    }
}

/// The newer of two slots that holds a whole gauge that was saved with this blob, without what the
/// slot has behind it. `None` if neither does.
#[must_use]
pub fn newest<'s>(blob_checksum: u32, slot_0: &'s [u8], slot_1: &'s [u8]) -> Option<&'s [u8]> {
    let whole = |slot| {
        let bytes = envelope::first(slot);
        let saved = read(bytes).ok()?;
        (saved.blob_checksum == blob_checksum).then_some((saved.saves, bytes))
    };
    match (whole(slot_0), whole(slot_1)) {
        (Some((saves, _)), Some((more, bytes))) if more > saves => Some(bytes),
        (Some((_, bytes)), _) | (None, Some((_, bytes))) => Some(bytes),
        (None, None) => None,
    }
}

fn read(bytes: &[u8]) -> Result<Saved, SavedError> {
    let payload = envelope::open(KIND, bytes)?;
    match postcard::take_from_bytes(payload) {
        Ok((saved, [])) => Ok(saved),
        _ => Err(SavedError::Content),
    }
}

/// Whether the model can go on from this.
fn check(installation: &Installation, saved: &Saved) -> Result<(), SavedError> {
    let Saved {
        hour,
        camera,
        belief,
        ..
    } = saved;
    within("hour", f64::from(*hour), &(0.0..=f64::from(LAST_HOUR)))?;
    let hours = camera.after / HOUR;
    within("hours", hours, &(f64::from(*hour)..=f64::from(*hour)))?;
    let scenario = &installation.scenario;
    cell(scenario.pack.cell().capacity, &camera.cells.ordinary)?;
    cell(scenario.pack.weakest().capacity(), &camera.cells.weakest)?;
    let pictures = 0.0..=1e12;
    within("waiting pictures", camera.waiting_pictures, &pictures)?;
    within("on the card (MB)", camera.card_mb, &(0.0..=1e18))?;
    match (&scenario.feeds, camera.store) {
        (Some(Feeds::Store(store)), Some(state)) => {
            let full = store.capacity.as_joules();
            within("in the store (J)", state.held.as_joules(), &(0.0..=full))?;
            within("store (K)", state.pack.as_kelvin(), &KELVIN)?;
        }
        (_, Some(_)) => return Err(SavedError::Content),
        (_, None) => {}
    }
    if let Some(warmth) = camera.warmth {
        within("pack (K)", warmth.as_kelvin(), &KELVIN)?;
    }
    within("deviation of the depth", belief.sd, &(1e-4..=1.0))?;
    within("news", belief.news, &(1e-5..=1.0))?;
    Ok(())
}

const KELVIN: core::ops::RangeInclusive<f64> = 150.0..=400.0;

/// What a cell may hold on its way, wider than what it may start with: the wells are not level.
fn cell(capacity: Charge, state: &CellState) -> Result<(), OutOfRange> {
    let held = |what, charge| within(what, charge / capacity, &(-1.0..=2.0));
    held("available charge", state.wells.available)?;
    held("bound charge", state.wells.bound)?;
    let volts = state.polarisation.as_volts();
    within("polarisation (V)", volts, &(-100.0..=100.0))?;
    within("age (d)", state.age.as_days(), &(0.0..=1e9))
}
