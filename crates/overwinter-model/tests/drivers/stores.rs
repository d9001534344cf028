//! What a store beside the pack takes and gives, and what is lost by lying.

use overwinter_model::Power;
use overwinter_model::draw::Event;
use overwinter_model::paths::{Expected, Luck, Prepared};
use overwinter_model::season::{Feeds, Scenario};
use proptest::prelude::*;

use crate::cases::camera::{Full, full};
use crate::cases::driver::{DEAD, STORE, ends, figure, follow, standing};
use crate::{SEASON_DAYS, hours_per_block, mean_season};

/// A camera with a store that loses nothing by lying.
fn with_store(full: &Full, store_wh: f64) -> Scenario {
    let mut full = full.clone();
    full.has_panel = true;
    full.sunny.store_wh = Some(full.sunny.store_wh.unwrap_or(store_wh));
    full.lock_out.lost_per_month = 0.0;
    full.scenario(1.0)
}

/// A camera that draws nothing.
fn nothing(full: &Full) -> Scenario {
    let mut scenario = full.scenario(1.0);
    let draw = &mut scenario.draw;
    draw.standby = Power::ZERO;
    draw.day_trigger = Event::default();
    draw.night_trigger = Event::default();
    (draw.upload, draw.check_in) = (None, None);
    draw.cut_off = overwinter_model::Voltage::ZERO;
    scenario.feeds = None;
    scenario
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(60))]

    #[test]
    fn a_store_holds_what_it_took_and_did_not_give(full in full(), store_wh in 0.2..40.0_f64) {
        let full = Full { has_panel: true, ..full };
        let scenario = with_store(&full, store_wh);
        let Some(Feeds::Store(store)) = &scenario.feeds else { return Ok(()) };
        let season = full.season();
        let per_block = hours_per_block(&scenario, &season);
        let prepared = Prepared::new(&scenario);
        let mut dry = 0.0;
        let mut law = Ok(());
        let followed = follow(
            &prepared.as_said(),
            &season.blocks(&scenario, per_block),
            24 / per_block,
            &[],
            &Luck::<1>::NONE,
            &mut Expected,
            &mut |_, today| {
                let today_is: std::collections::BTreeMap<_, _> =
                    standing(today).into_iter().map(|(what, lanes)| (what, lanes.0[0])).collect();
                let gave = today_is["wanted"] - today_is["from the pack"];
                let took = today.panel.stored().si().0[0];
                let capacity = store.capacity.as_joules();
                let held = capacity + took - gave;
                let off = (held - today_is["in the store"]).abs();
                if off > 1e-9 * (capacity + took + gave) {
                    law = Err(TestCaseError::fail(format!("{held} {today_is:?}")));
                }
                dry = today_is["dry blocks"];
            },
        );
        law?;
        let [store_empty, dead] = [STORE, DEAD].map(|which| ends(&followed)[which].0[0]);
        prop_assert_eq!(store_empty.is_finite(), dry > 0.0);
        let blocks = (dead.min(SEASON_DAYS) - store_empty) * 24.0 / per_block as f64;
        prop_assert!(dry <= blocks.max(0.0).ceil(), "{dry} dry of {blocks}");
    }

    #[test]
    fn what_a_camera_with_a_panel_wants_it_uses(full in full()) {
        let full = Full { has_panel: true, ..full };
        let scenario = full.scenario(1.0);
        let season = full.season();
        let prepared = Prepared::new(&scenario);
        let mut wanted = 0.0;
        let followed = follow(
            &prepared.as_said(),
            &season.blocks(&scenario, 3),
            8,
            &[],
            &Luck::<1>::NONE,
            &mut Expected,
            &mut |_, today| wanted = today.wanted.si().0[0],
        );
        let used = followed.counts.used(0, &scenario.draw, 1.0).total().as_joules();
        let takes_a_charge = wanted > 0.0;
        let primary = scenario.pack.cell().rechargeable().is_none();
        prop_assert_eq!(takes_a_charge, !(primary && matches!(scenario.feeds, Some(Feeds::Pack { .. }))));
        prop_assert!(!takes_a_charge || (wanted - used).abs() <= 1e-9 * used, "{wanted} {used}");
    }

    /// A series to the third order stands for an exponential.
    #[test]
    fn cells_that_only_lie_lose_the_same(full in full(), mean_c in -10.0..50.0_f64) {
        let mut full = Full { has_panel: false, falls_k: 0.0, ..full };
        full.sunny.case.mean_c = mean_c;
        let even = |swing_c: f64| {
            let mut full = full.clone();
            full.sunny.case.swing_c = swing_c;
            let scenario = nothing(&full);
            let camera = full.season().by_hour(&scenario);
            let cells = *camera.cells();
            let ordinary = f64::from(scenario.pack.series()) - 1.0;
            let depth = ordinary * scenario.pack.cell().depth(&cells.ordinary)
                + scenario.pack.weakest().depth(&cells.weakest);
            let by_hour = 1.0 - depth / (ordinary + 1.0);
            let followed = mean_season(&scenario, &full.season(), 12);
            (by_hour, figure(&followed, "charge left"))
        };
        let (by_hour, in_blocks) = even(0.0);
        prop_assert!((by_hour - in_blocks).abs() <= 1e-9, "{by_hour} {in_blocks}");
        // Half a day's rates are those of its hours in the mean.
        let (by_hour, in_blocks) = even(full.sunny.case.swing_c);
        prop_assert!((by_hour - in_blocks).abs() <= 1e-6, "{by_hour} {in_blocks}");
    }
}
