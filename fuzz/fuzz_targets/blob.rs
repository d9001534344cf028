//! Any bytes at all: taken for a blob, and put into an envelope as the payload of one. Whatever
//! decodes is run, and must neither panic nor take for ever nor lose its numbers.

#![no_main]

mod sealed;

use libfuzzer_sys::fuzz_target;
use overwinter_model::blob::{MOST_BYTES, VERSION, decode, encode};
use overwinter_model::installation::Installation;
use overwinter_model::paths::{Block, DayAir, Expected, Followed, Luck, Prepared, follow};
use overwinter_model::season::{Hour, run};
use sealed::sealed;

const DAYS: usize = 3;
const LANES: usize = 4;
const BLOCK_HOURS: usize = 3;

fuzz_target!(|bytes: &[u8]| {
    let _ = decode(bytes);
    if let Ok(installation) = decode(&sealed(*b"OWBL", VERSION, bytes)) {
        kept_to_the_bit(&installation);
        runs(&installation);
    }
});

/// The block with the light of the season's first day, if there is a panel.
fn lit(installation: &Installation, block: Block, hours: &[Hour]) -> Block {
    let Some(sunlight) = &installation.sunlight else {
        return block;
    };
    let Installation {
        place, first_day, ..
    } = installation;
    let air = installation.weather().of_day(place, *first_day);
    let day = sunlight.panel_day(place, *first_day, &air.hours);
    block.lit(hours, &day, sunlight.clearness[0].mean)
}

fn kept_to_the_bit(installation: &Installation) {
    let mut buffer = [0; MOST_BYTES];
    let blob = encode(installation, &mut buffer).expect("what was decoded can be encoded");
    let again = decode(blob).expect("what was encoded can be decoded");
    assert_eq!(&again, installation);
}

fn runs(installation: &Installation) {
    let hours: Vec<Hour> = installation.hours().take(24 * DAYS).collect();
    let outcome = run(&installation.scenario, hours.iter().copied(), 1, |_| {});
    assert!(
        outcome.followed.as_hours() <= 24.0 * DAYS as f64,
        "{outcome:?}"
    );
    assert!(outcome.charge_left.is_finite(), "{outcome:?}");
    assert!(outcome.ledger.left.is_finite(), "{outcome:?}");

    let scenario = &installation.scenario;
    let blocks: Vec<Block> = hours
        .chunks(BLOCK_HOURS)
        .filter_map(|hours| Block::of(hours, &scenario.draw, scenario.pack.cell()))
        .zip(hours.chunks(BLOCK_HOURS))
        .map(|(block, hours)| lit(installation, block, hours))
        .collect();
    let followed: Followed<LANES> = follow::<Expected, LANES>(
        &Prepared::new(scenario),
        &blocks,
        24 / BLOCK_HOURS,
        &[DayAir::EXPECTED; DAYS],
        &Luck::NONE,
        &mut Expected,
        &mut |_, _| {},
    );
    let left = followed.charge_left.0;
    assert!(left.iter().all(|left| left.is_finite()), "{followed:?}");
}
