//! Laws of any lane: it is a season of its own, whatever stands beside it, and what is dead stays so.

use overwinter_model::lanes::Lanes;
use overwinter_model::pack::Pack;
use overwinter_model::paths::{DayAir, Drawn, Followed, Prepared, SampledAir, Today};
use overwinter_model::random::Key;
use overwinter_model::season::Scenario;
use proptest::prelude::*;

use crate::cases::camera::{Cells, Full, full};
use crate::cases::driver::{DEAD, ENDS, causes, ends, figures, follow, standing};
use crate::cases::{air_chances, camera_chances};
use crate::{SEASON_DAYS, hours_per_block};

/// Sampled seasons of a camera and how each of their days ended.
struct Sampled<const L: usize> {
    followed: Followed<L>,
    days: Vec<Today<L>>,
    block_days: f64,
}

/// Seasons by lot, from number `first` on, of so many days.
fn sampled<const L: usize>(full: &Full, first: u32, season_days: usize) -> Sampled<L> {
    sampled_of(&full.scenario(1.0), full, first, season_days)
}

/// The same of another camera in the season of `full`.
fn sampled_of<const L: usize>(
    scenario: &Scenario,
    full: &Full,
    first: u32,
    season_days: usize,
) -> Sampled<L> {
    let season = full.season();
    let prepared = Prepared::new(scenario);
    let drawn = Drawn {
        key: Key(5),
        paths: std::array::from_fn(|lane| first + lane as u32),
    };
    let (air_chances, chances) = (air_chances(), camera_chances());
    let mut air = SampledAir::new(drawn, &air_chances);
    let air: Vec<DayAir<L>> = (0..season_days).map(|_| air.next_day(0)).collect();
    let per_block = hours_per_block(scenario, &season);
    let mut days = Vec::new();
    let followed = follow(
        &prepared.as_said(),
        &season.shortened(season_days).blocks(scenario, per_block),
        24 / per_block,
        &air,
        &chances.luck(&drawn, &scenario.pack),
        &mut chances.traffic(&drawn),
        &mut |_, today| days.push(*today),
    );
    Sampled {
        followed,
        days,
        block_days: per_block as f64 / 24.0,
    }
}

const WHOLE_SEASON: usize = SEASON_DAYS as usize;

type Named = Vec<(String, u64)>;

/// The bits of one lane.
fn bits<'a, const L: usize>(
    lane: usize,
    named: impl IntoIterator<Item = (&'a str, Lanes<L>)>,
) -> Named {
    let named = named.into_iter();
    named
        .map(|(what, lanes)| (what.to_owned(), lanes.0[lane].to_bits()))
        .collect()
}

/// Every number that came of one lane.
fn all_bits<const L: usize>(lane: usize, followed: &Followed<L>) -> Named {
    let mut all = bits(lane, ENDS.into_iter().zip(ends(followed)));
    all.extend(bits(lane, figures(followed)));
    all
}

/// One lane of some seasons against the only one of `alone`.
fn is_the_same<const L: usize>(
    lane: usize,
    some: &Sampled<L>,
    alone: &Sampled<1>,
) -> Result<(), TestCaseError> {
    prop_assert_eq!(all_bits(lane, &some.followed), all_bits(0, &alone.followed));
    prop_assert_eq!(causes(&some.followed)[lane], causes(&alone.followed)[0]);
    prop_assert!(some.days.len() >= alone.days.len());
    for (some, alone) in some.days.iter().zip(&alone.days) {
        prop_assert_eq!(bits(lane, standing(some)), bits(0, standing(alone)));
    }
    Ok(())
}

/// The same camera on cells whose voltage falls with warmth by next to nothing.
fn never_sure(full: &Full) -> Full {
    let mut full = full.clone();
    full.cells.more_per_k = -1e-300;
    full
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(40))]

    /// An event is worked out only where it might fail. Where a cell is not worse in every way the colder
    /// it is, each is worked out.
    #[test]
    fn what_is_not_worked_out_would_not_have_failed(full in full()) {
        let full = Full { cells: Cells { more_per_k: 0.0, ..full.cells }, ..full };
        prop_assume!(full.scenario(1.0).pack.cell().open_circuit_per_k == 0.0);
        let some = sampled::<4>(&full, 0, WHOLE_SEASON);
        let every = sampled::<4>(&never_sure(&full), 0, WHOLE_SEASON);
        for lane in 0..4 {
            prop_assert_eq!(all_bits(lane, &some.followed), all_bits(lane, &every.followed));
        }
    }

    /// A cell whose resistance falls in the cold may fail in a warm hour of a block and hold in its coldest.
    #[test]
    fn a_resistance_that_falls_in_the_cold_hides_no_failure(full in full(), slow in any::<bool>()) {
        let with = |per_k: f64| {
            let mut scenario = full.scenario(1.0);
            let mut cell = *scenario.pack.cell();
            cell.open_circuit_per_k = per_k;
            let resistor = if slow { &mut cell.branches[0].resistor } else { &mut cell.ohmic };
            resistor.activation_k = -8000.0;
            let (series, parallel) = (scenario.pack.series(), scenario.pack.parallel());
            scenario.pack = Pack::new(&cell, series, parallel).expect("it has as many cells");
            sampled_of::<4>(&scenario, &full, 0, WHOLE_SEASON)
        };
        // Where a voltage falls with warmth, each event is worked out.
        let (some, every) = (with(0.0), with(-1e-300));
        for lane in 0..4 {
            prop_assert_eq!(all_bits(lane, &some.followed), all_bits(lane, &every.followed));
        }
    }

    #[test]
    fn a_season_is_the_same_in_any_company(full in full()) {
        let alone = sampled::<1>(&full, 5, WHOLE_SEASON);
        is_the_same(5, &sampled::<16>(&full, 0, WHOLE_SEASON), &alone)?;
        is_the_same(1, &sampled::<4>(&full, 4, WHOLE_SEASON), &alone)?;
    }

    #[test]
    fn what_comes_after_a_death_changes_nothing(full in full()) {
        let whole = sampled::<4>(&full, 0, WHOLE_SEASON);
        for (lane, dead) in ends(&whole.followed)[DEAD].0.into_iter().enumerate() {
            if dead.is_infinite() {
                continue;
            }
            let died_on = dead as usize;
            let standing = |today| bits(lane, standing(today));
            let at_death = standing(&whole.days[died_on]);
            for later in &whole.days[died_on..] {
                prop_assert_eq!(&at_death, &standing(later));
            }
            let cut_short = sampled::<4>(&full, 0, died_on + 1);
            prop_assert_eq!(all_bits(lane, &whole.followed), all_bits(lane, &cut_short.followed));
        }
    }

    #[test]
    fn ends_fit_together(full in full()) {
        let Sampled { followed, block_days, .. } = sampled::<4>(&full, 0, WHOLE_SEASON);
        let all = ends(&followed);
        let figure = |what: &str| {
            let figures = figures(&followed);
            figures.into_iter().find(|(name, _)| *name == what).expect("it is a figure").1
        };
        for lane in 0..4 {
            let dead = all[DEAD].0[lane];
            prop_assert_eq!(causes(&followed)[lane].is_some(), dead.is_finite());
            for (what, days) in ENDS.iter().zip(all) {
                let days = days.0[lane];
                prop_assert!(days >= 0.0 && (days <= SEASON_DAYS || days.is_infinite()), "{what} {days}");
                // In the block in which a camera dies, other ends may be noted after its death.
                prop_assert!(days.is_infinite() || days <= dead + block_days, "{what} {days} {dead}");
            }
            let alive = figure("seconds alive").0[lane] / 86_400.0;
            prop_assert!((alive - dead.min(SEASON_DAYS)).abs() < 1e-9, "{alive} {dead}");
            for (what, value) in figures(&followed) {
                let value = value.0[lane];
                // Rounding, in joules, of a season's charging.
                let least = if what == "charging loss" { -1e-6 } else { 0.0 };
                prop_assert!(value.is_finite() && value >= least, "{what} {value}");
            }
            prop_assert!(figure("charge left").0[lane] <= 1.0 + 1e-9);
        }
    }
}
