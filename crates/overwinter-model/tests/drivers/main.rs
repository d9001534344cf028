//! The two drivers of the model, the mean season by the hour and sampled seasons in blocks, against each
//! other on whole cameras; and laws of sampled seasons.

#[path = "../cases/mod.rs"]
mod cases;

mod books;
mod coldest;
mod ends;
mod lanes;
mod luck;
mod steady;
mod stores;

use cases::camera::{Full, Season, full};
use cases::driver::{DEAD, NIGHT_PICTURES, ends, follow};
use overwinter_model::paths::{Expected, Followed, Luck, Prepared};
use overwinter_model::season::Scenario;
use proptest::strategy::{Strategy, ValueTree};
use proptest::test_runner::TestRunner;

/// How long a season is.
const SEASON_DAYS: f64 = 183.0;

/// So many cameras, the same in every run.
fn cameras(count: usize) -> impl Iterator<Item = (usize, Full)> {
    let mut runner = TestRunner::deterministic();
    let draw = move |_| {
        full()
            .new_tree(&mut runner)
            .expect("no case is refused")
            .current()
    };
    (0..count).map(draw).enumerate()
}

/// The mean season in blocks of so many hours.
fn mean_season(scenario: &Scenario, season: &Season, per_block: usize) -> Followed<1> {
    follow(
        &Prepared::new(scenario),
        &season.blocks(scenario, per_block),
        24 / per_block,
        &[],
        &Luck::NONE,
        &mut Expected,
        &mut |_, _| {},
    )
}

/// Hours in the blocks that the program takes for a camera.
fn hours_per_block(full: &Full, scenario: &Scenario, season: &Season) -> usize {
    let foreseen = mean_season(scenario, &season.clone().shortened(40), 12);
    let ends = ends(&foreseen).map(|days| days.0[0]);
    let per_block = match ends[NIGHT_PICTURES].min(ends[DEAD]) {
        life if life > 40.0 => 12,
        life if life > 15.0 => 6,
        life if life > 6.0 => 3,
        _ => 1,
    };
    if full.has_panel {
        per_block.min(3)
    } else {
        per_block
    }
}
