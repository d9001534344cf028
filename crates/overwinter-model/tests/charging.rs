//! Laws of charging, over every cell of the catalogue.

use overwinter_model::bench::{Duty, Phase, discharge};
use overwinter_model::cell::catalogue::{CATALOGUE, CatalogueCell, find};
use overwinter_model::cell::{
    Accepted, Cell, CellOnBench, CellState, ChargeRefused, Charging, Wells,
};
use overwinter_model::{Charge, Current, Energy, Load, Temperature, Time, Voltage};
use proptest::prelude::*;

fn rechargeable() -> Vec<(&'static CatalogueCell, Charging)> {
    let with_record = |entry: &'static CatalogueCell| Some((entry, entry.cell.charging?));
    CATALOGUE.iter().filter_map(with_record).collect()
}

/// A levelled cell at rest.
fn at_depth(cell: &Cell, depth: f64) -> CellState {
    CellState {
        wells: Wells::level(cell.capacity * (1.0 - depth), cell.kinetics.available_share),
        ..cell.full()
    }
}

/// A cell, how it is charged, its state, its temperature within the window, a current and a span.
#[derive(Clone, Debug)]
struct Case {
    cell: Cell,
    charging: Charging,
    state: CellState,
    temperature: Temperature,
    offered: Current,
    span: Time,
}

impl Case {
    fn charged(&self) -> (CellState, Accepted) {
        self.cell
            .at(self.temperature)
            .charged(&self.state, self.offered, self.span)
            .expect("inside the window")
    }
}

prop_compose! {
    fn case()(
        (entry, charging) in prop::sample::select(rechargeable()),
        depth in 0.0..1.0_f64,
        warmth in 0.0..=1.0_f64,
        hourly in 0.001..1.5_f64,
        hours in 0.0..30.0_f64,
    ) -> Case {
        let (cold, warm) = (charging.coldest.as_celsius(), charging.warmest.as_celsius());
        Case {
            cell: entry.cell,
            charging,
            state: at_depth(&entry.cell, depth),
            temperature: Temperature::from_celsius(cold + warmth * (warm - cold)),
            offered: entry.cell.capacity * hourly / Time::from_hours(1.0),
            span: Time::from_hours(hours),
        }
    }
}

fn full_energy(cell: &Cell) -> Energy {
    cell.energy_left(&cell.full())
}

proptest! {
    #[test]
    fn what_goes_in_is_stored_or_lost(case in case()) {
        let (after, accepted) = case.charged();
        let gap = accepted.energy - accepted.stored - accepted.lost();
        prop_assert!((gap / full_energy(&case.cell)).abs() < 1e-9, "{gap:?}");
        let gained = after.wells.total() - case.state.wells.total();
        let gap = gained - accepted.stored_charge;
        prop_assert!((gap / case.cell.capacity).abs() < 1e-9, "{gap:?}");
        let kept = accepted.charge * case.charging.efficiency - accepted.stored_charge;
        prop_assert!((kept / case.cell.capacity).abs() < 1e-9, "{kept:?}");
        prop_assert!(accepted.resistive >= Energy::ZERO && accepted.side_reactions >= Energy::ZERO);
    }

    #[test]
    fn never_above_full_nor_the_offer_nor_the_limit(case in case()) {
        let (after, accepted) = case.charged();
        let share = case.cell.kinetics.available_share;
        let capacity = case.cell.capacity * (1.0 + 1e-9);
        prop_assert!(after.wells.available <= capacity * share);
        prop_assert!(after.wells.bound <= capacity * (1.0 - share));
        let most = case.offered.min(case.charging.largest) * case.span;
        prop_assert!(accepted.charge <= most * (1.0 + 1e-9));
        // With what flowed in the last second, the terminals stand at the limit at the most.
        let at = case.cell.at(case.temperature);
        let second = Time::from_seconds(1.0);
        let (end, last) = at.charged(&after, case.offered, second).expect("inside the window");
        let volts = at.circuit(&end).voltage(-(last.charge / second), &end.polarisation);
        let limit = case.charging.limit_at(case.temperature);
        let idle = at.circuit(&end).voltage(Current::ZERO, &end.polarisation);
        prop_assert!(volts <= limit.max(idle) + Voltage::from_volts(1e-9), "{volts:?} {limit:?}");
    }

    #[test]
    fn a_discharge_gives_less_than_was_put_in(case in case(), hourly in 0.001..1.0_f64) {
        let (after, accepted) = case.charged();
        prop_assume!(accepted.stored_charge > case.cell.capacity * 1e-4);
        let current = case.cell.capacity * hourly / Time::from_hours(1.0);
        let phase = Phase { load: Load::Current(current), span: accepted.stored_charge / current };
        let duty = Duty::profile(&[phase]).expect("one phase");
        let mut source = CellOnBench::new(case.cell.at(case.temperature), after);
        let (given, _) = discharge(&mut source, duty.segments().take(1), Voltage::ZERO, |_| ());
        prop_assert!(given.energy < accepted.energy, "{given:?} {accepted:?}");
    }

    #[test]
    fn one_charge_is_many_short_ones(case in case()) {
        let (_, once) = case.charged();
        let at = case.cell.at(case.temperature);
        let (mut state, mut charge, mut energy) = (case.state, Charge::ZERO, Energy::ZERO);
        for _ in 0..500 {
            let (next, part) = at
                .charged(&state, case.offered, case.span / 500.0)
                .expect("inside the window");
            (state, charge, energy) = (next, charge + part.charge, energy + part.energy);
        }
        // Of the whole cell: a charge of a last crumb has no digits of its own.
        let of_cell = (once.charge - charge) / case.cell.capacity;
        prop_assert!(of_cell.abs() < 0.003, "{of_cell}");
        let of_cell = (once.energy - energy) / full_energy(&case.cell);
        prop_assert!(of_cell.abs() < 0.003, "{of_cell}");
    }

    #[test]
    fn outside_the_window_nothing_is_taken(case in case(), beyond in 0.01..60.0_f64) {
        let Charging { coldest, warmest, .. } = case.charging;
        let try_at = |celsius: f64| {
            let at = Temperature::from_celsius(celsius);
            (at, case.cell.at(at).charged(&case.state, case.offered, case.span))
        };
        let (at, refused) = try_at(coldest.as_celsius() - beyond);
        prop_assert_eq!(refused.err(), Some(ChargeRefused::TooCold { at, coldest }));
        let (at, refused) = try_at(warmest.as_celsius() + beyond);
        prop_assert_eq!(refused.err(), Some(ChargeRefused::TooWarm { at, warmest }));
    }
}

#[test]
fn primary_cells_are_refused_whatever_is_offered() {
    for entry in CATALOGUE {
        assert_eq!(
            entry.cell.charging.is_some(),
            entry.cell.chemistry.rechargeable(),
            "{}",
            entry.name
        );
        if entry.cell.charging.is_some() {
            continue;
        }
        let state = at_depth(&entry.cell, 0.5);
        for offered in [0.0, 1.0, -1.0, f64::NAN] {
            let refused = entry.cell.at(Temperature::REFERENCE).charged(
                &state,
                Current::from_amperes(offered),
                Time::from_hours(1.0),
            );
            assert_eq!(refused.err(), Some(ChargeRefused::PrimaryCell));
        }
    }
}

#[test]
fn a_refusal_says_why() {
    let cell = find("lfp-18650").unwrap().cell;
    let refused = cell
        .at(Temperature::from_celsius(-12.34))
        .charged(&cell.full(), Current::ZERO, Time::ZERO)
        .unwrap_err();
    assert_eq!(
        refused.to_string(),
        "too cold to be charged: -12.3 °C, 0.0 °C or warmer is needed"
    );
    let unknown = cell.at(Temperature::from_celsius(f64::NAN)).charged(
        &cell.full(),
        Current::ZERO,
        Time::ZERO,
    );
    assert!(unknown.is_err());
}

#[test]
fn odd_numbers_give_numbers() {
    let odd = [
        0.0,
        -1.0,
        1e-300,
        1e300,
        f64::NAN,
        f64::INFINITY,
        f64::NEG_INFINITY,
    ];
    for (entry, charging) in rechargeable() {
        for depth in [0.0, 0.5, 1.0] {
            for amperes in odd {
                for hours in odd {
                    let state = at_depth(&entry.cell, depth);
                    let (after, accepted) = entry
                        .cell
                        .at(charging.coldest)
                        .charged(
                            &state,
                            Current::from_amperes(amperes),
                            Time::from_hours(hours),
                        )
                        .unwrap();
                    let case = (entry.name, depth, amperes, hours);
                    assert!(after.wells.total().is_finite(), "{case:?}");
                    assert!(after.polarisation.total().is_finite(), "{case:?}");
                    assert!(accepted.energy.is_finite(), "{case:?}");
                    assert!(accepted.lost().is_finite(), "{case:?}");
                    assert!(
                        accepted.charge >= Charge::ZERO
                            && (amperes > 0.0 || accepted.charge == Charge::ZERO),
                        "{case:?}"
                    );
                }
            }
        }
    }
}

/// Charge that a cell loses in a month at the reference temperature.
fn lost_in_a_month(cell: &Cell, state: &CellState) -> f64 {
    let after = cell
        .at(Temperature::REFERENCE)
        .stored(state, Time::from_days(30.0));
    1.0 - after.wells.total() / state.wells.total()
}

#[test]
fn a_full_charge_starts_the_early_loss_again_and_a_part_of_one_does_not() {
    let cell = find("nimh-aa").unwrap().cell;
    let at = cell.at(Temperature::REFERENCE);
    let fresh = lost_in_a_month(&cell, &cell.full());
    let rested = at.stored(&cell.full(), Time::from_days(300.0));
    let late = lost_in_a_month(&cell, &rested);
    assert!(fresh > 3.0 * late, "{fresh} {late}");

    let charge = |hours| {
        let tenth = cell.capacity / Time::from_hours(10.0);
        at.charged(&rested, tenth, Time::from_hours(hours)).unwrap()
    };
    let (topped_up, _) = charge(0.5);
    assert_eq!(topped_up.age, rested.age);
    assert!(lost_in_a_month(&cell, &topped_up) < 1.01 * late);
    let (full, _) = charge(48.0);
    assert!(cell.depth(&full) < 0.01);
    assert_eq!(full.age, Time::ZERO);
    assert!((lost_in_a_month(&cell, &full) / fresh - 1.0).abs() < 1e-9);
    // Nothing is offered, so nothing begins anew.
    let young = at.stored(&cell.full(), Time::from_days(1.0));
    let (young_idle, _) = at
        .charged(&young, Current::ZERO, Time::from_hours(1.0))
        .unwrap();
    assert_eq!(young_idle.age, young.age);
}

/// The equations written down once more, with explicit steps of a second: the current of the step
/// from the circuit at its start.
fn second_by_second(case: &Case) -> Accepted {
    let at = case.cell.at(case.temperature);
    let second = Time::from_seconds(1.0);
    let limit = case.charging.limit_at(case.temperature);
    let cells = f64::from(case.cell.in_series);
    let (mut state, mut sum) = (case.state, Accepted::default());
    let mut spent = Time::ZERO;
    while spent < case.span {
        let circuit = at.circuit(&state);
        let inner = circuit.open_circuit - state.polarisation.total();
        // A branch that takes less than a tenth of the step comes at once.
        let at_once = circuit
            .branches
            .iter()
            .zip(circuit.times)
            .zip(state.polarisation.0);
        let (mut resistance, mut inner) = (circuit.ohmic, inner);
        for ((branch, time), volts) in at_once {
            if time < second * 0.2 {
                resistance += *branch;
                inner += volts;
            }
        }
        let tapering = Current::from_amperes((limit - inner).as_volts() / resistance.as_ohms());
        let mut current = case.offered.min(case.charging.largest).min(tapering);
        let drawn = |current: Current| -current * case.charging.efficiency;
        // Full at the surface, which the wells hold back from the more the colder it is.
        let surface = |current| {
            let after = at.after(&state, drawn(current), second);
            1.0 - at.surface_depth(&after)
        };
        let (idle, charged) = (surface(Current::ZERO), surface(current));
        if charged > 1.0 {
            current = current * ((1.0 - idle) / (charged - idle));
        }
        current = current.max(Current::ZERO);
        let next = CellState {
            wells: at.after(&state, drawn(current), second).wells,
            polarisation: circuit.relax(&state.polarisation, -current, second),
            age: state.age,
        };
        let charge = current * second;
        sum.charge += charge;
        sum.energy += charge * circuit.voltage(-current, &state.polarisation) * cells;
        sum.resistive += charge * (circuit.ohmic * current - state.polarisation.total()) * cells;
        state = next;
        spent += second;
    }
    sum
}

#[test]
fn agrees_with_explicit_steps_of_a_second() {
    for (entry, charging) in rechargeable() {
        for celsius in [2.0, 20.0, 38.0] {
            for hourly in [0.05, 0.3, 1.0] {
                let case = Case {
                    cell: entry.cell,
                    charging,
                    state: at_depth(&entry.cell, 0.9),
                    temperature: Temperature::from_celsius(celsius),
                    offered: entry.cell.capacity * hourly / Time::from_hours(1.0),
                    span: Time::from_hours(6.0),
                };
                let (_, ours) = case.charged();
                let theirs = second_by_second(&case);
                let what = (entry.name, celsius, hourly);
                for (part, a, b) in [
                    ("charge", ours.charge / theirs.charge, 0.001),
                    ("energy", ours.energy / theirs.energy, 0.001),
                    ("resistive", ours.resistive / theirs.resistive, 0.01),
                ] {
                    println!("{what:?} {part} {:.6}", a - 1.0);
                    assert!((a - 1.0).abs() < b, "{what:?}: {part} {a}");
                }
            }
        }
    }
}
