//! Any bytes at all: taken for a saved gauge, and put into an envelope as the payload of one. Whatever
//! resumes goes on, takes a reading, looks ahead, and is saved and resumed again as it was.

#![no_main]

mod sealed;

use std::sync::LazyLock;

use libfuzzer_sys::fuzz_target;
use overwinter_model::Temperature;
use overwinter_model::blob::{VERSION, decode};
use overwinter_model::gauge::{Answered, Gauge, MOST_SAVED_BYTES, Passed, UnderLoad, newest};
use overwinter_model::installation::Installation;
use sealed::sealed;

/// Cameras of whose gauges the bytes may be: a panel that charges the pack, and a store.
static CAMERAS: LazyLock<[Installation; 2]> = LazyLock::new(|| {
    let seeds: [&[u8]; 2] = [
        include_bytes!("../seeds/blob/hut"),
        include_bytes!("../seeds/blob/sample"),
    ];
    seeds.map(|payload| decode(&sealed(*b"OWBL", VERSION, payload)).expect("a seed is a blob"))
});

/// The checksum of the blob that a gauge was saved with, and how it is stored.
const CHECKSUM: u32 = 0;
const STORED: u8 = 0;

const SAVED_VERSION: u16 = 1;

fuzz_target!(|bytes: &[u8]| {
    let _ = newest(CHECKSUM, bytes, &[]);
    let payload = [&[STORED], bytes].concat();
    let saved = sealed(*b"OWGA", SAVED_VERSION, &payload);
    for camera in &*CAMERAS {
        if let Ok(gauge) = Gauge::resume(camera, CHECKSUM, &saved) {
            kept_to_the_bit(&gauge, camera);
            goes_on(gauge, camera);
        }
    }
});

fn stored(gauge: &Gauge<'_>) -> Vec<u8> {
    let mut slot = [0; MOST_SAVED_BYTES];
    let mut gauge = gauge.clone();
    let length = gauge.save(&mut slot).expect("a gauge has room in a slot");
    slot[..length].to_vec()
}

/// But for the count of its saves, which each raises.
fn kept_to_the_bit(gauge: &Gauge<'_>, camera: &Installation) {
    let once = stored(gauge);
    let again = Gauge::resume(camera, CHECKSUM, &once).expect("what was saved can be resumed");
    assert_eq!(again.hour(), gauge.hour());
    assert_eq!(again.state(), gauge.state());
    assert_eq!(again.depth_sd().to_bits(), gauge.depth_sd().to_bits());
}

fn goes_on(mut gauge: Gauge<'_>, camera: &Installation) {
    let air = Temperature::from_celsius(-4.0);
    let answered = Answered {
        by_day: 1,
        by_night: 3,
    };
    let passed = Passed {
        hours: 3,
        air: Some(air),
        answered: Some(answered),
    };
    if gauge.pass(&passed).is_err() {
        return; // the end of the longest season
    }
    let fresh = camera.scenario.pack.fresh_voltage();
    gauge
        .observe(air, UnderLoad::Asleep, fresh * 0.9)
        .expect("a reading that can be");
    let mut forecast = gauge.forecast(24);
    while forecast.advance(1) {}
    assert!(forecast.hours_left().is_finite() && forecast.night_pictures_left().is_finite());
    assert!(
        gauge.depth().is_finite() && gauge.depth_sd().is_finite(),
        "{gauge:?}"
    );
    kept_to_the_bit(&gauge, camera);
}
