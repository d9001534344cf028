//! Counts over paths, in memory that does not grow with them.

use overwinter_model::draw::ByUse;
use overwinter_model::lanes::Lanes;
use overwinter_model::paths::{Followed, Luck, Prepared};

use super::charge::ChargeFan;
use super::ends::EndCounts;
use super::sun::SunDays;

/// What is kept by the day, beside the ends, and of which cameras: it takes a fifth of a megabyte each.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Kept<'a> {
    /// Charge left.
    pub charge: bool,
    /// What panels bring.
    pub sun: bool,
    /// Numbers of the cameras, the first is 0.
    pub cameras: &'a [usize],
}

impl Kept<'_> {
    /// What is kept of the camera of that number.
    pub(super) fn of(self, number: usize) -> Self {
        if self.cameras.contains(&number) {
            self
        } else {
            Self::default()
        }
    }
}

/// Counts of one camera.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct CameraTally {
    pub(super) night_pictures_lost: EndCounts,
    pub(super) night_pictures_ended: EndCounts,
    pub(super) uploads_ended: EndCounts,
    pub(super) card_full: EndCounts,
    pub(super) dead: EndCounts,
    pub(super) record_broken: EndCounts,
    pub(super) store_empty: EndCounts,
    pub(super) charge: ChargeFan,
    pub(super) sun: SunDays,
    pub(super) sums: Sums,
}

/// Sums over paths: joules, counts and days.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Sums {
    pub(super) put_in_j: f64,
    pub(super) used: ByUse,
    pub(super) self_discharge_j: f64,
    pub(super) left_j: f64,
    pub(super) offered_j: f64,
    pub(super) kept_out_j: f64,
    pub(super) spilled_j: f64,
    pub(super) charging_loss_j: f64,
    pub(super) triggers: f64,
    pub(super) charge_left: f64,
    pub(super) alive_days: f64,
}

/// Counts of a line.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Tally {
    pub(super) cameras: Vec<CameraTally>,
}

impl CameraTally {
    fn none(season_days: u32, paths: u32, kept: Kept<'_>, has_panel: bool) -> Self {
        let days = |wanted: bool| if wanted { season_days } else { 0 };
        let none = EndCounts::none(season_days, paths);
        Self {
            night_pictures_lost: none.clone(),
            night_pictures_ended: none.clone(),
            uploads_ended: none.clone(),
            card_full: none.clone(),
            dead: none.clone(),
            record_broken: none.clone(),
            store_empty: none,
            charge: ChargeFan::new(days(kept.charge)),
            sun: SunDays::new(days(kept.sun && has_panel)),
            sums: Sums::default(),
        }
    }

    /// Notes the first `wanted` lanes of a group, and gives the first end of each that costs pictures.
    pub(super) fn note<const L: usize>(
        &mut self,
        prepared: &Prepared<'_>,
        luck: &Luck<L>,
        followed: &Followed<L>,
        wanted: usize,
    ) -> [f64; L] {
        let dark = followed.night_pictures_lost.min(followed.dead);
        let broken = dark.min(followed.card_full);
        let mut note = |ends: fn(&mut Self) -> &mut EndCounts, days: &Lanes<L>| {
            for days in days.0.iter().take(wanted) {
                ends(self).note(*days);
            }
        };
        note(
            |t| &mut t.night_pictures_lost,
            &followed.night_pictures_lost,
        );
        note(|t| &mut t.night_pictures_ended, &dark);
        note(
            |t| &mut t.uploads_ended,
            &followed.uploads_failed.min(followed.dead),
        );
        note(|t| &mut t.card_full, &followed.card_full);
        note(|t| &mut t.dead, &followed.dead);
        note(|t| &mut t.record_broken, &broken);
        // A camera stops within the hours in which its store runs empty, and then notes no more.
        note(
            |t| &mut t.store_empty,
            &followed.store_empty.min(followed.dead),
        );
        for lane in 0..wanted {
            let used = prepared.used(&followed.counts, luck, lane);
            self.sums.add_lane(followed, &used, lane);
        }
        broken.0
    }

    fn add(&mut self, other: &Self) {
        self.night_pictures_lost.add(&other.night_pictures_lost);
        self.night_pictures_ended.add(&other.night_pictures_ended);
        self.uploads_ended.add(&other.uploads_ended);
        self.card_full.add(&other.card_full);
        self.dead.add(&other.dead);
        self.record_broken.add(&other.record_broken);
        self.store_empty.add(&other.store_empty);
        self.sun.add(&other.sun);
        self.charge.add(&other.charge);
        self.sums.add(&other.sums);
    }
}

impl Sums {
    fn add_lane<const L: usize>(&mut self, followed: &Followed<L>, used: &ByUse, lane: usize) {
        let counts = &followed.counts;
        self.used.add_all(used, 1.0);
        self.put_in_j += followed.put_in_j.0[lane];
        self.self_discharge_j += followed.self_discharge_j.0[lane];
        self.left_j += followed.left_j.0[lane];
        self.offered_j += followed.panel.offered_j.0[lane];
        self.kept_out_j += followed.panel.kept_out_j.0[lane];
        self.spilled_j += followed.panel.spilled_j.0[lane];
        self.charging_loss_j += followed.panel.charging_loss_j.0[lane];
        self.triggers += counts.by_day.0[lane] + counts.by_night.0[lane];
        self.charge_left += followed.charge_left.0[lane];
        self.alive_days += counts.alive_s.0[lane] / 86_400.0;
    }

    fn add(&mut self, other: &Self) {
        self.used.add_all(&other.used, 1.0);
        self.put_in_j += other.put_in_j;
        self.self_discharge_j += other.self_discharge_j;
        self.left_j += other.left_j;
        self.offered_j += other.offered_j;
        self.kept_out_j += other.kept_out_j;
        self.spilled_j += other.spilled_j;
        self.charging_loss_j += other.charging_loss_j;
        self.triggers += other.triggers;
        self.charge_left += other.charge_left;
        self.alive_days += other.alive_days;
    }
}

impl Tally {
    /// Nothing is counted yet; `cameras` says of each what is kept and whether it has a panel.
    pub(super) fn none<'a>(
        cameras: impl Iterator<Item = (Kept<'a>, bool)>,
        season_days: u32,
        paths: u32,
    ) -> Self {
        let camera = |(kept, has_panel)| CameraTally::none(season_days, paths, kept, has_panel);
        Self {
            cameras: cameras.map(camera).collect(),
        }
    }

    pub(super) fn add(&mut self, other: &Self) {
        for (camera, more) in self.cameras.iter_mut().zip(&other.cameras) {
            camera.add(more);
        }
    }
}
