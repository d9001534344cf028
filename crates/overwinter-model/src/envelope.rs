//! What is around stored bytes: their kind, their version, their length and a checksum.
//!
//! ```text
//! offset      bytes
//! 0           4      magic: the kind
//! 4           2      format version of the payload, little-endian
//! 6           2      length n of the payload, little-endian
//! 8           n      payload
//! 8 + n       4      CRC-32 of everything before it, little-endian
//! ```
//!
//! No version of a payload changes this, so that a version that is not known can still be told from
//! bytes that are damaged.

use core::fmt;

use crc::{CRC_32_ISO_HDLC, Crc, NoTable};

/// Bytes before the payload.
pub(crate) const HEADER_BYTES: usize = 8;

/// Bytes around the payload.
pub(crate) const AROUND_BYTES: usize = HEADER_BYTES + CHECKSUM_BYTES;

const CHECKSUM_BYTES: usize = 4;

/// Bit by bit: a table would take a kilobyte of a small device to save it a millisecond.
const CHECKSUM: Crc<u32, NoTable> = Crc::<u32, NoTable>::new(&CRC_32_ISO_HDLC);

/// A kind of stored bytes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Kind {
    pub(crate) magic: [u8; 4],
    /// The version that is written, and the only one that is read.
    pub(crate) version: u16,
}

/// Why stored bytes cannot be used. Each variant carries what was found.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum EnvelopeError {
    /// They are of another kind: they do not begin with its four bytes.
    OtherKind,
    /// Some are missing at the end.
    CutShort {
        /// How many there should be.
        expected: usize,
        /// How many there are.
        actual: usize,
    },
    /// There are more than they say themselves.
    TooLong {
        /// How many there should be.
        expected: usize,
        /// How many there are.
        actual: usize,
    },
    /// They were damaged.
    Checksum {
        /// What stands at their end.
        stored: u32,
        /// What it should be.
        computed: u32,
    },
    /// They are whole, but of a version that is not read here.
    Version {
        /// Theirs.
        found: u16,
        /// The one that is.
        known: u16,
    },
}

impl fmt::Display for EnvelopeError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::OtherKind => write!(f, "the first four bytes are those of something else"),
            Self::CutShort { expected, actual } => {
                write!(f, "cut short: {actual} bytes, of {expected}")
            }
            Self::TooLong { expected, actual } => {
                write!(f, "longer than it says: {actual} bytes, of {expected}")
            }
            Self::Checksum { stored, computed } => write!(
                f,
                "damaged: its checksum is {stored:08x}, that of its bytes {computed:08x}"
            ),
            Self::Version { found, known } if found > known => write!(
                f,
                "written by a newer program: format version {found}, version {known} is read"
            ),
            Self::Version { found, known } => {
                write!(f, "of format version {found}, only version {known} is read")
            }
        }
    }
}

impl core::error::Error for EnvelopeError {}

/// The CRC-32 of some bytes.
pub(crate) fn checksum(bytes: &[u8]) -> u32 {
    CHECKSUM.checksum(bytes)
}

/// Puts the envelope around a payload that `write` puts at the start of the bytes that it is given,
/// telling how many it took. Gives the number of bytes in all, or `None` if `buffer` is too small or
/// the payload longer than its length can say.
pub(crate) fn seal(
    kind: Kind,
    buffer: &mut [u8],
    write: impl FnOnce(&mut [u8]) -> Option<usize>,
) -> Option<usize> {
    let (header, place) = buffer.split_first_chunk_mut::<HEADER_BYTES>()?;
    let length = write(place)?;
    let [m0, m1, m2, m3] = kind.magic;
    let [v0, v1] = kind.version.to_le_bytes();
    let [l0, l1] = u16::try_from(length).ok()?.to_le_bytes();
    *header = [m0, m1, m2, m3, v0, v1, l0, l1];
    let covered = HEADER_BYTES + length;
    let (before, after) = buffer.split_at_mut_checked(covered)?;
    let place = after.first_chunk_mut::<CHECKSUM_BYTES>()?;
    *place = checksum(before).to_le_bytes();
    Some(covered + CHECKSUM_BYTES)
}

/// As much of `bytes` as the envelope at their start says that it takes, or all if there is less.
#[cfg(feature = "gauge")]
pub(crate) fn first(bytes: &[u8]) -> &[u8] {
    let said = bytes.get(6..HEADER_BYTES).and_then(<[u8]>::first_chunk);
    let payload = said.map_or(0, |said| usize::from(u16::from_le_bytes(*said)));
    bytes.get(..AROUND_BYTES + payload).unwrap_or(bytes)
}

/// The payload of `bytes`.
///
/// # Errors
/// [`EnvelopeError`], by the first of its variants that holds.
pub(crate) fn open(kind: Kind, bytes: &[u8]) -> Result<&[u8], EnvelopeError> {
    let actual = bytes.len();
    if !kind.magic.iter().zip(bytes).all(|(a, b)| a == b) || bytes.is_empty() {
        return Err(EnvelopeError::OtherKind);
    }
    let cut_short = |expected| EnvelopeError::CutShort { expected, actual };
    let (header, rest) = bytes
        .split_first_chunk::<HEADER_BYTES>()
        .ok_or(cut_short(AROUND_BYTES))?;
    let [_, _, _, _, v0, v1, l0, l1] = *header;
    let length = usize::from(u16::from_le_bytes([l0, l1]));
    let expected = AROUND_BYTES + length;
    let (payload, end) = rest.split_at_checked(length).ok_or(cut_short(expected))?;
    let stored = *end.first_chunk().ok_or(cut_short(expected))?;
    if actual > expected {
        return Err(EnvelopeError::TooLong { expected, actual });
    }
    let stored = u32::from_le_bytes(stored);
    let covered = bytes.get(..HEADER_BYTES + length).unwrap_or_default();
    let computed = checksum(covered);
    if stored != computed {
        return Err(EnvelopeError::Checksum { stored, computed });
    }
    let found = u16::from_le_bytes([v0, v1]);
    if found != kind.version {
        return Err(EnvelopeError::Version {
            found,
            known: kind.version,
        });
    }
    Ok(payload)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;
    use std::vec::Vec;

    const KIND: Kind = Kind {
        magic: *b"test",
        version: 3,
    };

    fn sealed(kind: Kind, payload: &[u8]) -> Vec<u8> {
        let mut buffer = std::vec![0; payload.len() + AROUND_BYTES];
        let length = seal(kind, &mut buffer, |place| {
            place.get_mut(..payload.len())?.copy_from_slice(payload);
            Some(payload.len())
        });
        assert_eq!(length, Some(buffer.len()));
        buffer
    }

    /// The check value of the catalogue of CRC algorithms for this one, CRC-32/ISO-HDLC.
    #[test]
    fn checksum_is_the_common_one() {
        assert_eq!(checksum(b"123456789"), 0xcbf4_3926);
    }

    #[test]
    fn header_is_as_it_is_written_down() {
        let bytes = sealed(KIND, &[7, 8]);
        assert_eq!(bytes[..10], *b"test\x03\x00\x02\x00\x07\x08");
        assert_eq!(bytes[10..], checksum(&bytes[..10]).to_le_bytes());
    }

    #[test]
    fn what_is_wrong_is_named() {
        let bytes = sealed(KIND, &[1, 2, 3]);
        assert_eq!(open(KIND, &[]), Err(EnvelopeError::OtherKind));
        assert_eq!(open(KIND, b"text"), Err(EnvelopeError::OtherKind));
        let mut longer = bytes.clone();
        longer.push(0);
        let (expected, actual) = (15, 16);
        let error = EnvelopeError::TooLong { expected, actual };
        assert_eq!(open(KIND, &longer), Err(error));
        for version in [2, 4] {
            let other = sealed(Kind { version, ..KIND }, &[]);
            let error = EnvelopeError::Version {
                found: version,
                known: 3,
            };
            assert_eq!(open(KIND, &other), Err(error));
        }
    }

    #[test]
    fn a_buffer_that_is_too_small_is_left_alone() {
        for room in 0..AROUND_BYTES {
            assert_eq!(
                seal(KIND, &mut [0; AROUND_BYTES][..room], |_| Some(0)),
                None
            );
        }
        let mut buffer = std::vec![0; 70_000];
        assert_eq!(seal(KIND, &mut buffer, |_| Some(65_536)), None);
    }

    proptest! {
        #[test]
        fn what_goes_in_comes_out(payload in prop::collection::vec(any::<u8>(), 0..300)) {
            let bytes = sealed(KIND, &payload);
            prop_assert_eq!(open(KIND, &bytes), Ok(payload.as_slice()));
        }

        #[test]
        fn no_part_is_taken_for_the_whole(
            payload in prop::collection::vec(any::<u8>(), 0..300), kept in 0.0..1.0_f64
        ) {
            let bytes = sealed(KIND, &payload);
            let kept = (kept * bytes.len() as f64) as usize;
            let error = open(KIND, &bytes[..kept]).unwrap_err();
            let cut = matches!(error, EnvelopeError::CutShort { actual, .. } if actual == kept);
            prop_assert!(cut || kept == 0, "{:?}", error);
        }

        #[test]
        fn anything_at_all_is_no_panic(bytes in prop::collection::vec(any::<u8>(), 0..40)) {
            let _ = open(KIND, &bytes);
            let _ = open(KIND, &[b"test", bytes.as_slice()].concat());
        }
    }
}
