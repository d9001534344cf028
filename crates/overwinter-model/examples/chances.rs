//! The same camera through 160 winters drawn by lot: how many of them its night pictures outlast.
//!
//!     cargo run -p overwinter-model --example chances

mod camera;

use overwinter_model::cell::catalogue;
use overwinter_model::paths::{
    AirChances, Block, CameraChances, DayAir, Drawn, FORESEEN_BLOCK_H, FORESEEN_DAYS, Prepared,
    SampledAir, follow,
};
use overwinter_model::random::Key;
use overwinter_model::season::{Ending, Hour};
use overwinter_model::{MonthSpread, Spread};

/// Seasons side by side.
const LANES: usize = 4;

/// How the days of each month stray from its mean: an inland valley, invented.
const MONTH: MonthSpread = MonthSpread {
    temperature_sd_k: 4.5,
    temperature_lag1: 0.75,
    range_sd_k: 3.5,
    clearness_mean: 0.45,
    clearness_sd: 0.15,
    clearness_lag1: 0.25,
    correlation: -0.2,
};

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let air_chances = AirChances::of(&Spread::new([MONTH; 12], 1.0)?)?;
    for name in ["alkaline-aa", "nimh-aa", "lithium-aa"] {
        let Some(entry) = catalogue::find(name) else {
            continue;
        };
        let camera = camera::camera(&entry.cell)?;
        let (draw, pack) = (&camera.scenario.draw, &camera.scenario.pack);
        let chances = CameraChances::new(1, 1, 1, camera.activity.counts())?;
        let hours: Vec<Hour> = camera.hours().collect();
        let blocks = |hours: &[Hour], per_block: usize| -> Vec<Block> {
            let of = |hours: &[Hour]| Block::of(hours, draw, pack.cell());
            hours.chunks(per_block).filter_map(of).collect()
        };
        // Large: tables made from the rules.
        let prepared = Box::new(Prepared::new(&camera.scenario));
        let first_days = &hours[..FORESEEN_DAYS * 24];
        let per_block = prepared.hours_per_block(&blocks(first_days, FORESEEN_BLOCK_H));
        let blocks = blocks(&hours, per_block);
        let mut to_the_end = 0;
        for group in 0..40 {
            let drawn = Drawn {
                key: Key(2026),
                paths: std::array::from_fn(|lane| group * LANES as u32 + lane as u32),
            };
            let mut air = SampledAir::new(drawn, &air_chances);
            let days = (0..i32::from(camera.days)).map(|day| camera.first_day.plus(day));
            let air: Vec<DayAir<LANES>> = days.map(|day| air.next_day(day.month_index())).collect();
            let followed = follow(
                &prepared.as_said(),
                &blocks,
                24 / per_block,
                &air,
                &chances.luck(&drawn, pack),
                &mut chances.traffic(&drawn),
                &mut |_, _| {},
            );
            let ended = followed.ends[Ending::NightPictures];
            to_the_end += ended.0.iter().filter(|days| days.is_infinite()).count();
        }
        println!("{name:<13} {to_the_end:>3} winters of 160");
    }
    Ok(())
}
