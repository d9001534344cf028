//! The answer as a picture's maps and weeks.

use overwinter_line::answer::solar::{Detail, Planned, Solar, StoreSize, WithoutSun};

use super::text;
use crate::plot;

/// For each camera the odds of being alive over panel and store, and the weeks of the size that is
/// looked at closely.
#[must_use]
pub fn picture_contents(solar: &Solar) -> plot::Solar {
    let cameras = solar.cameras.iter().map(|one| plot::CameraSolar {
        name: one.name.clone(),
        map: Some(panel_map(solar, one)),
        weeks: one
            .detail
            .as_ref()
            .filter(|detail| detail.without_sun != WithoutSun::NeverRuns)
            .map(|detail| week_energy(solar, one, detail)),
    });
    plot::Solar {
        title: format!("{}: panels and stores", solar.site),
        seasons: solar.paths.count,
        cameras: cameras.collect(),
    }
}

fn panel_map(solar: &Solar, one: &Planned) -> plot::PanelMap {
    let map = &one.map;
    let stores = 0..map.stores.len();
    let of_store = |store| {
        let row = map.points.iter().skip(store);
        let row = row.step_by(map.stores.len());
        row.map(|point| point.lasting.alive).collect()
    };
    plot::PanelMap {
        panels_w: map.panels_w.clone(),
        stores_wh: map.stores.iter().map(shown_wh).collect(),
        odds: stores.map(of_store).collect(),
        wanted_odds: solar.target.share(),
        chosen: one.answer.smallest.and_then(|smallest| {
            let place = map.points.iter().position(|point| *point == smallest)?;
            Some((place / map.stores.len(), place % map.stores.len()))
        }),
        own: one.own.map(|own| (own.panel_w, shown_wh(&own.store))),
    }
}

/// A pack's nominal energy has no digits that mean something.
fn shown_wh(store: &StoreSize) -> f64 {
    store.strings.map_or(store.wh, |_| store.wh.round())
}

fn week_energy(solar: &Solar, one: &Planned, detail: &Detail) -> plot::WeekEnergy {
    plot::WeekEnergy::of(
        text::size(&detail.size),
        &solar.season,
        &detail.sun,
        !one.charges_pack(),
    )
}
