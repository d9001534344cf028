//! A camera's season as bytes that a microcontroller can run: checked, versioned, without a big
//! table.
//!
//! `BLOB.md` beside this crate writes the format down. Decoding takes no memory but the value
//! itself, and what has been decoded can be run: every value is in its range.

mod read;

use core::fmt;

pub use crate::range::{LONGEST_SEASON_DAYS, OutOfRange, Quantity};

use crate::envelope::{self, EnvelopeError, HEADER_BYTES, Kind};
use crate::installation::Installation;
use crate::reader::{Reader, Wrong};

/// The version of the format that is written, and the only one that is read.
pub const VERSION: u16 = 2;

/// No blob is longer: the buffer that [`encode`] needs.
///
/// A cell has 57 numbers, its states 10, a draw up to 72, a store 6, a place 3, a climate 36, a panel
/// with its horizon and sky 134, animals 39, the sun 1: 358 of at most 9 bytes. Counts, names of
/// variants, days and the envelope are a hundred bytes at most.
pub const MOST_BYTES: usize = 3328;

const KIND: Kind = Kind {
    magic: *b"OWBL",
    version: VERSION,
};

/// Why bytes are not a blob that can be run, or an installation cannot be made one.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub enum BlobError {
    /// Not a blob, not a whole one, damaged, or of another version.
    Envelope(EnvelopeError),
    /// What stands before this byte of the blob is not what the format has there, or is outside its
    /// range.
    Content {
        /// Counted from 0 at the start of the blob.
        before_byte: usize,
    },
    /// A value that cannot be run with.
    OutOfRange(OutOfRange),
    /// The content is whole, and bytes are left over from this one of the blob on.
    LeftOver {
        /// Counted from 0 at the start of the blob.
        from_byte: usize,
    },
    /// The buffer for the blob is too small: see [`MOST_BYTES`].
    NoRoom,
}

impl fmt::Display for BlobError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Envelope(EnvelopeError::OtherKind) => {
                write!(f, "not a blob: it does not begin with OWBL")
            }
            Self::Envelope(why) => write!(f, "the blob is unusable: {why}"),
            Self::Content { before_byte } => {
                write!(
                    f,
                    "what the blob holds makes no sense before byte {before_byte}"
                )
            }
            Self::OutOfRange(why) => write!(f, "the blob cannot be run: {why}"),
            Self::LeftOver { from_byte } => {
                write!(
                    f,
                    "the blob holds more than it should from byte {from_byte} on"
                )
            }
            Self::NoRoom => write!(f, "the buffer is too small for the blob"),
        }
    }
}

impl core::error::Error for BlobError {}

impl From<EnvelopeError> for BlobError {
    fn from(why: EnvelopeError) -> Self {
        Self::Envelope(why)
    }
}

impl From<OutOfRange> for BlobError {
    fn from(why: OutOfRange) -> Self {
        Self::OutOfRange(why)
    }
}

/// Writes a blob to the start of `buffer`, reads it as a device will, and gives it.
///
/// # Errors
/// [`BlobError::OutOfRange`] if no device could run it, [`BlobError::NoRoom`] if the buffer has less
/// than it takes.
pub fn encode<'a>(
    installation: &Installation,
    buffer: &'a mut [u8],
) -> Result<&'a [u8], BlobError> {
    let length = envelope::seal(KIND, buffer, |place| {
        let written = postcard::to_slice(installation, place).ok()?;
        Some(written.len())
    });
    let blob = length
        .and_then(|length| buffer.get(..length))
        .ok_or(BlobError::NoRoom)?;
    decode(blob)?;
    Ok(blob)
}

/// Reads a blob.
///
/// # Errors
/// [`BlobError`] for anything that is not a whole, undamaged blob of this version whose every value
/// is in its range.
pub fn decode(bytes: &[u8]) -> Result<Installation, BlobError> {
    let mut installation = Installation::blank();
    decode_into(bytes, &mut installation)?;
    Ok(installation)
}

/// Reads a blob to where it is to stay, for a device that has no room for it twice. After an error
/// there is [`Installation::blank()`] in its place.
///
/// # Errors
/// As [`decode`].
pub fn decode_into(bytes: &[u8], place: &mut Installation) -> Result<(), BlobError> {
    let read = fill(bytes, place);
    if read.is_err() {
        clear(place);
    }
    read
}

/// Not part of its caller, on whose stack a whole installation would stand.
#[inline(never)]
fn clear(place: &mut Installation) {
    *place = Installation::blank();
}

fn fill(bytes: &[u8], place: &mut Installation) -> Result<(), BlobError> {
    let payload = envelope::open(KIND, bytes)?;
    let mut reader = Reader::new(payload);
    read::installation(&mut reader, place);
    let (wrong, left) = reader.end();
    let at = HEADER_BYTES + payload.len() - left;
    match wrong {
        Some(Wrong::Content) => Err(BlobError::Content { before_byte: at }),
        Some(Wrong::OutOfRange(why)) => Err(BlobError::OutOfRange(why)),
        None if left > 0 => Err(BlobError::LeftOver { from_byte: at }),
        None => Ok(()),
    }
}

/// The checksum that a blob ends with, 0 if it has none.
#[must_use]
pub fn checksum(blob: &[u8]) -> u32 {
    blob.last_chunk().map_or(0, |end| u32::from_le_bytes(*end))
}
