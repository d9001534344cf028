//! The driver of sampled seasons as the tests call it, and its answer as lists: the one place that
//! knows how both are written.

use overwinter_model::lanes::Lanes;
use overwinter_model::paths::{Block, Cameras, DayAir, Followed, Luck, Today, Traffic};
use overwinter_model::season::{Cause, Ending, Outcome};

/// As [`overwinter_model::paths::follow`], which is inlined into every caller and long: this is compiled once.
#[inline(never)]
pub(crate) fn follow<T: Traffic<L>, const L: usize>(
    cameras: &Cameras<'_, '_, L>,
    blocks: &[Block],
    per_day: usize,
    air: &[DayAir<L>],
    luck: &Luck<L>,
    traffic: &mut T,
    observe: &mut dyn FnMut(u32, &Today<L>),
) -> Followed<L> {
    overwinter_model::paths::follow::<T, L>(
        cameras,
        blocks,
        per_day,
        air,
        luck,
        traffic,
        &mut |day, today| observe(day, today),
    )
}

/// What can end, in the order of the arrays below.
pub(crate) const ENDS: [&str; 5] = ["night pictures", "uploads", "card", "store", "the camera"];

/// Where each stands among [`ENDS`].
pub(crate) const NIGHT_PICTURES: usize = 0;
pub(crate) const UPLOADS: usize = 1;
pub(crate) const STORE: usize = 3;
pub(crate) const DEAD: usize = 4;

/// Days to each of [`ENDS`], infinite where it does not come.
pub(crate) fn ends<const L: usize>(followed: &Followed<L>) -> [Lanes<L>; 5] {
    ENDINGS.map(|ending| followed.ends[ending])
}

/// In the order of [`ENDS`].
const ENDINGS: [Ending; 5] = [
    Ending::NightPictures,
    Ending::Uploads,
    Ending::CardRoom,
    Ending::Store,
    Ending::Camera,
];

/// The same of the mean season.
pub(crate) fn ends_by_hour(outcome: &Outcome) -> [f64; 5] {
    ENDINGS.map(|ending| {
        let end = outcome.ends[ending];
        end.map_or(f64::INFINITY, |end| end.after.as_days())
    })
}

/// Why the camera stopped, in each lane.
pub(crate) fn causes<const L: usize>(followed: &Followed<L>) -> [Option<Cause>; L] {
    followed.causes
}

/// Every number but the ends.
pub(crate) fn figures<const L: usize>(followed: &Followed<L>) -> Vec<(&'static str, Lanes<L>)> {
    let (counts, panel) = (&followed.counts, &followed.panel);
    vec![
        ("charge left", followed.charge_left),
        ("seconds alive", counts.alive_s),
        ("triggers by day", counts.by_day),
        ("triggers by night", counts.by_night),
        ("sessions", counts.sessions),
        ("pictures sent", counts.sent),
        ("check-ins", counts.check_ins),
        ("put in", followed.put_in.si()),
        ("self-discharge", followed.self_discharge.si()),
        ("left", followed.left.si()),
        ("offered", panel.offered.si()),
        ("kept out", panel.kept_out.si()),
        ("spilled", panel.spilled.si()),
        ("charging loss", panel.charging_loss.si()),
    ]
}

/// One of [`figures`] of a season on its own.
pub(crate) fn figure(followed: &Followed<1>, what: &str) -> f64 {
    let figures = figures(followed);
    let found = figures.iter().find(|(name, _)| *name == what);
    found.unwrap_or_else(|| panic!("no figure {what}")).1.0[0]
}

/// Every number at the end of a day.
pub(crate) fn standing<const L: usize>(today: &Today<L>) -> Vec<(&'static str, Lanes<L>)> {
    let panel = &today.panel;
    vec![
        ("charge left", today.charge_left),
        ("in the store", today.in_store.si()),
        ("wanted", today.wanted.si()),
        ("from the pack", today.from_pack.si()),
        ("dry blocks", today.dry_blocks),
        ("offered", panel.offered.si()),
        ("kept out", panel.kept_out.si()),
        ("spilled", panel.spilled.si()),
        ("charging loss", panel.charging_loss.si()),
    ]
}
