//! The blob: what goes in comes out, and nothing that is not whole is taken for it.

mod cases;

use cases::{Case, case};
use overwinter_model::blob::{
    Air, BlobError, Installation, LONGEST_SEASON_DAYS, MOST_BYTES, OutOfRange, decode, encode,
};
use overwinter_model::cell::catalogue;
use overwinter_model::draw::{Card, UploadMode};
use overwinter_model::pack::Pack;
use overwinter_model::{
    Activity, Counts, Day, EnvelopeError, MonthNormals, Normals, Pattern, Place, Temperature, Time,
    Voltage,
};
use proptest::prelude::*;

fn air() -> impl Strategy<Value = Air> {
    let month = (-60.0..40.0_f64, 0.0..15.0_f64, 0.0..15.0_f64).prop_map(|(mean, below, above)| {
        MonthNormals {
            mean: Temperature::from_celsius(mean),
            daily_min: Temperature::from_celsius(mean - below),
            daily_max: Temperature::from_celsius(mean + above),
        }
    });
    prop_oneof![
        (-60.0..40.0_f64).prop_map(|air| Air::Constant(Temperature::from_celsius(air))),
        prop::array::uniform12(month)
            .prop_map(|months| Air::Normals(Normals::new(months).unwrap())),
    ]
}

fn pattern() -> impl Strategy<Value = Pattern> {
    prop_oneof![
        Just(Pattern::Even),
        Just(Pattern::Day),
        Just(Pattern::Night),
        Just(Pattern::Twilight),
        prop::array::uniform24(0.01..9.0_f64).prop_map(Pattern::ByHour),
    ]
}

prop_compose! {
    fn activity()(
        rates in prop::array::uniform12(0.0..60.0_f64),
        pattern in pattern(),
        false_share in 0.0..=1.0_f64,
        dispersion in 0.1..1000.0_f64,
        rate_sd_ln in 0.0..3.0_f64,
    ) -> Activity {
        let counts = Counts { false_share, dispersion, rate_sd_ln };
        Activity::new(rates, pattern).unwrap().with_counts(counts).unwrap()
    }
}

prop_compose! {
    fn installation()(
        case in case(),
        stored_days in prop_oneof![Just(0.0), 0.0..4000.0_f64],
        card in prop::option::of((0.1..1e5_f64, 0.0..50.0_f64)),
        hour in prop::option::of(0..24_u8),
        (latitude, longitude) in (-90.0..90.0_f64, -180.0..180.0_f64),
        utc_offset in -12.0..=14.0_f64,
        air in air(),
        activity in activity(),
        flash_below_sun_deg in -18.0..30.0_f64,
        first_day in -18_262..36_889_i32,
        days in 1..=LONGEST_SEASON_DAYS,
    ) -> Installation {
        let mut scenario = case.scenario(1.0);
        let at = scenario.pack.at(Temperature::REFERENCE);
        scenario.start = at.stored(&scenario.start, Time::from_days(stored_days));
        scenario.draw.card = card.map(|(capacity_mb, written)| Card {
            capacity_mb,
            day_trigger_mb: written,
            night_trigger_mb: written / 2.0,
        });
        if let Some(upload) = &mut scenario.draw.upload {
            upload.mode = hour.map_or(UploadMode::Each, |hour| UploadMode::Daily { hour });
        }
        Installation {
            scenario,
            place: Place::new(latitude, longitude, utc_offset).unwrap(),
            air,
            activity,
            flash_below_sun_deg,
            first_day: Day::from_days_since_2000(first_day),
            days,
        }
    }
}

/// A camera with everything that a camera can have.
fn sample() -> Installation {
    let case = Case {
        cell: 0,
        series: 8,
        parallel: 1,
        standby_mw: 1.2,
        flash_w: 4.5,
        shot_w: 0.9,
        video_s: 10.0,
        triggers_per_hour: 0.5,
        cut_off_share: 0.6,
        mean_c: -4.0,
        swing_c: 6.0,
        uploads: true,
    };
    let mut scenario = case.scenario(1.0);
    scenario.draw.card = Some(Card {
        capacity_mb: 32_000.0,
        day_trigger_mb: 2.5,
        night_trigger_mb: 1.2,
    });
    let months = [
        -12.3, -11.0, -5.8, 0.4, 7.1, 12.6, 15.2, 13.1, 7.8, 2.2, -4.9, -10.4,
    ];
    let normals = months.map(|mean| MonthNormals {
        mean: Temperature::from_celsius(mean),
        daily_min: Temperature::from_celsius(mean - 4.7),
        daily_max: Temperature::from_celsius(mean + 4.2),
    });
    Installation {
        scenario,
        place: Place::new(61.2, 14.6, 1.0).unwrap(),
        air: Air::Normals(Normals::new(normals).unwrap()),
        activity: Activity::new([8.5; 12], Pattern::Twilight).unwrap(),
        flash_below_sun_deg: -0.5,
        first_day: Day::from_days_since_2000(9801),
        days: 166,
    }
}

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
        // To the last bit, which equality does not see of zeros.
        prop_assert_eq!(blob(&read), written);
    }

    #[test]
    fn anything_in_an_envelope_is_read_or_refused(bytes in prop::collection::vec(any::<u8>(), 0..900)) {
        if let Ok(read) = decode(&with_payload(|payload| *payload = bytes)) {
            prop_assert!(read.check().is_ok());
        }
    }

    #[test]
    fn a_changed_payload_is_read_or_refused(place in any::<prop::sample::Index>(), value in any::<u8>()) {
        let changed = with_payload(|payload| {
            let place = place.index(payload.len());
            payload[place] = value;
        });
        if let Ok(read) = decode(&changed) {
            prop_assert!(read.check().is_ok());
        }
    }
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
    for version in [0_u8, 2] {
        blob[4] = version;
        let checksum = crc::Crc::<u32>::new(&crc::CRC_32_ISO_HDLC).checksum(&blob[..end]);
        blob[end..].copy_from_slice(&checksum.to_le_bytes());
        let error = EnvelopeError::Version {
            found: u16::from(version),
            known: 1,
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
            Err(BlobError::OutOfRange(OutOfRange { what, .. })) => what,
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
        of_cell(&|cell| cell.slow_time = Time::ZERO),
        "slow time (s)"
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
        assert_eq!(installation.check(), Ok(()), "{}", entry.name);
    }
}
