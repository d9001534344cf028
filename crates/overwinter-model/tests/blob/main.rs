//! The blob: what goes in comes out, and nothing that is not whole is taken for it.

#[path = "../cases/mod.rs"]
mod cases;
mod installations;

use installations::{installation, sample};
use overwinter_model::blob::{
    BlobError, MOST_BYTES, OutOfRange, Quantity, decode, decode_into, encode,
};
use overwinter_model::cell::catalogue;
use overwinter_model::installation::Installation;
use overwinter_model::pack::Pack;
use overwinter_model::{EnvelopeError, Time, Voltage};
use proptest::prelude::*;

fn blob(installation: &Installation) -> Vec<u8> {
    encode(installation, &mut [0; MOST_BYTES]).unwrap().to_vec()
}

/// The blob with another payload, sealed anew.
fn with_payload(change: impl FnOnce(&mut Vec<u8>)) -> Vec<u8> {
    let blob = blob(&sample());
    let mut payload = blob[8..blob.len() - 4].to_vec();
    change(&mut payload);
    let mut changed = blob[..6].to_vec();
    changed.extend((payload.len() as u16).to_le_bytes());
    changed.extend(payload);
    let checksum = crc::Crc::<u32>::new(&crc::CRC_32_ISO_HDLC).checksum(&changed);
    changed.extend(checksum.to_le_bytes());
    changed
}

proptest! {
    #[test]
    fn what_goes_in_comes_out(installation in installation()) {
        let written = blob(&installation);
        let read = decode(&written).unwrap();
        prop_assert_eq!(&read, &installation);
        prop_assert_eq!(by_serde(&written), Some((read.clone(), false)));
        // To the last bit, which equality does not see of zeros.
        prop_assert_eq!(blob(&read), written);
    }

    #[test]
    fn anything_in_an_envelope_is_read_or_refused(bytes in prop::collection::vec(any::<u8>(), 0..900)) {
        agrees_with_serde(&with_payload(|payload| *payload = bytes))?;
    }

    #[test]
    fn a_changed_payload_is_read_or_refused(place in any::<prop::sample::Index>(), value in any::<u8>()) {
        agrees_with_serde(&with_payload(|payload| {
            let place = place.index(payload.len());
            payload[place] = value;
        }))?;
    }
}

/// What the derived reading of the types makes of a blob's payload, and whether it leaves bytes over.
fn by_serde(blob: &[u8]) -> Option<(Installation, bool)> {
    let (read, left) = postcard::take_from_bytes(&blob[8..blob.len() - 4]).ok()?;
    Some((read, !left.is_empty()))
}

/// The reader of blobs is written by hand. It may refuse more, for its ranges, and nothing else.
fn agrees_with_serde(blob: &[u8]) -> Result<(), TestCaseError> {
    let by_serde = by_serde(blob);
    match decode(blob) {
        Ok(read) => {
            prop_assert!(encode(&read, &mut [0; MOST_BYTES]).is_ok());
            prop_assert_eq!(by_serde, Some((read, false)));
        }
        Err(BlobError::LeftOver { .. }) => prop_assert!(matches!(by_serde, Some((_, true)))),
        Err(BlobError::OutOfRange(_)) => {}
        Err(why) => prop_assert!(by_serde.is_none(), "{}", why),
    }
    Ok(())
}

/// Wherever a number stands, in the place of any byte and of what may be the digits behind it.
#[test]
fn what_is_no_number_is_refused_everywhere() {
    let whole = blob(&sample()).len() - 12;
    let mut refused_by_name = 0;
    for at in 0..whole {
        for value in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
            let changed = with_payload(|payload| {
                let digits = if payload[at] == 255 {
                    8
                } else {
                    let more = payload[at + 1..].iter().take_while(|byte| **byte >= 0x80);
                    1 + more.count()
                };
                let end = payload.len().min(at + 1 + digits);
                let plain = [&[255], value.to_le_bytes().as_slice()].concat();
                payload.splice(at..end, plain);
            });
            let why = decode(&changed).unwrap_err();
            refused_by_name += u32::from(matches!(why, BlobError::OutOfRange(_)));
        }
    }
    // The sample's numbers but those of its place, plane, horizon, trees, animals and normals.
    assert!(refused_by_name > 3 * 150, "{refused_by_name}");
}

#[test]
fn every_part_of_a_blob_is_refused_as_cut_short() {
    let blob = blob(&sample());
    for actual in 1..blob.len() {
        let error = decode(&blob[..actual]).unwrap_err();
        let cut = matches!(
            error,
            BlobError::Envelope(EnvelopeError::CutShort { actual: said, .. }) if said == actual
        );
        assert!(cut, "{actual}: {error}");
    }
    assert_eq!(
        decode(&[]),
        Err(BlobError::Envelope(EnvelopeError::OtherKind))
    );
}

#[test]
fn what_is_refused_leaves_a_blank_behind() {
    let _ = blob(&Installation::blank());
    let cut_short = with_payload(|payload| payload.truncate(300));
    for refused in [&b"OWBL"[..], &cut_short] {
        let mut place = sample();
        assert!(decode_into(refused, &mut place).is_err());
        assert_eq!(place, Installation::blank());
    }
}

#[test]
fn every_single_flipped_bit_is_seen() {
    let blob = blob(&sample());
    for bit in 0..blob.len() * 8 {
        let mut flipped = blob.clone();
        flipped[bit / 8] ^= 1 << (bit % 8);
        let error = decode(&flipped).unwrap_err();
        let BlobError::Envelope(why) = error else {
            panic!("bit {bit} is told as {error}");
        };
        let right = match why {
            EnvelopeError::OtherKind => (0..4).contains(&(bit / 8)),
            EnvelopeError::CutShort { .. } | EnvelopeError::TooLong { .. } => {
                (6..8).contains(&(bit / 8))
            }
            EnvelopeError::Checksum { .. } => !(0..4).contains(&(bit / 8)),
            _ => false,
        };
        assert!(right, "bit {bit} is told as {why}");
    }
}

#[test]
fn an_unknown_version_is_told_with_both() {
    let mut blob = blob(&sample());
    let end = blob.len() - 4;
    for version in [0_u8, 1, 3] {
        blob[4] = version;
        let checksum = crc::Crc::<u32>::new(&crc::CRC_32_ISO_HDLC).checksum(&blob[..end]);
        blob[end..].copy_from_slice(&checksum.to_le_bytes());
        let error = EnvelopeError::Version {
            found: u16::from(version),
            known: 2,
        };
        assert_eq!(decode(&blob), Err(BlobError::Envelope(error)));
    }
}

#[test]
fn content_that_is_left_over_or_missing_is_told_with_its_place() {
    let whole = blob(&sample()).len();
    let longer = with_payload(|payload| payload.push(0));
    let from_byte = whole - 4;
    assert_eq!(decode(&longer), Err(BlobError::LeftOver { from_byte }));
    let shorter = with_payload(|payload| {
        payload.pop();
    });
    assert!(matches!(
        decode(&shorter),
        Err(BlobError::Content { before_byte }) if before_byte >= whole - 8
    ));
    // The first byte of the payload is the cells' chemistry, of which there are six.
    let other = with_payload(|payload| payload[0] = 77);
    let before_byte = 9;
    assert_eq!(decode(&other), Err(BlobError::Content { before_byte }));
}

#[test]
fn values_that_no_device_can_run_with_are_refused_by_name() {
    let refused = |change: &dyn Fn(&mut Installation)| {
        let mut installation = sample();
        change(&mut installation);
        match encode(&installation, &mut [0; MOST_BYTES]) {
            Err(BlobError::OutOfRange(OutOfRange { what, .. })) => what.name(),
            other => panic!("{other:?}"),
        }
    };
    let of_cell = |change: &dyn Fn(&mut overwinter_model::cell::Cell)| {
        refused(&|installation| {
            let mut cell = catalogue::find("nimh-aa").unwrap().cell;
            change(&mut cell);
            installation.scenario.pack = Pack::new(&cell, 8, 1).unwrap();
            installation.scenario.start = installation.scenario.pack.full();
        })
    };
    assert_eq!(refused(&|i| i.days = 0), "days of the season");
    assert_eq!(refused(&|i| i.days = 1201), "days of the season");
    assert_eq!(
        refused(&|i| i.scenario.draw.cut_off = Voltage::from_volts(f64::NAN)),
        "cut-off (V)"
    );
    assert_eq!(
        refused(&|i| i.scenario.start.ordinary.wells.bound = i.scenario.pack.cell().capacity * 2.0),
        "bound charge (C)"
    );
    assert_eq!(
        of_cell(&|cell| cell.branches[1].time = Time::ZERO),
        "time constant of a branch (s)"
    );
    assert_eq!(
        of_cell(&|cell| cell.open_circuit.volts[7] = 5.0),
        "open-circuit voltage (V)"
    );
    assert_eq!(
        of_cell(&|cell| cell.chemistry = overwinter_model::cell::Chemistry::Alkaline),
        "charging current (A) of a primary cell"
    );
}

#[test]
fn the_format_lists_every_value_by_its_number() {
    let format: Vec<&str> = include_str!("../../BLOB.md").split_whitespace().collect();
    let listed = |what: &Quantity| format!("{} {what}", what.number());
    let list: Vec<String> = Quantity::ALL.iter().map(listed).collect();
    assert!(
        format
            .join(" ")
            .contains(&format!(" {}. ", list.join(", ")))
    );
}

#[test]
fn a_buffer_that_is_too_small_is_told() {
    let length = blob(&sample()).len();
    let room = |room| encode(&sample(), &mut vec![0; room]).map(<[u8]>::len);
    assert_eq!(room(length), Ok(length));
    for less in [0, 8, length - 4, length - 1] {
        assert_eq!(room(less), Err(BlobError::NoRoom));
    }
}

/// Every cell of the catalogue may go into a blob, fresh or old.
#[test]
fn every_cell_of_the_catalogue_is_in_range() {
    for entry in catalogue::CATALOGUE {
        let mut installation = sample();
        installation.scenario.pack = Pack::new(&entry.cell, 1, 1).unwrap();
        installation.scenario.start = installation.scenario.pack.full();
        let encoded = encode(&installation, &mut [0; MOST_BYTES]).map(<[u8]>::len);
        assert!(encoded.is_ok(), "{}: {encoded:?}", entry.name);
    }
}

/// Bytes of version 2 as they were written once, and what they hold. If this fails, the format has
/// changed, and devices out there read what is written for them no more: give it another version.
#[test]
fn version_2_is_read_as_it_was_written() {
    let golden = include_bytes!("../data/version-2.owb");
    let holds = include_str!("../data/version-2.txt");
    let read = decode(golden).unwrap();
    assert_eq!(format!("{read:#?}\n"), holds);
    assert_eq!(blob(&read), golden);
}

/// Its cells had one slow resistance.
#[test]
fn version_1_is_refused_by_its_number() {
    let Err(refused) = decode(include_bytes!("../data/version-1.owb")) else {
        panic!("version 1 is read");
    };
    let said = refused.to_string();
    assert!(
        said.contains("version 1") && said.contains("version 2"),
        "{said}"
    );
}
