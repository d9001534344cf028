//! An envelope around any bytes.

use crc::{CRC_32_ISO_HDLC, Crc};

/// The bytes as a payload, whole and undamaged.
pub(crate) fn sealed(magic: [u8; 4], version: u16, payload: &[u8]) -> Vec<u8> {
    let payload = &payload[..payload.len().min(usize::from(u16::MAX))];
    let mut bytes = magic.to_vec();
    bytes.extend(version.to_le_bytes());
    bytes.extend((payload.len() as u16).to_le_bytes());
    bytes.extend(payload);
    let checksum = Crc::<u32>::new(&CRC_32_ISO_HDLC).checksum(&bytes);
    bytes.extend(checksum.to_le_bytes());
    bytes
}
