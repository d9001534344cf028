//! Runs groups of paths through the model, in the widest registers that the machine has.

use std::sync::{Mutex, PoisonError};

use overwinter_model::draw::Draw;
use overwinter_model::harvest::PanelDay;
use overwinter_model::paths::{
    AirChances, Block, CameraChances, DayAir, Drawn, FORESEEN_BLOCK_H, FORESEEN_DAYS, Prepared,
    SampledAir, follow,
};
use overwinter_model::random::Key;
use overwinter_model::season::{Hour, Scenario};
use pulp::{Simd, WithSimd};

use super::Paths;
use super::tally::Tally;
use crate::host::{Host, gather};
use crate::line::{Camera, Deviates, Figure, Quantity};

/// Paths side by side. Their bits do not depend on it; a build for tests has fewer, and compiles sooner.
const LANES: usize = if cfg!(debug_assertions) { 4 } else { 16 };

/// Paths are tallied in so many parts at the most, whatever the threads: sums come in the same order.
const PARTS: u32 = 16;

/// So many quantities of a camera may be drawn.
const QUANTITIES: usize = Figure::ALL.len() + 1;

/// Each part has a multiple of so many paths but the last.
const PART_STEP: u32 = 16;

/// A camera on its cells, ready for paths.
pub(super) struct Ready<'a> {
    camera: &'a Camera,
    /// Large.
    prepared: Box<Prepared<'a>>,
    chances: CameraChances,
    blocks: Vec<Block>,
    per_day: usize,
}

impl<'a> Ready<'a> {
    /// `scenario` through the `hours` of a season of so many days, under its `light` if there is a
    /// panel. Hours and light go on to [`FORESEEN_DAYS`] where the season is shorter.
    pub(super) fn new(
        (camera, scenario): (&'a Camera, &'a Scenario),
        chances: CameraChances,
        hours: &[Hour],
        season_days: usize,
        light: Option<Light<'_>>,
    ) -> Self {
        let prepared = Box::new(Prepared::new(scenario));
        let blocks = |days: usize, per_block: usize| {
            let hours = hours.get(..days * 24).unwrap_or(hours);
            let blocks = hours.chunks(per_block).enumerate();
            let blocks = blocks.filter_map(|(number, hours)| {
                let block = Block::of(hours, &scenario.draw, scenario.pack.cell())?;
                let day = number * per_block / 24;
                let of_day = light.as_ref().and_then(|light| light.of_day(day));
                Some(match of_day {
                    Some((panel, clearness)) => block.lit(hours, panel, clearness),
                    None => block,
                })
            });
            blocks.collect::<Vec<_>>()
        };
        let per_block = prepared.hours_per_block(&blocks(FORESEEN_DAYS, FORESEEN_BLOCK_H));
        Self {
            camera,
            blocks: blocks(season_days, per_block),
            prepared,
            chances,
            per_day: 24 / per_block,
        }
    }
}

impl Ready<'_> {
    /// What the cameras of some paths draw, each in its lane, where nobody has measured them.
    #[inline(never)]
    fn drawn<const L: usize>(&self, drawn: &Drawn<L>) -> [Draw; L] {
        let mut deviates = [[[0.0; L]; 2]; QUANTITIES];
        for quantity in Quantity::all() {
            let number = quantity.number();
            deviates[number as usize] = [
                self.chances.of_model(drawn, number).0,
                self.chances.of_unit(drawn, number).0,
            ];
        }
        std::array::from_fn(|lane| {
            self.camera.drawn(|quantity| {
                let [model, unit] = deviates[quantity.number() as usize];
                Deviates {
                    model: model[lane],
                    unit: unit[lane],
                }
            })
        })
    }
}

/// What a panel brings on each day of a season.
#[derive(Clone, Copy)]
pub(super) struct Light<'a> {
    pub(super) panel: &'a [PanelDay],
    /// Mean clearness of the days of each day's month.
    pub(super) clearness: &'a [f64],
}

impl<'a> Light<'a> {
    fn of_day(&self, day: usize) -> Option<(&'a PanelDay, f64)> {
        Some((self.panel.get(day)?, *self.clearness.get(day)?))
    }
}

/// What a line's cameras share.
pub(super) struct Site<'a> {
    pub(super) chances: &'a AirChances,
    /// Index of the month of each day of the season.
    pub(super) months: &'a [usize],
}

/// How many paths a part has; the last one may have fewer.
fn paths_of_part(paths: Paths) -> u32 {
    let steps = paths.count.div_ceil(PART_STEP);
    steps.div_ceil(PARTS).max(1) * PART_STEP
}

/// In how many parts paths are tallied.
pub(super) fn parts(paths: Paths) -> usize {
    paths.count.div_ceil(paths_of_part(paths)) as usize
}

/// Samples all paths of `cameras`; gives a tally for each. `broken` has for each path the days to the first
/// end that costs pictures at any camera before them, and is moved to any of theirs that comes sooner.
pub(super) fn sample(
    site: &Site<'_>,
    cameras: &[Ready<'_>],
    paths: Paths,
    empty: &Tally,
    broken: &mut [f64],
    host: &Host<'_>,
) -> Tally {
    let per_part = paths_of_part(paths);
    // Each part locks its own paths, so none waits.
    let parts = broken.chunks_mut(per_part as usize);
    let parts: Vec<_> = (0_u32..).zip(parts.map(Mutex::new)).collect();
    let tallies = gather(host.workers, parts.len(), |number| {
        let mut tally = empty.clone();
        let mut air = Vec::new();
        let (part, broken) = &parts[number];
        let first = part * per_part;
        let mut broken = broken.lock().unwrap_or_else(PoisonError::into_inner);
        let firsts = (first..).step_by(LANES);
        for (first, broken) in firsts.zip(broken.chunks_mut(LANES)) {
            follow_group(Group {
                site,
                cameras,
                paths,
                first,
                air: &mut air,
                tally: &mut tally,
                broken,
            });
        }
        host.watch.advance(1);
        tally
    });
    let mut sum = empty.clone();
    for tally in &tallies {
        sum.add(tally);
    }
    sum
}

/// Follows a group in the widest registers that the machine has.
#[cfg(not(debug_assertions))]
fn follow_group(group: Group<'_, '_>) {
    pulp::Arch::new().dispatch(group);
}

/// Follows a group. A build for tests has the plain form alone: the others have the same bits, which
/// `.ci/inlined` holds.
#[cfg(debug_assertions)]
fn follow_group(group: Group<'_, '_>) {
    group.with_simd(pulp::Scalar::new());
}

/// The same paths of every camera, which share their weather.
struct Group<'a, 'b> {
    site: &'a Site<'b>,
    cameras: &'a [Ready<'b>],
    paths: Paths,
    first: u32,
    air: &'a mut Vec<DayAir<LANES>>,
    tally: &'a mut Tally,
    /// Days to the line's first end in each of the paths.
    broken: &'a mut [f64],
}

impl WithSimd for Group<'_, '_> {
    type Output = ();

    #[inline(always)]
    fn with_simd<S: Simd>(self, _: S) {
        let mut paths = [0; LANES];
        for (path, number) in paths.iter_mut().zip(self.first..) {
            *path = number;
        }
        let drawn = Drawn {
            key: Key(self.paths.seed),
            paths,
        };
        let wanted = self.broken.len();
        let mut sampled = SampledAir::new(drawn, self.site.chances);
        self.air.clear();
        for month in self.site.months {
            self.air.push(sampled.next_day(*month));
        }
        for (camera, tally) in self.cameras.iter().zip(&mut self.tally.cameras) {
            let luck = camera.chances.luck(&drawn, camera.prepared.pack());
            let draws = camera.drawn(&drawn);
            let cameras = camera.prepared.cameras(&draws);
            let mut traffic = camera.chances.traffic(&drawn);
            let mut next_day = 0;
            let (charge, sun) = (&mut tally.charge, &mut tally.sun);
            let mut last = None;
            let followed = follow::<_, LANES>(
                &cameras,
                &camera.blocks,
                camera.per_day,
                self.air,
                &luck,
                &mut traffic,
                &mut |day, today| {
                    charge.note(day, today.charge_left.0.get(..wanted).unwrap_or(&[]));
                    if !sun.is_empty() {
                        sun.note(day, today, &mut last, wanted);
                    }
                    next_day = day + 1;
                },
            );
            if let Some(last) = last {
                sun.fill(next_day, &last, wanted);
            }
            charge.fill(
                next_day,
                followed.charge_left.0.get(..wanted).unwrap_or(&[]),
            );
            let broken = tally.note(&draws, &luck, &followed, wanted);
            for (first, days) in self.broken.iter_mut().zip(broken) {
                *first = first.min(days);
            }
        }
    }
}
