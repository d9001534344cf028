//! A gauge as bytes that outlast a restart, and two places for them of which one is always whole.
//!
//! The bytes are those of the blob's envelope (kind `OWGA`): a checksum is at the end, so that a write
//! that was cut off is seen. The payload is, in the blob's encoding: the checksum of the blob, how
//! many times was saved, the hour of the season, the camera's state, and how sure its depth is.

use core::fmt;

use super::Gauge;
use super::belief::Belief;
use super::passed::HOUR;
use super::stream::{self, Writer};
use crate::cell::{CellState, Wells};
use crate::envelope::{self, EnvelopeError, Kind};
use crate::installation::Installation;
use crate::pack::PackState;
use crate::range::{OutOfRange, Quantity as Of, Range};
use crate::reader::{Reader, Wrong};
use crate::season::{CameraState, Feeds};
use crate::units::{Charge, Time};

const KIND: Kind = Kind {
    magic: *b"OWGA",
    version: 2,
};

/// No saved gauge is longer: the buffer that [`Gauge::save`] needs.
///
/// 18 numbers of 9 bytes, three of at most 5, four marks, and the envelope.
pub const MOST_SAVED_BYTES: usize = 194;

/// All of a gauge but the blob's content.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(test, derive(serde::Deserialize))]
pub(super) struct Saved {
    pub(super) blob_checksum: u32,
    /// How many times it was saved: the higher, the newer.
    pub(super) saves: u32,
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
        let mut next = Saved {
            saves: self.saved.saves.saturating_add(1),
            ..self.saved
        };
        let length = envelope::seal(KIND, buffer, |place| {
            let mut writer = Writer::new(place);
            stream::pass(&mut writer, &mut next);
            writer.written()
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
        let mut reader = Reader::new(envelope::open(KIND, bytes)?);
        let mut gauge = Self {
            installation,
            saved: Saved::BLANK,
        };
        stream::pass(&mut reader, &mut gauge.saved);
        let (saved, known) = (gauge.saved.blob_checksum, blob_checksum);
        if saved == known {
            check(&mut reader, installation, &gauge.saved);
        }
        end(&reader)?;
        if saved != known {
            return Err(SavedError::OtherBlob { saved, known });
        }
        Ok(gauge)
    }
}

/// The newer of two slots that holds a whole gauge that was saved with this blob, without what the
/// slot has behind it. `None` if neither does.
#[must_use]
pub fn newest<'s>(blob_checksum: u32, slot_0: &'s [u8], slot_1: &'s [u8]) -> Option<&'s [u8]> {
    let whole = |slot| {
        let bytes = envelope::first(slot);
        let mut reader = Reader::new(envelope::open(KIND, bytes).ok()?);
        let mut saved = Saved::BLANK;
        stream::pass(&mut reader, &mut saved);
        end(&reader).ok()?;
        (saved.blob_checksum == blob_checksum).then_some((saved.saves, bytes))
    };
    match (whole(slot_0), whole(slot_1)) {
        (Some((saves, _)), Some((more, bytes))) if more > saves => Some(bytes),
        (Some((_, bytes)), _) | (None, Some((_, bytes))) => Some(bytes),
        (None, None) => None,
    }
}

impl Saved {
    /// A place to read into: zeros, which take no room in a device's flash.
    const BLANK: Self = Self {
        blob_checksum: 0,
        saves: 0,
        hour: 0,
        camera: CameraState {
            cells: PackState::EMPTY,
            store: None,
            warmth: None,
            waiting_pictures: 0.0,
            card_mb: 0.0,
            after: Time::ZERO,
        },
        belief: Belief {
            sd: 0.0,
            news: 0.0,
            unread: false,
            doubted: false,
        },
    };
}

/// What was wrong with a whole saved gauge, if anything was.
fn end(reader: &Reader<'_>) -> Result<(), SavedError> {
    match reader.end() {
        (None, 0) => Ok(()),
        (Some(Wrong::OutOfRange(why)), _) => Err(SavedError::OutOfRange(why)),
        _ => Err(SavedError::Content),
    }
}

/// Whether the model can go on from this: what depends on more than one value.
fn check(reader: &mut Reader<'_>, installation: &Installation, saved: &Saved) {
    let Saved { hour, camera, .. } = saved;
    let hour = f64::from(*hour);
    reader.check(hour, Of::SavedHour);
    reader.check_within(
        camera.after / HOUR,
        Of::SavedHour,
        &Range::between(hour, hour),
    );
    let scenario = &installation.scenario;
    cell(
        reader,
        scenario.pack.cell().capacity,
        &camera.cells.ordinary,
    );
    cell(
        reader,
        scenario.pack.weakest().capacity(),
        &camera.cells.weakest,
    );
    match (&scenario.feeds, camera.store) {
        (Some(Feeds::Store(store)), Some(state)) => {
            let full = store.capacity.as_joules();
            reader.check_up_to(state.held.as_joules(), Of::InTheStore, full);
        }
        (_, Some(_)) => reader.fail(),
        (_, None) => {}
    }
    // With a temperature a pack takes what a panel brings, which then has to be a panel of its own.
    if camera.warmth.is_some() && !matches!(scenario.feeds, Some(Feeds::Pack { .. })) {
        reader.fail();
    }
}

/// What a cell may hold on its way, wider than what it may start with: the wells are not level.
#[inline(never)]
fn cell(reader: &mut Reader<'_>, capacity: Charge, state: &CellState) {
    let full = capacity.as_coulombs();
    let Wells { available, bound } = state.wells;
    let range = Range::between(-full, 2.0 * full);
    reader.check_within(available.as_coulombs(), Of::SavedAvailable, &range);
    reader.check_within(bound.as_coulombs(), Of::SavedBound, &range);
}
