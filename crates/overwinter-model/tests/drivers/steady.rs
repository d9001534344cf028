//! A camera that does the same in every hour, on cells that hardly empty: here a block draws what its hours
//! draw and finds the same voltages, however long it is.

use overwinter_model::cell::Cell;
use overwinter_model::draw::{Burst, CheckIn, Event, UploadMode, Use};
use overwinter_model::lanes::Lanes;
use overwinter_model::pack::{Pack, PackState};
use overwinter_model::paths::{Block, Expected, Luck, Prepared};
use overwinter_model::season::{Camera, Hour, Scenario, run};
use overwinter_model::{Power, Temperature, Time, Voltage};
use proptest::prelude::*;

use crate::cases::camera::{Full, full};
use crate::cases::driver::{DEAD, NIGHT_PICTURES, UPLOADS, ends, figure, follow};

/// How a camera stands and what it does in each hour.
#[derive(Clone, Debug)]
struct Steady {
    full: Full,
    celsius: f64,
    dark_share: f64,
    depth: f64,
    age_years: f64,
    hours_per_block: usize,
}

prop_compose! {
    fn steady()(
        full in full(),
        celsius in -25.0..40.0_f64,
        dark_share in prop_oneof![Just(0.0), 0.0..1.0_f64, Just(1.0)],
        depth in 0.0..0.9_f64,
        age_years in 0.0..8.0_f64,
        hours_per_block in prop::sample::select(vec![1_usize, 3, 6, 12]),
    ) -> Steady {
        Steady { full, celsius, dark_share, depth, age_years, hours_per_block }
    }
}

/// Long enough for a polarisation to settle, and after.
const DAYS: [usize; 2] = [3, 9];

impl Steady {
    /// On cells so big that a season hardly empties them, and with no limit that could be met.
    fn scenario(&self) -> Scenario {
        let mut scenario = self.full.scenario(1.0);
        scenario.feeds = None;
        scenario.draw.card = None;
        scenario.draw.cut_off = Voltage::ZERO;
        scenario.draw.flash_lowest = Voltage::ZERO;
        if let Some(upload) = &mut scenario.draw.upload {
            upload.mode = UploadMode::Each;
            upload.lowest = Voltage::ZERO;
        }
        if let Some(check_in) = &mut scenario.draw.check_in {
            check_in.lowest = Voltage::ZERO;
        }
        self.on_cells(&scenario, |cell| cell.capacity = cell.capacity * 1e6)
    }

    fn on_cells(&self, scenario: &Scenario, change: impl FnOnce(&mut Cell)) -> Scenario {
        let mut cell = *scenario.pack.cell();
        cell.storage.loss_per_year = 0.0;
        cell.storage.early_loss = 0.0;
        change(&mut cell);
        let pack = Pack::new(&cell, scenario.pack.series(), scenario.pack.parallel())
            .expect("it has as many cells");
        let mut start = pack.full();
        for state in [&mut start.ordinary, &mut start.weakest] {
            state.wells = state.wells.scaled(1.0 - self.depth);
            state.age = Time::from_days(self.age_years * 365.25);
        }
        Scenario {
            start,
            pack,
            ..scenario.clone()
        }
    }

    fn hours(&self) -> Vec<Hour> {
        let triggers = self.full.sunny.case.triggers_per_hour;
        let air = Temperature::from_celsius(self.celsius);
        let hour = |of_day| Hour {
            of_day,
            air,
            coldest: air,
            day_triggers: triggers * (1.0 - self.dark_share),
            night_triggers: triggers * self.dark_share,
            dark_share: self.dark_share,
            panel: Power::ZERO,
        };
        (0..DAYS[1]).flat_map(|_| (0..24).map(hour)).collect()
    }

    fn blocks(&self, scenario: &Scenario) -> Vec<Block> {
        let (draw, cell) = (&scenario.draw, scenario.pack.cell());
        let hours = self.hours();
        let blocks = hours.chunks(self.hours_per_block);
        blocks
            .filter_map(|hours| Block::of(hours, draw, cell))
            .collect()
    }

    /// Share of the charge left after each of [`DAYS`], by the hour.
    fn left_by_hour(&self, scenario: &Scenario) -> [f64; 2] {
        let mut camera = Camera::new(scenario);
        let mut left = Vec::new();
        for (number, hour) in (1..).zip(self.hours()) {
            assert!(camera.hour(&hour, 1, &mut |_| {}).is_continue());
            if DAYS.contains(&(number / 24)) && number % 24 == 0 {
                left.push(charge_left(&scenario.pack, camera.cells()));
            }
        }
        [left[0], left[1]]
    }

    /// The same in blocks.
    fn left_in_blocks(&self, scenario: &Scenario, luck: &Luck<1>) -> [f64; 2] {
        let mut left = Vec::new();
        let followed = follow(
            &Prepared::new(scenario).as_said(),
            &self.blocks(scenario),
            24 / self.hours_per_block,
            &[],
            luck,
            &mut Expected,
            &mut |day, today| {
                if DAYS.contains(&(day as usize + 1)) {
                    left.push(today.charge_left.0[0]);
                }
            },
        );
        assert_eq!(
            left[1].to_bits(),
            figure(&followed, "charge left").to_bits()
        );
        [left[0], left[1]]
    }

    /// Days to each end in blocks.
    fn ends_in_blocks(&self, scenario: &Scenario) -> [f64; 5] {
        let followed = follow(
            &Prepared::new(scenario).as_said(),
            &self.blocks(scenario),
            24 / self.hours_per_block,
            &[],
            &Luck::<1>::NONE,
            &mut Expected,
            &mut |_, _| {},
        );
        ends(&followed).map(|days| days.0[0])
    }

    /// The lowest voltage of an hour when all has settled, and that of the camera asleep.
    fn voltages(&self, scenario: &Scenario) -> Option<(Voltage, Voltage)> {
        let mut camera = Camera::new(scenario);
        let mut last = None;
        for hour in self.hours() {
            let died = camera.hour(&hour, 1, &mut |seen| {
                last = Some((seen.lowest, seen.asleep));
            });
            if died.is_break() {
                return None;
            }
        }
        let (lowest, asleep) = last?;
        Some((lowest?, asleep))
    }
}

/// As sampled seasons count it: over all cells of a string.
fn charge_left(pack: &Pack, state: &PackState) -> f64 {
    let ordinary = f64::from(pack.series()) - 1.0;
    let depth =
        ordinary * pack.cell().depth(&state.ordinary) + pack.weakest().depth(&state.weakest);
    1.0 - depth / (ordinary + 1.0)
}

/// Of a share of the charge, rounding in a cell of a million times the charge.
const DIGITS: f64 = 1e-13;

/// Drawn between the two days is the same, but for `share` of it.
fn draws_the_same(a: [f64; 2], b: [f64; 2], share: f64) -> Result<(), TestCaseError> {
    let (a, b) = (a[0] - a[1], b[0] - b[1]);
    prop_assert!(
        a > 0.0 && (a - b).abs() <= share * a + DIGITS,
        "{a:e} {b:e}"
    );
    Ok(())
}

/// What a camera does that pulls the voltage down.
#[derive(Clone, Copy, Debug)]
enum Pull {
    Asleep,
    Day,
    Night,
    Session,
    Report,
}

impl Pull {
    /// A camera that does nothing else, or next to nothing.
    fn alone(self, steady: &mut Steady) -> Scenario {
        steady.dark_share = if matches!(self, Self::Night) {
            1.0
        } else {
            0.0
        };
        let mut scenario = steady.scenario();
        let draw = &mut scenario.draw;
        if matches!(self, Self::Asleep | Self::Report) {
            draw.scheduled_per_day = 0.0;
            steady.full.sunny.case.triggers_per_hour = 0.0;
        }
        if !matches!(self, Self::Report) {
            draw.check_in = None;
        }
        if matches!(self, Self::Session) {
            draw.day_trigger = Event::default();
        } else {
            draw.upload = None;
        }
        scenario
    }

    /// Gives it the limit that it meets, and says which end that is.
    fn limit(self, scenario: &mut Scenario, lowest: Voltage) -> usize {
        let draw = &mut scenario.draw;
        match self {
            Self::Asleep | Self::Day => draw.cut_off = lowest,
            Self::Night if draw.night_trigger.is_lit() => {
                draw.flash_lowest = lowest;
                return NIGHT_PICTURES;
            }
            Self::Night => draw.cut_off = lowest,
            Self::Session => {
                if let Some(upload) = &mut draw.upload {
                    upload.lowest = lowest;
                }
                return UPLOADS;
            }
            Self::Report => {
                if let Some(check_in) = &mut draw.check_in {
                    check_in.lowest = lowest;
                }
                return UPLOADS;
            }
        }
        DEAD
    }
}

/// How close the two voltages come: cells fall by a little all the same, in long blocks by more.
const CLOSE: f64 = 5e-5;

/// A string under the most that it can carry stands at half its voltage, and there a hair of polarisation moves
/// it by much.
const FAR_FROM_THE_MOST: f64 = 0.88;

/// A limit that lies this little above or below the lowest voltage by the hour is met or not.
fn the_voltage_decides(mut steady: Steady, pull: Pull) -> Result<(), TestCaseError> {
    let mut scenario = pull.alone(&mut steady);
    let Some((lowest, asleep)) = steady.voltages(&scenario) else {
        return Ok(());
    };
    let lowest = if matches!(pull, Pull::Asleep) {
        asleep
    } else {
        lowest
    };
    prop_assume!(lowest > asleep * FAR_FROM_THE_MOST);
    prop_assume!(matches!(pull, Pull::Asleep) || lowest < asleep);
    for (share, is_met) in [(1.0 + CLOSE, true), (1.0 - CLOSE, false)] {
        let end = pull.limit(&mut scenario, lowest * share);
        let days = steady.ends_in_blocks(&scenario)[end];
        prop_assert_eq!(
            days.is_finite(),
            is_met,
            "{:?} {:?} {}",
            pull,
            lowest,
            share
        );
    }
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(100))]

    #[test]
    fn a_block_draws_what_its_hours_draw(steady in steady()) {
        let scenario = steady.scenario();
        prop_assume!(steady.voltages(&scenario).is_some());
        let in_blocks = steady.left_in_blocks(&scenario, &Luck::NONE);
        draws_the_same(steady.left_by_hour(&scenario), in_blocks, 1e-5)?;
    }

    #[test]
    fn asleep_a_block_finds_the_voltage_of_its_hours(steady in steady(), standby_w in 0.001..0.05_f64) {
        let mut steady = steady;
        steady.full.sunny.case.standby_mw = standby_w * 1000.0;
        the_voltage_decides(steady, Pull::Asleep)?;
    }

    #[test]
    fn a_block_finds_the_voltages_of_its_hours(
        steady in steady(),
        pull in prop::sample::select(vec![Pull::Day, Pull::Night, Pull::Session, Pull::Report]),
    ) {
        the_voltage_decides(steady, pull)?;
    }

    /// What an observer sees as the lowest voltage is that of the heaviest load, whatever comes after it, and
    /// what is noted as asked of the cells is its current.
    #[test]
    fn a_light_load_hides_no_heavier_one(steady in steady(), day in any::<bool>()) {
        let mut steady = steady;
        let pull = if day { Pull::Day } else { Pull::Night };
        let alone = pull.alone(&mut steady);
        let Some((lowest, asleep)) = steady.voltages(&alone) else { return Ok(()) };
        prop_assume!(lowest < asleep * 0.999);
        let mut with_report = alone.clone();
        let mut report = Event::default();
        report.push(Burst {
            span: Time::from_seconds(1.0),
            power: Power::from_milliwatts(0.01),
            what: Use::CheckIn,
            flash: Power::ZERO,
        }).expect("it has room");
        with_report.draw.check_in = Some(CheckIn { per_day: 1.0, event: report, lowest: Voltage::ZERO });
        let (with, _) = steady.voltages(&with_report).expect("next to nothing more");
        prop_assert!((with.as_volts() - lowest.as_volts()).abs() < 1e-4 * lowest.as_volts(), "{with:?} {lowest:?}");
        let event = if day { &alone.draw.day_trigger } else { &alone.draw.night_trigger };
        let last = event.bursts().iter().map(|burst| burst.power + burst.flash).fold(Power::ZERO, Power::max);
        let strings = f64::from(alone.pack.parallel());
        let asked = run(&alone, steady.hours(), 1, |_| {}).asked.expect("it was asked");
        // The current at the end of a burst is its power over the voltage there: that of the open circuit at
        // most, and at the heaviest the lowest that there is.
        let (least, most) = (last / strings / alone.pack.fresh_voltage(), last / strings / lowest);
        prop_assert!(asked.heaviest >= least * 0.99 && asked.heaviest <= most * 1.01, "{asked:?} {least:?} {most:?}");
    }

    /// Where the model extrapolates in the cold, a cell that gives a share of its capacity stands as deep
    /// as one that has given so much more.
    #[test]
    fn a_doubted_cell_stands_deeper(
        steady in steady(),
        usable in 0.1..1.0_f64,
        below_k in prop::sample::select(vec![-1.0, 1.0, 7.0, 20.0]),
    ) {
        let scenario = steady.scenario();
        let from_k = scenario.pack.cell().tested.coldest.as_kelvin();
        // A step is from 20 to -20 °C in 1/T.
        let steps = (1.0 / (from_k - below_k) - 1.0 / from_k) / (1.0 / 253.15 - 1.0 / 293.15);
        let gives = (usable.ln() * steps.max(0.0)).exp();
        let shallow = Steady {
            celsius: from_k - below_k - 273.15,
            depth: steady.depth * 0.95 * gives,
            ..steady
        };
        let deep = Steady { depth: shallow.depth / gives, ..shallow.clone() };
        // Its resistance goes by the charge that has gone, not by how deep it stands.
        let of = |steady: &Steady| steady.on_cells(&scenario, |cell| {
            cell.tested.heaviest = overwinter_model::Current::from_amperes(1e9);
            cell.tested.heaviest_in_frost = cell.tested.heaviest;
            let branches = cell.branches.iter_mut().map(|branch| &mut branch.resistor);
            for resistor in branches.chain([&mut cell.ohmic]) {
                resistor.growth = 0.0;
                resistor.late_growth = 0.0;
            }
        });
        let (shallow_one, deep_one) = (of(&shallow), of(&deep));
        prop_assume!(deep.voltages(&deep_one).is_some());
        let luck = Luck { beyond_reach: Lanes::all(usable.ln()), ..Luck::NONE };
        let left = shallow.left_in_blocks(&shallow_one, &luck);
        draws_the_same(deep.left_in_blocks(&deep_one, &Luck::NONE), left, 1e-6)?;
    }
}
