//! What is drawn by lot: a season whose draw makes the camera, its cells or its weather differ by a factor is
//! the mean season of a camera, cells or weather that differ by it.

use overwinter_model::Temperature;
use overwinter_model::cell::{Cell, CellState, Specimen};
use overwinter_model::lanes::Lanes;
use overwinter_model::pack::{Pack, PackState};
use overwinter_model::paths::{Block, DayAir, Expected, Followed, Luck, Prepared, Traffic};
use overwinter_model::season::Scenario;
use proptest::prelude::*;

use crate::cases::camera::{Full, Season, full};
use crate::cases::driver::{ENDS, causes, ends, figures, follow};
use crate::mean_season;

/// Hours in each block. In longer ones the rates of cells are averaged over the expected weather, so that
/// drawn weather is not quite the same as expected weather.
const HOURS: usize = 1;

/// What is drawn for a season.
struct Lot {
    luck: Luck<1>,
    /// The same on every day.
    air: DayAir<1>,
}

impl Lot {
    const NONE: Self = Self {
        luck: Luck::NONE,
        air: DayAir::EXPECTED,
    };

    fn follow(
        &self,
        scenario: &Scenario,
        blocks: &[Block],
        traffic: &mut impl Traffic<1>,
    ) -> Followed<1> {
        let air = vec![self.air; blocks.len() * HOURS / 24];
        let prepared = Prepared::new(scenario);
        follow(
            &prepared.as_said(),
            blocks,
            24 / HOURS,
            &air,
            &self.luck,
            traffic,
            &mut |_, _| {},
        )
    }

    fn of(&self, scenario: &Scenario, season: &Season) -> Followed<1> {
        self.follow(scenario, &season.blocks(scenario, HOURS), &mut Expected)
    }
}

/// What rounding adds up to in the blocks of a season.
const ROUNDING: f64 = 1e-9;

/// Two seasons are the same but for rounding, and but for what `other` names.
fn are_alike(
    one: &Followed<1>,
    another: &Followed<1>,
    other: &[&str],
) -> Result<(), TestCaseError> {
    prop_assert_eq!(causes(one), causes(another));
    let all = |followed| {
        let ends = ENDS.into_iter().zip(ends(followed));
        ends.chain(figures(followed))
            .map(|(what, lanes)| (what, lanes.0[0]))
            .collect::<Vec<_>>()
    };
    let (one, another) = (all(one), all(another));
    let put_in = one
        .iter()
        .find(|(what, _)| *what == "put in")
        .map_or(1.0, |(_, joules)| *joules);
    for ((what, a), (_, b)) in one.iter().zip(&another) {
        if other.contains(what) || a.to_bits() == b.to_bits() {
            continue;
        }
        // Losses are differences of what is much larger.
        let least = if ["spilled", "charging loss", "kept out"].contains(what) {
            put_in
        } else {
            1.0
        };
        prop_assert!(
            (a - b).abs() <= ROUNDING * a.abs().max(least),
            "{what}: {a} {b}"
        );
    }
    Ok(())
}

fn all(factor: f64) -> Lanes<1> {
    Lanes::all(factor)
}

/// The same camera on cells that differ.
fn on_cells(scenario: &Scenario, change: impl FnOnce(&mut Cell)) -> Scenario {
    let mut cell = *scenario.pack.cell();
    change(&mut cell);
    let (series, parallel) = (scenario.pack.series(), scenario.pack.parallel());
    let pack = Pack::new(&cell, series, parallel).expect("it has as many cells");
    // As full as the others, levelled out.
    let start = |state: &CellState, from: Specimen<'_>, to: Specimen<'_>| CellState {
        wells: state.wells.scaled(to.capacity() / from.capacity()),
        ..*state
    };
    let (from, ordinary) = (&scenario.pack, cell.specimen());
    let start = PackState {
        ordinary: start(&scenario.start.ordinary, from.cell().specimen(), ordinary),
        weakest: start(&scenario.start.weakest, from.weakest(), pack.weakest()),
    };
    Scenario {
        start,
        pack,
        ..scenario.clone()
    }
}

/// So many times the animals that are expected.
struct Busier(f64);

impl Traffic<1> for Busier {
    const ASKED_AT_COLDEST: bool = true;

    fn of_block(&mut self, _: u32, _: u32, (day, night): (f64, f64)) -> (Lanes<1>, Lanes<1>) {
        (all(day * self.0), all(night * self.0))
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    #[test]
    fn a_lane_draws_what_its_own_camera_does(full in full(), powers in [0.7..1.4_f64, 0.7..1.4]) {
        let (said, season) = (full.scenario(1.0), full.season());
        let scenarios = powers.map(|power| full.scenario(power));
        let prepared = Prepared::new(&said);
        let cameras = prepared.cameras(&scenarios.each_ref().map(|other| other.draw.clone()));
        let blocks = season.blocks(&said, HOURS);
        let both: Followed<2> =
            follow(&cameras, &blocks, 24 / HOURS, &[], &Luck::NONE, &mut Expected, &mut |_, _| {});
        for (lane, scenario) in scenarios.iter().enumerate() {
            let prepared = Prepared::new(scenario);
            let alone: Followed<1> = follow(
                &prepared.as_said(),
                &blocks,
                24 / HOURS,
                &[],
                &Luck::NONE,
                &mut Expected,
                &mut |_, _| {},
            );
            for (both, alone) in ends(&both).iter().zip(ends(&alone)) {
                prop_assert_eq!(both.0[lane].to_bits(), alone.0[0].to_bits());
            }
            let used = both.counts.used(lane, &scenario.draw, 1.0);
            prop_assert_eq!(used, alone.counts.used(0, &scenario.draw, 1.0));
        }
    }

    #[test]
    fn capacity_is_that_of_bigger_cells(full in full(), factor in 0.7..1.4_f64) {
        let (said, season) = (full.scenario(1.0), full.season());
        let luck = Luck { ordinary: all(factor), weakest: all(factor), ..Luck::NONE };
        let drawn = Lot { luck, ..Lot::NONE }.of(&said, &season);
        let scenario = on_cells(&said, |cell| cell.capacity = cell.capacity * factor);
        are_alike(&drawn, &mean_season(&scenario, &season, HOURS), &[])?;
    }

    #[test]
    fn the_weakest_cell_is_one_of_a_wider_spread(full in full(), factor in 0.5..1.0_f64) {
        let (said, season) = (full.scenario(1.0), full.season());
        let luck = Luck { weakest: all(factor), ..Luck::NONE };
        let drawn = Lot { luck, ..Lot::NONE }.of(&said, &season);
        let weakest = said.pack.weakest().capacity() / said.pack.cell().capacity;
        prop_assume!(said.pack.series() > 1 && weakest * factor > 0.1);
        // The weakest cell lies below the mean in proportion to the spread.
        let spread = said.pack.cell().spread * (1.0 - weakest * factor) / (1.0 - weakest);
        let scenario = on_cells(&said, |cell| cell.spread = spread);
        are_alike(&drawn, &mean_season(&scenario, &season, HOURS), &[])?;
    }

    #[test]
    fn time_on_air_is_that_of_more_reports(full in full(), airtime in 0.5..3.0_f64) {
        let mut said = full.scenario(1.0);
        said.draw.upload = None;
        let season = full.season();
        let luck = Luck { airtime: all(airtime), ..Luck::NONE };
        let drawn = Lot { luck, ..Lot::NONE }.of(&said, &season);
        let mut scenario = said.clone();
        if let Some(check_in) = &mut scenario.draw.check_in {
            check_in.per_day *= airtime;
        }
        let more = mean_season(&scenario, &season, HOURS);
        are_alike(&drawn, &more, &["check-ins"])?;
        let used = drawn.counts.used(0, &said.draw, airtime).total().as_joules();
        let so = more.counts.used(0, &scenario.draw, 1.0).total();
        prop_assert!((used - so.as_joules()).abs() <= ROUNDING * used, "{used} {so:?}");
    }

    #[test]
    fn animals_are_those_of_a_busier_place(full in full(), more in 0.0..3.0_f64) {
        let (scenario, season) = (full.scenario(1.0), full.season());
        let blocks = season.blocks(&scenario, HOURS);
        let drawn = Lot::NONE.follow(&scenario, &blocks, &mut Busier(more));
        let busier = season.with_hours(|hour| {
            hour.day_triggers *= more;
            hour.night_triggers *= more;
        });
        are_alike(&drawn, &mean_season(&scenario, &busier, HOURS), &[])?;
    }

    #[test]
    fn a_warmer_day_is_one_of_warmer_hours(full in full(), kelvin in -15.0..15.0_f64) {
        let (scenario, season) = (full.scenario(1.0), full.season());
        let air = DayAir { warmer_k: all(kelvin), ..DayAir::EXPECTED };
        let drawn = Lot { air, ..Lot::NONE }.of(&scenario, &season);
        let warmer = season.with_hours(|hour| {
            hour.air = warmer(hour.air, kelvin);
            hour.coldest = warmer(hour.coldest, kelvin);
        });
        are_alike(&drawn, &mean_season(&scenario, &warmer, HOURS), &[])?;
    }

    #[test]
    fn a_wider_day_is_colder_at_its_coldest_by_half_of_that(full in full(), kelvin in 0.0..15.0_f64) {
        let (scenario, season) = (full.scenario(1.0), full.season());
        let air = DayAir { wider_k: all(kelvin), ..DayAir::EXPECTED };
        let drawn = Lot { air, ..Lot::NONE }.of(&scenario, &season);
        let wider = season.with_hours(|hour| hour.coldest = warmer(hour.coldest, -kelvin / 2.0));
        are_alike(&drawn, &mean_season(&scenario, &wider, HOURS), &[])?;
    }

    #[test]
    fn a_clearer_day_is_one_of_a_clearer_month(full in full(), clearer in -0.3..0.5_f64) {
        let full = Full { has_panel: true, ..full };
        let (scenario, mut season) = (full.scenario(1.0), full.season());
        let air = DayAir { clearer: all(clearer), ..DayAir::EXPECTED };
        let drawn = Lot { air, ..Lot::NONE }.of(&scenario, &season);
        season.clearness += clearer;
        are_alike(&drawn, &mean_season(&scenario, &season, HOURS), &[])?;
    }
}

fn warmer(air: Temperature, kelvin: f64) -> Temperature {
    Temperature::from_kelvin(air.as_kelvin() + kelvin)
}
