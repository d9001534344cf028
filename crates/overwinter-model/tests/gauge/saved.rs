//! Restarts: a saved gauge goes on to the last bit, and nothing else is taken for one.

use overwinter_model::EnvelopeError;
use overwinter_model::blob::Quantity;
use overwinter_model::draw::{Burst, CheckIn, Event, Use};
use overwinter_model::gauge::{Gauge, MOST_SAVED_BYTES, Passed, SavedError, UnderLoad, newest};
use overwinter_model::installation::Installation;
use overwinter_model::pack::Pack;
use overwinter_model::season::Feeds;
use overwinter_model::{Power, Resistance, Temperature, Time, Voltage};
use proptest::prelude::*;

use crate::installations::sample;
use crate::short;

const CHECKSUM: u32 = 0x5eed_b10b;

fn save(gauge: &mut Gauge<'_>) -> Vec<u8> {
    let mut buffer = [0xff; MOST_SAVED_BYTES];
    let length = gauge.save(&mut buffer).unwrap();
    buffer[..length].to_vec()
}

/// A gauge of the sample that has seen a little.
fn seasoned(installation: &Installation) -> Gauge<'_> {
    let mut gauge = Gauge::new(installation, CHECKSUM);
    gauge.pass(&Passed::unseen(75)).unwrap();
    let volts = installation.scenario.pack.fresh_voltage() * 0.97;
    gauge
        .observe(Temperature::from_celsius(-11.3), UnderLoad::Asleep, volts)
        .unwrap();
    gauge
}

/// A payload in the envelope of a saved gauge.
fn sealed(payload: &[u8]) -> Vec<u8> {
    let mut bytes = b"OWGA\x02\x00".to_vec();
    bytes.extend((payload.len() as u16).to_le_bytes());
    bytes.extend(payload);
    let checksum = crc::Crc::<u32>::new(&crc::CRC_32_ISO_HDLC).checksum(&bytes);
    bytes.extend(checksum.to_le_bytes());
    bytes
}

proptest! {
    #[test]
    fn a_restart_changes_no_bit(
        installation in short(),
        steps in prop::collection::vec((1..30_u32, 0.6..1.1_f64, -30.0..30.0_f64), 1..6),
        restart in any::<prop::sample::Index>(),
    ) {
        let restart = restart.index(steps.len());
        let mut whole = Gauge::new(&installation, CHECKSUM);
        let mut stopped = whole.clone();
        for (at, (hours, share, air)) in steps.into_iter().enumerate() {
            if at == restart {
                let saved = save(&mut stopped);
                let _ = save(&mut whole);
                stopped = Gauge::resume(&installation, CHECKSUM, &saved).unwrap();
            }
            for gauge in [&mut whole, &mut stopped] {
                let air = Temperature::from_celsius(air);
                gauge.pass(&Passed { air: Some(air), ..Passed::unseen(hours) }).unwrap();
                let volts = installation.scenario.pack.fresh_voltage() * share;
                gauge.observe(air, UnderLoad::Asleep, volts).unwrap();
            }
        }
        prop_assert_eq!(save(&mut whole), save(&mut stopped));
        let left = |gauge: &Gauge<'_>| {
            let mut forecast = gauge.forecast(100);
            while forecast.advance(10) {}
            (forecast.hours_left().to_bits(), forecast.night_pictures_left().to_bits())
        };
        prop_assert_eq!(left(&whole), left(&stopped));
    }

    #[test]
    fn anything_in_the_envelope_is_resumed_or_refused(
        bytes in prop::collection::vec(any::<u8>(), 0..200), place in any::<prop::sample::Index>(),
        value in any::<u8>(),
    ) {
        let installation = sample();
        let _ = Gauge::resume(&installation, CHECKSUM, &sealed(&bytes));
        let saved = save(&mut seasoned(&installation));
        let mut payload = saved[8..saved.len() - 4].to_vec();
        let place = place.index(payload.len());
        payload[place] = value;
        if let Ok(mut gauge) = Gauge::resume(&installation, CHECKSUM, &sealed(&payload)) {
            gauge.pass(&Passed::unseen(3)).unwrap_or_default();
            let volts = Voltage::from_volts(11.0);
            gauge.observe(Temperature::from_celsius(0.0), UnderLoad::Asleep, volts).unwrap();
            prop_assert!(gauge.depth().is_finite(), "{}", gauge.depth());
            prop_assert!((1e-4..=1.0).contains(&gauge.depth_sd()), "{}", gauge.depth_sd());
        }
    }
}

/// What is in the sample's saved gauge, and where its numbers begin.
fn payload(saved: &[u8]) -> (Vec<u8>, Vec<usize>) {
    let payload = saved[8..saved.len() - 4].to_vec();
    let mut numbers = Vec::new();
    // The checksum takes five bytes; how often it was saved, and the hour, one each.
    let mut at = 7;
    while let Some(first) = payload.get(at) {
        if *first == 255 {
            numbers.push(at);
            at += 9;
        } else {
            at += 1;
        }
    }
    (payload, numbers)
}

/// Resumes from a payload in which one number is another.
fn resumed_with(payload: &[u8], at: usize, value: f64) -> Result<(), SavedError> {
    let mut changed = payload.to_vec();
    changed[at + 1..at + 9].copy_from_slice(&value.to_le_bytes());
    Gauge::resume(&sample(), CHECKSUM, &sealed(&changed)).map(|_| ())
}

#[test]
fn a_number_out_of_its_range_is_refused_by_name() {
    let installation = sample();
    let (payload, numbers) = payload(&save(&mut seasoned(&installation)));
    let cell = [
        Quantity::SavedAvailable,
        Quantity::SavedBound,
        Quantity::SavedPolarisation,
        Quantity::SavedPolarisation,
        Quantity::SavedAge,
    ];
    let rest = [
        Quantity::InTheStore,
        Quantity::SavedStore,
        Quantity::Waiting,
        Quantity::OnTheCard,
        Quantity::SavedTime,
        Quantity::DepthSpread,
        Quantity::News,
    ];
    let quantities = [cell.as_slice(), cell.as_slice(), rest.as_slice()].concat();
    assert_eq!(numbers.len(), quantities.len());
    for (at, quantity) in numbers.iter().zip(quantities) {
        for value in [f64::NAN, f64::INFINITY, -1e300] {
            match resumed_with(&payload, *at, value) {
                Err(SavedError::OutOfRange(why)) => assert_eq!(why.what, quantity),
                other => panic!("{value} for {quantity} gives {other:?}"),
            }
        }
    }
}

#[test]
fn what_depends_on_other_values_is_held_against_them() {
    let installation = sample();
    let (payload, numbers) = payload(&save(&mut seasoned(&installation)));
    let refused = |at: usize, value: f64| match resumed_with(&payload, numbers[at], value) {
        Err(SavedError::OutOfRange(why)) => Some(why.what),
        _ => None,
    };
    let pack = installation.scenario.pack;
    let (full, weakest) = (
        pack.cell().capacity.as_coulombs(),
        pack.weakest().capacity().as_coulombs(),
    );
    assert_eq!(refused(0, 1.9 * full), None);
    assert_eq!(refused(0, 2.1 * full), Some(Quantity::SavedAvailable));
    assert_eq!(refused(6, 2.1 * weakest), Some(Quantity::SavedBound));
    let Some(Feeds::Store(store)) = installation.scenario.feeds else {
        panic!("the sample has a store");
    };
    let capacity = store.capacity.as_joules();
    assert_eq!(refused(10, 1.01 * capacity), Some(Quantity::InTheStore));
    // 75 hours are over.
    assert_eq!(refused(14, 76.0 * 3600.0), Some(Quantity::SavedHour));
}

/// A pack that no panel charges has no temperature of its own: with one it would be charged.
#[test]
fn a_temperature_of_a_pack_without_a_panel_is_refused() {
    let mut charged = sample();
    let lag = Time::from_hours(2.0);
    charged.scenario.feeds = Some(Feeds::Pack { lag });
    let saved = save(&mut seasoned(&charged));
    assert!(Gauge::resume(&charged, CHECKSUM, &saved).is_ok());
    let mut bare = charged.clone();
    bare.scenario.feeds = None;
    for other in [&bare, &sample()] {
        let why = Gauge::resume(other, CHECKSUM, &saved).unwrap_err();
        assert_eq!(why, SavedError::Content);
    }
}

/// An event far longer than the time between two leaves a polarisation that no cell has.
#[test]
fn what_asks_for_more_than_an_hour_has_can_be_resumed() {
    let mut greedy = sample();
    greedy.scenario.feeds = None;
    let mut cell = *greedy.scenario.pack.cell();
    cell.capacity = cell.capacity * 10.0;
    cell.branches[1].resistor.fresh = Resistance::from_ohms(100.0);
    cell.branches[1].time = Time::from_hours(3.0);
    greedy.scenario.pack = Pack::new(&cell, 8, 1).unwrap();
    greedy.scenario.start = greedy.scenario.pack.full();
    greedy.scenario.draw.cut_off = Voltage::ZERO;
    greedy.scenario.draw.check_in = Some(CheckIn {
        per_day: 86_400.0,
        event: {
            let mut event = Event::default();
            event
                .push(Burst {
                    span: Time::from_hours(8000.0),
                    power: Power::from_milliwatts(10.0),
                    what: Use::CheckIn,
                    flash: Power::ZERO,
                })
                .unwrap();
            event
        },
        lowest: Voltage::ZERO,
    });
    let mut gauge = Gauge::new(&greedy, CHECKSUM);
    gauge.pass(&Passed::unseen(1)).unwrap();
    let polarisation = gauge.state().cells.ordinary.polarisation.total();
    assert!(
        polarisation > Voltage::from_volts(100.0),
        "{polarisation:?}"
    );
    let saved = save(&mut gauge);
    let resumed = Gauge::resume(&greedy, CHECKSUM, &saved).unwrap();
    assert_eq!(resumed.state(), gauge.state());
}

#[test]
fn every_part_of_a_saved_gauge_is_refused_as_cut_short() {
    let installation = sample();
    let saved = save(&mut seasoned(&installation));
    assert!(saved.len() <= MOST_SAVED_BYTES);
    for actual in 0..saved.len() {
        let why = Gauge::resume(&installation, CHECKSUM, &saved[..actual]).unwrap_err();
        let cut = match why {
            SavedError::Envelope(EnvelopeError::CutShort { actual: said, .. }) => said == actual,
            SavedError::Envelope(EnvelopeError::OtherKind) => actual == 0,
            _ => false,
        };
        assert!(cut, "{actual}: {why}");
    }
}

#[test]
fn every_single_flipped_bit_is_seen() {
    let installation = sample();
    let saved = save(&mut seasoned(&installation));
    for bit in 0..saved.len() * 8 {
        let mut flipped = saved.clone();
        flipped[bit / 8] ^= 1 << (bit % 8);
        let why = Gauge::resume(&installation, CHECKSUM, &flipped).unwrap_err();
        assert!(matches!(why, SavedError::Envelope(_)), "bit {bit}: {why}");
        assert_eq!(newest(CHECKSUM, &flipped, &[]), None, "bit {bit}");
    }
}

#[test]
fn a_gauge_of_another_blob_is_refused_and_never_the_newest() {
    let installation = sample();
    let mut gauge = seasoned(&installation);
    let older = save(&mut gauge);
    let mut other = Gauge::new(&installation, 99);
    for _ in 0..5 {
        let _ = save(&mut other);
    }
    let others = save(&mut other);
    let why = Gauge::resume(&installation, CHECKSUM, &others).unwrap_err();
    let (saved, known) = (99, CHECKSUM);
    assert_eq!(why, SavedError::OtherBlob { saved, known });
    assert_eq!(newest(CHECKSUM, &others, &older), Some(older.as_slice()));
    assert_eq!(newest(CHECKSUM, &older, &others), Some(older.as_slice()));
}

/// Two slots as a device has them, and power that fails after any byte of a write.
#[test]
fn a_write_that_was_cut_off_leaves_the_older_one() {
    let installation = sample();
    let mut gauge = seasoned(&installation);
    let mut slots = [[0xff_u8; MOST_SAVED_BYTES]; 2];
    let mut last = Vec::new();
    for _ in 0..5 {
        let slot = gauge.next_slot();
        gauge.pass(&Passed::unseen(1)).unwrap();
        let next = save(&mut gauge);
        for written in 0..next.len() {
            let mut torn = slots;
            torn[slot][..written].copy_from_slice(&next[..written]);
            let found = newest(CHECKSUM, &torn[0], &torn[1]);
            assert_eq!(found.unwrap_or_default(), last, "{written} written");
        }
        slots[slot][..next.len()].copy_from_slice(&next);
        let found = newest(CHECKSUM, &slots[0], &slots[1]).unwrap();
        assert_eq!(found, next);
        let resumed = Gauge::resume(&installation, CHECKSUM, found).unwrap();
        assert_eq!(resumed.next_slot(), 1 - slot);
        last = next;
    }
}

#[test]
fn a_buffer_that_is_too_small_is_told() {
    let installation = sample();
    let mut gauge = seasoned(&installation);
    let before = gauge.next_slot();
    for room in 0..20 {
        let refused = gauge.save(&mut [0; 20][..room]);
        assert_eq!(refused, Err(SavedError::NoRoom));
    }
    assert_eq!(gauge.next_slot(), before);
}
