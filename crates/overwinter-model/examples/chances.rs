//! The same camera through 160 winters drawn by lot: how many of them its night pictures outlast.
//!
//!     cargo run -p overwinter-model --example chances

mod camera;

use overwinter_model::cell::catalogue;
use overwinter_model::paths::{
    AirChances, Block, CameraChances, DayAir, Drawn, MonthChances, Prepared, SampledAir, follow,
};
use overwinter_model::random::{AnomalyLaw, GammaQuantile, Key};
use overwinter_model::season::{Ending, Hour};

/// Seasons side by side.
const LANES: usize = 16;

/// Hours that are stepped through together.
const BLOCK_H: usize = 12;

/// How the days of a month stray from their mean: a lowland's winter, invented.
fn air_chances() -> Result<AirChances, Box<dyn std::error::Error>> {
    let month = MonthChances {
        law: AnomalyLaw::new([0.75, 0.25], -0.2)?,
        temperature_sd_k: 4.5,
        range_sd_k: 3.5,
        clearness_sd: 0.15,
    };
    Ok(AirChances {
        months: [month; 12],
        winters_sd_k: 1.0,
    })
}

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let air_chances = air_chances()?;
    let chances = CameraChances {
        stream: 0,
        day_share: GammaQuantile::new(1.0)?,
        rate_sd_ln: 0.5,
        power_sd_ln: 0.1,
        airtime_sd_ln: 0.3,
        between_packs_sd: 0.05,
    };
    for name in ["alkaline-aa", "nimh-aa", "lithium-aa"] {
        let Some(entry) = catalogue::find(name) else {
            continue;
        };
        let camera = camera::camera(&entry.cell)?;
        let (draw, pack) = (&camera.scenario.draw, &camera.scenario.pack);
        let hours: Vec<Hour> = camera.hours().collect();
        let of = |hours: &[Hour]| Block::of(hours, draw, pack.cell());
        let blocks: Vec<Block> = hours.chunks(BLOCK_H).filter_map(of).collect();
        // Large: tables made from the rules.
        let prepared = Box::new(Prepared::new(&camera.scenario));
        let mut to_the_end = 0;
        for group in 0..10 {
            let drawn = Drawn {
                key: Key(2026),
                paths: std::array::from_fn(|lane| group * LANES as u32 + lane as u32),
            };
            let mut air = SampledAir::new(drawn, &air_chances);
            let days = (0..i32::from(camera.days)).map(|day| camera.first_day.plus(day));
            let air: Vec<DayAir<LANES>> = days.map(|day| air.next_day(day.month_index())).collect();
            let followed = follow(
                &prepared,
                &blocks,
                24 / BLOCK_H,
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
