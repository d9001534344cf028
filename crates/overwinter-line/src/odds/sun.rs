//! What a panel brought and its camera drew, day by day, over many paths.

use overwinter_model::lanes::Lanes;
use overwinter_model::paths::Today;
use serde::Serialize;

/// Sums over the paths for each day of the season; nothing for a camera without a panel.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct SunDays {
    days: Vec<Sums>,
}

/// Sums over paths of one day: energies are those since the season began, joules.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
struct Sums {
    offered: f64,
    kept_out: f64,
    spilled: f64,
    stored: f64,
    wanted: f64,
    from_pack: f64,
    in_store: f64,
    /// Paths in which the camera lived for a part of the day at least.
    alive: u32,
    /// Of them those in which a store was empty for a part of it.
    dry: u32,
}

/// Means of some days over the paths in which the camera lives, watt-hours.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
pub struct SunMean {
    /// What the panel had to give, behind its controller.
    pub offered_wh: f64,
    /// Of that, not taken because it was too cold or too warm to charge, or came too fast.
    pub kept_out_wh: f64,
    /// Not taken because there was no more room.
    pub spilled_wh: f64,
    /// What went into the store or the pack to stay.
    pub stored_wh: f64,
    /// What the camera drew.
    pub drawn_wh: f64,
    /// What of it came from the pack because a store was empty.
    pub from_pack_wh: f64,
}

/// A week of the season.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SunWeek {
    /// Its first day, from 0 for the season's.
    pub first_day: usize,
    /// How many days it has: seven, the season's last perhaps fewer.
    pub days: usize,
    /// Sums over it.
    pub mean: SunMean,
    /// Share of the living cameras' seasons in which the store was empty for a part of a day, mean over
    /// the week's days.
    pub dry: f64,
}

impl SunDays {
    /// Nothing is counted yet.
    pub(super) fn new(days: u32) -> Self {
        Self {
            days: vec![Sums::default(); days as usize],
        }
    }

    /// Counts the first `wanted` lanes of a group at the end of a day, of which `before` tells how
    /// they stood the day before.
    // A call of its own, as the tally's.
    #[inline(never)]
    pub(super) fn note<const L: usize>(
        &mut self,
        day: u32,
        today: &Today<L>,
        before: &mut Option<Today<L>>,
        wanted: usize,
    ) {
        let Some(sums) = self.days.get_mut(day as usize) else {
            return;
        };
        let stored = today.panel.stored();
        let was = |of: fn(&Today<L>) -> Lanes<L>| before.as_ref().map_or(Lanes::all(0.0), of);
        let (drawn, dry) = (
            was(|today| today.wanted.si()),
            was(|today| today.dry_blocks),
        );
        for lane in 0..wanted.min(L) {
            sums.offered += today.panel.offered.si().0[lane];
            sums.kept_out += today.panel.kept_out.si().0[lane];
            sums.spilled += today.panel.spilled.si().0[lane];
            sums.stored += stored.si().0[lane];
            sums.wanted += today.wanted.si().0[lane];
            sums.from_pack += today.from_pack.si().0[lane];
            sums.in_store += today.in_store.si().0[lane];
            // A camera that lives draws something.
            sums.alive += u32::from(today.wanted.si().0[lane] > drawn.0[lane]);
            sums.dry += u32::from(today.dry_blocks.0[lane] > dry.0[lane]);
        }
        *before = Some(*today);
    }

    /// Counts a group's last day again for the days that it was not followed.
    pub(super) fn fill<const L: usize>(&mut self, from_day: u32, last: &Today<L>, wanted: usize) {
        let mut before = Some(*last);
        for day in from_day..self.days.len() as u32 {
            self.note(day, last, &mut before, wanted);
        }
    }

    pub(super) fn add(&mut self, other: &Self) {
        for (sums, more) in self.days.iter_mut().zip(&other.days) {
            sums.offered += more.offered;
            sums.kept_out += more.kept_out;
            sums.spilled += more.spilled;
            sums.stored += more.stored;
            sums.wanted += more.wanted;
            sums.from_pack += more.from_pack;
            sums.in_store += more.in_store;
            sums.alive += more.alive;
            sums.dry += more.dry;
        }
    }

    /// How many days are counted.
    #[must_use]
    pub fn len(&self) -> usize {
        self.days.len()
    }

    /// Whether none is.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.days.is_empty()
    }

    /// Sums of the days `from` to before `to`, mean over the seasons in which the camera lives in them.
    #[must_use]
    pub fn mean(&self, from: usize, to: usize) -> SunMean {
        let none = Sums::default();
        let of_days = self.days.get(from..to.min(self.days.len())).unwrap_or(&[]);
        let at_end = of_days.last().unwrap_or(&none);
        let before = from.checked_sub(1).and_then(|day| self.days.get(day));
        let before = before.unwrap_or(&none);
        let alive: f64 = of_days.iter().map(|day| f64::from(day.alive)).sum();
        let seasons = alive / of_days.len().max(1) as f64;
        let wh = |of: fn(&Sums) -> f64| {
            if seasons > 0.0 {
                (of(at_end) - of(before)) / (seasons * 3600.0)
            } else {
                0.0
            }
        };
        SunMean {
            offered_wh: wh(|sums| sums.offered),
            kept_out_wh: wh(|sums| sums.kept_out),
            spilled_wh: wh(|sums| sums.spilled),
            stored_wh: wh(|sums| sums.stored),
            drawn_wh: wh(|sums| sums.wanted),
            from_pack_wh: wh(|sums| sums.from_pack),
        }
    }

    /// All weeks of the season.
    pub fn weeks(&self) -> impl Iterator<Item = SunWeek> + '_ {
        (0..self.len()).step_by(7).map(|first_day| {
            let end = (first_day + 7).min(self.len());
            let dry: f64 = (first_day..end).filter_map(|day| self.dry(day)).sum();
            let days = end - first_day;
            SunWeek {
                first_day,
                days,
                mean: self.mean(first_day, end),
                dry: dry / days as f64,
            }
        })
    }

    /// Watt-hours in the store at the end of a day, mean over `paths` paths.
    #[must_use]
    pub fn in_store_wh(&self, day: usize, paths: u32) -> Option<f64> {
        let sums = self.days.get(day)?;
        Some(sums.in_store / (f64::from(paths) * 3600.0))
    }

    /// Share of the paths in which the camera lives on a day in which the store was empty for a part of
    /// it.
    #[must_use]
    pub fn dry(&self, day: usize) -> Option<f64> {
        let sums = self.days.get(day)?;
        Some(f64::from(sums.dry) / f64::from(sums.alive.max(1)))
    }
}
