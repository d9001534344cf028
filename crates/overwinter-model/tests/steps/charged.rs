//! What a store and a pack take, hold and lose.

use overwinter_model::cell::catalogue::{CATALOGUE, find};
use overwinter_model::cell::{Cell, CellState, Charging, OCV_DEPTHS, Wells};
use overwinter_model::harvest::{ChargeLimit, Store};
use overwinter_model::pack::{Pack, PackError, PackState};
use overwinter_model::season::{Camera, Feeds, Scenario};
use overwinter_model::{Charge, Current, Energy, Power, Resistance, Temperature, Time, Voltage};
use proptest::prelude::*;

use crate::{close, hour, scenario, through};

fn store() -> Store {
    Store {
        capacity: Energy::from_watt_hours(100.0),
        charge_efficiency: 0.85,
        limit: ChargeLimit {
            coldest: Some(Temperature::from_celsius(0.0)),
            ..ChargeLimit::default()
        },
        lag: Time::from_hours(6.0),
        self_discharge_per_month: 0.05,
        weak_below: None,
    }
}

#[test]
fn a_store_loses_in_a_month_what_is_said_of_a_month() {
    let store = store();
    let mut state = store.full(Temperature::REFERENCE);
    let (none, month) = (Power::ZERO, Time::from_days(30.0));
    let lost = store
        .step(&mut state, none, none, Temperature::REFERENCE, month)
        .self_discharge;
    assert!((lost.as_watt_hours() - 5.0).abs() < 1e-9, "{lost:?}");
    // Two halves of a month are a month.
    for _ in 0..2 {
        store.step(&mut state, none, none, Temperature::REFERENCE, month * 0.5);
    }
    assert!(
        (state.held.as_watt_hours() - 95.0 * 0.95).abs() < 1e-9,
        "{state:?}"
    );
}

/// There is nothing that a share could be of.
#[test]
fn a_store_is_as_full_as_it_is_and_one_of_no_capacity_empty() {
    let mut scenario = scenario(&CATALOGUE[0].cell);
    scenario.feeds = Some(Feeds::Store(Store {
        capacity: Energy::ZERO,
        ..store()
    }));
    let (_, seen) = through(&scenario, &hour(20.0, 0.0, 0.0, 0.0));
    assert_eq!(seen[0].store_left, Some(0.0));
    // 10 Wh of 100 Wh run 10 W for an hour.
    scenario.draw.standby = Power::from_watts(10.0);
    scenario.feeds = Some(Feeds::Store(Store {
        self_discharge_per_month: 0.0,
        ..store()
    }));
    let (_, seen) = through(&scenario, &hour(20.0, 0.0, 0.0, 0.0));
    let last = seen.last().expect("an hour is seen");
    let left = last.store_left.expect("it has a store");
    assert!((left - 0.9).abs() < 1e-12, "{left}");
}

/// Eight half full cells that a panel charges, or a store of its own.
fn half_full(feeds: Feeds) -> Scenario {
    let mut scenario = scenario(&find("lfp-18650").expect("it is of the catalogue").cell);
    scenario.feeds = Some(feeds);
    for state in [&mut scenario.start.ordinary, &mut scenario.start.weakest] {
        state.wells = state.wells.scaled(0.5);
    }
    scenario
}

/// Then the panel runs the camera, and the rest of what it brings is spilled.
#[test]
fn a_pack_in_the_sun_fills_up_and_no_further() {
    let scenario = half_full(Feeds::Pack { lag: Time::ZERO });
    let mut camera = Camera::new(&scenario);
    let sunny = hour(20.0, 0.0, 0.0, 1.0);
    let spilled = |camera: &Camera<'_>| camera.so_far().ledger.panel.spilled.as_watt_hours();
    let mut before = (0.5, 0.0);
    for number in 0..60 {
        assert!(camera.hour(&sunny, 1, &mut |_| {}).is_continue());
        let left = 1.0 - scenario.pack.depth(camera.cells());
        if number < 12 {
            // 1 W for an hour is 1 part in 39.6 of eight cells of 1.5 Ah at some 3.3 V.
            assert!(
                (left - before.0 - 1.0 / 39.6).abs() < 5e-4,
                "{left} {before:?}"
            );
            assert!(spilled(&camera) == 0.0);
        }
        before = (left, spilled(&camera));
    }
    // The weakest cell is the first to be full, and all of a string take the same.
    let weakest = scenario.pack.weakest();
    let depth = weakest.depth(&camera.cells().weakest);
    assert!(depth.abs() < 1e-4, "{depth}");
    let taken_for = weakest.capacity() / scenario.pack.cell().capacity;
    assert!(
        (before.0 - 0.5 - 0.5 * taken_for).abs() < 1e-3,
        "{before:?}"
    );
    assert!(camera.hour(&sunny, 1, &mut |_| {}).is_continue());
    let standby_wh = scenario.draw.standby.as_watts();
    let more = spilled(&camera) - before.1;
    assert!((more - (1.0 - standby_wh)).abs() < 0.01, "{more}");
}

/// The cells of a string take the same charge, so one that is full ends it for those that are not.
#[test]
fn no_cell_of_a_string_is_charged_beyond_full() {
    let mut scenario = half_full(Feeds::Pack { lag: Time::ZERO });
    for weakest_is_full in [true, false] {
        let full = scenario.pack.full();
        let half = half_full(Feeds::Pack { lag: Time::ZERO }).start;
        scenario.start = if weakest_is_full {
            PackState {
                weakest: full.weakest,
                ..half
            }
        } else {
            PackState {
                ordinary: full.ordinary,
                ..half
            }
        };
        let mut camera = Camera::new(&scenario);
        for _ in 0..10 {
            assert!(
                camera
                    .hour(&hour(20.0, 0.0, 0.0, 1.0), 1, &mut |_| {})
                    .is_continue()
            );
        }
        let cells = camera.cells();
        let depths = [
            scenario.pack.cell().depth(&cells.ordinary),
            scenario.pack.weakest().depth(&cells.weakest),
        ];
        let [most, least] = [depths[0].max(depths[1]), depths[0].min(depths[1])];
        assert!(
            least.abs() < 1e-4 && (most - 0.5).abs() < 0.01,
            "{depths:?}"
        );
    }
}

/// Cells without resistance stand at the limit when they are charged up to it, and not above: their voltage
/// climbs within a step.
#[test]
fn a_charge_ends_at_the_limits_voltage() {
    let mut cell = find("lithium-ion-18650")
        .expect("it is of the catalogue")
        .cell;
    let branches = cell.branches.iter_mut().map(|branch| &mut branch.resistor);
    for resistor in branches.chain([&mut cell.ohmic]) {
        resistor.fresh = Resistance::from_ohms(1e-9);
    }
    let limit = cell.open_circuit.at(0.43);
    cell.charging = cell.charging.map(|charging| Charging {
        limit,
        limit_per_k: 0.0,
        ..charging
    });
    let mut scenario = scenario(&cell);
    scenario.feeds = Some(Feeds::Pack { lag: Time::ZERO });
    for state in [&mut scenario.start.ordinary, &mut scenario.start.weakest] {
        state.wells = state.wells.scaled(0.5);
    }
    let mut camera = Camera::new(&scenario);
    let sunny = hour(20.0, 0.0, 0.0, 20.0);
    let at = scenario.pack.at(sunny.air);
    let mut highest = Voltage::ZERO;
    for _ in 0..20 {
        assert!(camera.hour(&sunny, 1, &mut |_| {}).is_continue());
        highest = highest.max(at.string_circuit(camera.cells()).open_circuit);
    }
    let off = highest.as_volts() - 8.0 * limit.as_volts();
    assert!((-1e-3..1e-6).contains(&off), "{off}");
}

/// What is between the limit's voltage and the cells' own goes across all of their resistances.
#[test]
fn a_charge_at_the_limits_voltage_goes_by_the_resistances() {
    let mut cell = find("lithium-ion-18650")
        .expect("it is of the catalogue")
        .cell;
    // So big that no charge moves its voltage.
    cell.capacity = cell.capacity * 1e6;
    let [.., slowest] = &mut cell.branches;
    for (resistor, ohms) in [(&mut cell.ohmic, 0.1), (&mut slowest.resistor, 0.3)] {
        resistor.fresh = Resistance::from_ohms(ohms);
        (resistor.growth, resistor.late_growth) = (0.0, 0.0);
    }
    cell.storage.resistance_growth_per_year = 0.0;
    let limit = cell.open_circuit.at(0.0) + Voltage::from_volts(0.02);
    let largest = Current::from_amperes(10.0);
    cell.charging = cell.charging.map(|charging| Charging {
        limit,
        limit_per_k: 0.0,
        largest,
        ..charging
    });
    let mut scenario = scenario(&cell);
    scenario.draw.standby = Power::ZERO;
    scenario.feeds = Some(Feeds::Pack { lag: Time::ZERO });
    for state in [&mut scenario.start.ordinary, &mut scenario.start.weakest] {
        state.wells = state.wells.scaled(0.5);
    }
    let mut camera = Camera::new(&scenario);
    assert!(
        camera
            .hour(&hour(20.0, 0.0, 0.0, 100.0), 1, &mut |_| {})
            .is_continue()
    );
    let panel = camera.so_far().ledger.panel;
    let taken = (panel.offered - panel.kept_out - panel.spilled).as_watt_hours();
    let amperes = (limit - cell.open_circuit.at(0.5)).as_volts() / 0.4;
    let expected = amperes * 8.0 * limit.as_volts();
    assert!((taken / expected - 1.0).abs() < 1e-5, "{taken} {expected}");
}

/// What a panel charges is as warm as the air when the season begins, and follows it from there: from
/// 4 °C above the coldest at which it may be charged, in air 6 °C below that, it gets there after
/// 6 h ln(10/6) = 3.06 h.
#[test]
fn what_is_charged_starts_as_warm_as_the_air() {
    let lag = Time::from_hours(6.0);
    for feeds in [Feeds::Store(store()), Feeds::Pack { lag }] {
        let scenario = half_full(feeds);
        let mut camera = Camera::new(&scenario);
        let mut locked = Vec::new();
        for celsius in [4.0, -6.0, -6.0, -6.0, -6.0, -6.0] {
            let before = camera.so_far().ledger.panel;
            assert!(
                camera
                    .hour(&hour(celsius, 0.0, 0.0, 0.1), 1, &mut |_| {})
                    .is_continue()
            );
            let panel = camera.so_far().ledger.panel;
            locked
                .push((panel.kept_out - before.kept_out) / (panel.offered - before.offered) > 0.5);
        }
        assert_eq!(
            locked,
            [false, false, false, false, true, true],
            "{feeds:?}"
        );
    }
}

#[test]
fn a_pack_has_cells_either_way_and_no_more_than_24() {
    let cell = &CATALOGUE[0].cell;
    for (series, parallel, is) in [
        (1, 1, Ok(())),
        (24, 24, Ok(())),
        (0, 1, Err(PackError::Series(0))),
        (25, 1, Err(PackError::Series(25))),
        (1, 0, Err(PackError::Parallel(0))),
        (1, 25, Err(PackError::Parallel(25))),
    ] {
        assert_eq!(Pack::new(cell, series, parallel).map(|_| ()), is);
    }
}

/// However unlike its cells are, the weakest holds a tenth.
#[test]
fn a_weakest_cell_holds_something() {
    let cell = Cell {
        spread: 0.6,
        ..CATALOGUE[0].cell
    };
    let weakest =
        |series| Pack::new(&cell, series, 1).unwrap().weakest().capacity() / cell.capacity;
    assert!((weakest(1) - 1.0).abs() < 1e-12);
    // 1 - 0.6 * 0.5642
    assert!((weakest(2) - 0.66148).abs() < 1e-12);
    // 1 - 0.6 * 1.5388 = 0.07672
    assert!([10, 24].iter().all(|n| (weakest(*n) - 0.1).abs() < 1e-12));
}

proptest! {
    /// A charge that a pack gives across a bend of its curve is booked at what it is worth.
    #[test]
    fn a_charge_is_worth_what_the_cells_hold_less(cell in 0..CATALOGUE.len(), at in 1..OCV_DEPTHS.len() - 1, way in 0.05..1.0_f64) {
        let cell = CATALOGUE[cell].cell;
        let pack = Pack::new(&cell, 6, 2).unwrap();
        let bend = OCV_DEPTHS[at];
        // As far on either side of the bend, and no other between.
        let off = way * (bend - OCV_DEPTHS[at - 1]).min(OCV_DEPTHS[at + 1] - bend);
        let levelled = |depth: f64| {
            let cell_at = |capacity: Charge| CellState {
                wells: Wells::level(capacity * (1.0 - depth), cell.kinetics.available_share),
                ..cell.full()
            };
            PackState { ordinary: cell_at(cell.capacity), weakest: cell_at(pack.weakest().capacity()) }
        };
        let (start, end) = (levelled(bend - off), levelled(bend + off));
        let less = |ordinary: bool| {
            let with = |state: &CellState| if ordinary {
                cell.energy_left(state)
            } else {
                pack.weakest().energy_left(state)
            };
            let of = |state: &PackState| with(if ordinary { &state.ordinary } else { &state.weakest });
            let capacity = if ordinary { cell.capacity } else { pack.weakest().capacity() };
            (of(&start) - of(&end)) / (capacity * (2.0 * off))
        };
        let volts = less(true) * 5.0 + less(false);
        let booked = pack.at(Temperature::REFERENCE).levelled_voltage(&start, &end);
        close(booked.as_volts(), volts.as_volts())?;
    }
}
