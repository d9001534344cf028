//! Counts over paths, in memory that does not grow with them.

use overwinter_model::Energy;
use overwinter_model::draw::{ByUse, Draw};
use overwinter_model::harvest::FromPanel;
use overwinter_model::lanes::Lanes;
use overwinter_model::paths::{Followed, Luck};

use super::charge::ChargeFan;
use super::ends::EndCounts;
use super::lost::{Losses, Lost};
use super::sun::SunDays;

/// What is kept by the day, beside the ends, and of which cameras: it takes a fifth of a megabyte each.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Kept<'a> {
    /// Charge left.
    pub charge: bool,
    /// What panels bring.
    pub sun: bool,
    /// What became of each path.
    pub paths: bool,
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
    pub(super) lost: Losses<EndCounts>,
    pub(super) charge: ChargeFan,
    pub(super) sun: SunDays,
    pub(super) sums: Sums,
    /// Of each path in their order, if they are wanted.
    pub(super) paths: Option<Vec<PathEnds>>,
}

/// What became of one path.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PathEnds {
    /// Days to the camera's end; infinite if it outlives the season.
    pub camera: f64,
    /// Days to the first loss of pictures; infinite if none is lost in the season.
    pub record: f64,
}

/// Sums over paths: energies, counts and days.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Sums {
    pub(super) put_in: Energy,
    pub(super) used: ByUse,
    pub(super) self_discharge: Energy,
    pub(super) left: Energy,
    pub(super) panel: FromPanel,
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
            lost: Losses::each(|_| none.clone()),
            charge: ChargeFan::new(days(kept.charge)),
            sun: SunDays::new(days(kept.sun && has_panel)),
            sums: Sums::default(),
            paths: kept.paths.then(Vec::new),
        }
    }

    /// Notes the first `wanted` lanes of a group, and gives the first end of each that costs pictures.
    // A call of its own: who takes lanes apart in the loop that follows them makes compilers keep them
    // apart all along.
    #[inline(never)]
    pub(super) fn note<const L: usize>(
        &mut self,
        draws: &[Draw; L],
        luck: &Luck<L>,
        followed: &Followed<L>,
        wanted: usize,
    ) -> [f64; L] {
        for (lost, counts) in self.lost.iter_mut() {
            for days in lost.when(&followed.ends).0.iter().take(wanted) {
                counts.note(*days);
            }
        }
        for (lane, draw) in draws.iter().enumerate().take(wanted) {
            let used = followed.counts.used(lane, draw, luck.airtime.0[lane]);
            self.sums.add(&Sums::of_lane(followed, used, lane));
        }
        let record = Lost::Record.when(&followed.ends).0;
        if let Some(paths) = &mut self.paths {
            let camera = Lost::Camera.when(&followed.ends).0;
            let ends = camera.into_iter().zip(record).take(wanted);
            paths.extend(ends.map(|(camera, record)| PathEnds { camera, record }));
        }
        record
    }

    fn add(&mut self, other: &Self) {
        for (lost, counts) in self.lost.iter_mut() {
            counts.add(&other.lost[lost]);
        }
        self.sun.add(&other.sun);
        self.charge.add(&other.charge);
        self.sums.add(&other.sums);
        if let (Some(paths), Some(more)) = (&mut self.paths, &other.paths) {
            paths.extend_from_slice(more);
        }
    }
}

impl Sums {
    /// What became of one path.
    fn of_lane<const L: usize>(followed: &Followed<L>, used: ByUse, lane: usize) -> Self {
        let counts = &followed.counts;
        let of = |energy: Energy<Lanes<L>>| energy.lanes()[lane];
        Self {
            put_in: of(followed.put_in),
            used,
            self_discharge: of(followed.self_discharge),
            left: of(followed.left),
            panel: followed.panel.lane(lane),
            triggers: counts.by_day.0[lane] + counts.by_night.0[lane],
            charge_left: followed.charge_left.0[lane],
            alive_days: counts.alive_s.0[lane] / 86_400.0,
        }
    }

    fn add(&mut self, other: &Self) {
        self.used.add_all(&other.used, 1.0);
        self.put_in += other.put_in;
        self.self_discharge += other.self_discharge;
        self.left += other.left;
        self.panel.add(&other.panel, 1.0);
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
