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
use cases::driver::follow;
use overwinter_model::paths::{
    Expected, FORESEEN_BLOCK_H, FORESEEN_DAYS, Followed, Luck, Prepared,
};
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
        &Prepared::new(scenario).as_said(),
        &season.blocks(scenario, per_block),
        24 / per_block,
        &[],
        &Luck::NONE,
        &mut Expected,
        &mut |_, _| {},
    )
}

/// Hours in each block of a camera's sampled seasons.
fn hours_per_block(scenario: &Scenario, season: &Season) -> usize {
    let foreseen = season.clone().shortened(FORESEEN_DAYS);
    Prepared::new(scenario).hours_per_block(&foreseen.blocks(scenario, FORESEEN_BLOCK_H))
}
