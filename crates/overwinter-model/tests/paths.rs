//! Paths in lanes against the scalar model, and laws of their own.

mod cases;

use cases::{Case, case};
use overwinter_model::lanes::{Lanes, PortableRoot};
use overwinter_model::paths::{Block, Expected, Followed, Luck, Prepared, follow};
use overwinter_model::season::{End, Hour};
use proptest::prelude::*;
use proptest::strategy::ValueTree;
use proptest::test_runner::TestRunner;

fn expected<const L: usize>(case: &Case, hours_per_block: usize) -> Followed<L> {
    let scenario = case.scenario(1.0);
    let hours: Vec<Hour> = case.hours().collect();
    let blocks: Vec<Block> = hours
        .chunks(hours_per_block)
        .filter_map(|hours| Block::of(hours, &scenario.draw))
        .collect();
    let prepared = Prepared::new(&scenario);
    follow::<PortableRoot, _, L>(
        &prepared,
        &blocks,
        24 / hours_per_block,
        &[],
        &Luck::NONE,
        &mut Expected,
        &mut |_, _| {},
    )
}

fn days(end: Option<End>) -> f64 {
    end.map_or(f64::INFINITY, |end| end.after.as_days())
}

#[test]
fn explore() {
    let mut runner = TestRunner::deterministic();
    for _ in 0..100 {
        let case = case().new_tree(&mut runner).unwrap().current();
        let reference = case.run(1.0, 60);
        let hourly = case.run(1.0, 1);
        if reference.dead.is_none() && reference.night_pictures_lost.is_none() {
            continue;
        }
        print!("{:9.3} {:9.3} |", days(reference.dead), days(hourly.dead));
        for hours in [1, 3, 6, 12] {
            let f = expected::<1>(&case, hours);
            print!(" {:9.3}", f.dead.0[0]);
        }
        print!(" || {:8.3}", days(reference.night_pictures_lost));
        for hours in [1, 3, 6, 12] {
            let f = expected::<1>(&case, hours);
            print!(" {:8.3}", f.night_pictures_lost.0[0]);
        }
        println!(
            " {:?} {:?} {}",
            reference.dead.map(|d| d.cause),
            expected::<1>(&case, 1).causes,
            overwinter_model::cell::catalogue::CATALOGUE[case.cell].name
        );
    }
}
