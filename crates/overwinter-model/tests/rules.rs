//! Each rule of the cells and of what draws from them, against its equation worked out another way: sums,
//! integrals in small steps, numbers by hand.

use overwinter_model::cell::catalogue::CATALOGUE;
use overwinter_model::cell::{Cell, CellState, Kinetics, OCV_DEPTHS, Wells};
use overwinter_model::draw::{Burst, Event, Use};
use overwinter_model::pack::Pack;
use overwinter_model::{
    BRANCHES, Charge, Circuit, Current, Load, Overpotential, Polarisation, Power, Resistance,
    Temperature, Time, Voltage,
};
use proptest::prelude::*;

const YEAR_S: f64 = 365.25 * 86_400.0;
const REFERENCE_K: f64 = 293.15;

/// A cell of the catalogue somewhere in its life: wells, age and polarisation.
#[derive(Clone, Debug)]
struct Somewhere {
    cell: usize,
    available: f64,
    bound: f64,
    age_years: f64,
    polarisation: [f64; BRANCHES],
    celsius: f64,
}

prop_compose! {
    fn somewhere()(
        cell in 0..CATALOGUE.len(),
        available in 0.05..1.0_f64,
        bound in 0.05..1.0_f64,
        age_years in 0.0..10.0_f64,
        polarisation in [0.0..0.2_f64, 0.0..0.2_f64],
        celsius in -30.0..45.0_f64,
    ) -> Somewhere {
        Somewhere { cell, available, bound, age_years, polarisation, celsius }
    }
}

impl Somewhere {
    fn cell(&self) -> Cell {
        // Each cell of the catalogue has its own volts per kelvin, most of them none.
        Cell {
            open_circuit_per_k: 0.0003,
            ..CATALOGUE[self.cell].cell
        }
    }

    fn air(&self) -> Temperature {
        Temperature::from_celsius(self.celsius)
    }

    /// `e^(B (1/T − 1/T_ref))`.
    fn arrhenius(&self, activation_k: f64) -> f64 {
        (activation_k * (1.0 / (self.celsius + 273.15) - 1.0 / REFERENCE_K)).exp()
    }

    /// So full is a cell of this capacity.
    fn state(&self, capacity: Charge) -> CellState {
        let share = self.cell().kinetics.available_share;
        CellState {
            wells: Wells {
                available: capacity * (share * self.available),
                bound: capacity * ((1.0 - share) * self.bound),
            },
            polarisation: Polarisation(self.polarisation.map(Voltage::from_volts)),
            age: Time::from_seconds(self.age_years * YEAR_S),
        }
    }

    fn depth(&self) -> f64 {
        let share = self.cell().kinetics.available_share;
        1.0 - share * self.available - (1.0 - share) * self.bound
    }
}

/// On straight lines between the points.
fn open_circuit(cell: &Cell, depth: f64) -> f64 {
    let volts = cell.open_circuit.volts;
    let after = OCV_DEPTHS.iter().position(|x| *x >= depth);
    let after = after.unwrap_or(volts.len() - 1).max(1);
    let (x0, x1) = (OCV_DEPTHS[after - 1], OCV_DEPTHS[after]);
    let on_the_way = (depth - x0) / (x1 - x0);
    volts[after - 1] * (1.0 - on_the_way) + volts[after] * on_the_way
}

fn close(a: f64, b: f64, relative: f64) -> Result<(), TestCaseError> {
    prop_assert!(
        (a - b).abs() <= relative * a.abs().max(b.abs()).max(1e-12),
        "{a} {b}"
    );
    Ok(())
}

/// Wells in small steps of their differential equations, by the midpoint rule.
fn in_small_steps(wells: &Wells, kinetics: &Kinetics, amperes: f64, seconds: f64) -> (f64, f64) {
    let c = kinetics.available_share;
    let k = kinetics.rate_per_second * c * (1.0 - c);
    let flow = |q1: f64, q2: f64| {
        if c < 1.0 {
            k * (q2 / (1.0 - c) - q1 / c)
        } else {
            0.0
        }
    };
    let (mut q1, mut q2) = (wells.available.as_coulombs(), wells.bound.as_coulombs());
    let steps = 20_000;
    let h = seconds / f64::from(steps);
    for _ in 0..steps {
        let half = flow(q1, q2);
        let (m1, m2) = (q1 + 0.5 * h * (half - amperes), q2 - 0.5 * h * half);
        let whole = flow(m1, m2);
        q1 += h * (whole - amperes);
        q2 -= h * whole;
    }
    (q1, q2)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn a_circuit_is_that_of_its_depths_age_and_temperature(at in somewhere()) {
        let cell = at.cell();
        let circuit = cell.at(at.air()).circuit(&at.state(cell.capacity));
        let shift = 0.0003 * (at.celsius + 273.15 - REFERENCE_K);
        let held_back = at.arrhenius(cell.reach_activation_k).max(1.0);
        let surface = at.depth() + held_back * (1.0 - at.available - at.depth());
        close(circuit.open_circuit.as_volts(), open_circuit(&cell, surface.clamp(0.0, 1.0)) + shift, 1e-12)?;
        let aged = 1.0 + cell.storage.resistance_growth_per_year * at.age_years;
        let branches = circuit.branches.into_iter().zip(cell.branches.map(|branch| branch.resistor));
        for (ohms, resistor) in branches.chain([(circuit.ohmic, cell.ohmic)]) {
            let grown = 1.0 + resistor.growth * at.depth() + resistor.late_growth * at.depth().powi(4);
            let expected = resistor.fresh.as_ohms() * grown * aged * at.arrhenius(resistor.activation_k);
            close(ohms.as_ohms(), expected, 1e-12)?;
        }
        prop_assert_eq!(circuit.times, cell.branches.map(|branch| branch.time));
        prop_assert_eq!(circuit.overpotential.most, cell.overpotential.most);
        let [charge_transfer, ..] = cell.branches;
        let half_at = cell.overpotential.half_at.as_amperes() / at.arrhenius(charge_transfer.resistor.activation_k);
        close(circuit.overpotential.half_at.as_amperes(), half_at, 1e-12)?;
    }

    #[test]
    fn wells_go_by_their_differential_equations(at in somewhere(), share in 0.0..1.0_f64, hours in 0.1..20.0_f64) {
        let cell = at.cell();
        let state = at.state(cell.capacity);
        // Less than would empty the available well by then.
        let amperes = share * state.wells.available.as_coulombs() / (hours * 3600.0);
        let kinetics = Kinetics {
            rate_per_second: cell.kinetics.rate_per_second * at.arrhenius(-cell.kinetics_activation_k),
            ..cell.kinetics
        };
        let after = cell.at(at.air()).after(&state, Current::from_amperes(amperes), Time::from_hours(hours));
        let (available, bound) = in_small_steps(&state.wells, &kinetics, amperes, hours * 3600.0);
        let capacity = cell.capacity.as_coulombs();
        prop_assert!((after.wells.available.as_coulombs() - available).abs() < 1e-6 * capacity);
        prop_assert!((after.wells.bound.as_coulombs() - bound).abs() < 1e-6 * capacity);
        prop_assert_eq!(after.age, state.age);
    }

    #[test]
    fn a_well_is_empty_when_it_is_said_to_be(at in somewhere(), hours in 0.5..30.0_f64) {
        let cell = at.cell();
        let (cold, state) = (cell.at(at.air()), at.state(cell.capacity));
        let current = state.wells.available / Time::from_hours(hours);
        let long = Time::from_hours(200.0);
        let empty = cold.time_to_empty(&state, current, long);
        let left = |span| 1.0 - cold.surface_depth(&cold.after(&state, current, span));
        prop_assume!(left(Time::ZERO) > 0.0);
        match empty {
            Some(empty) => {
                prop_assert!(left(empty).abs() < 1e-7, "{}", left(empty));
                prop_assert_eq!(cold.time_to_empty(&state, current, empty * 0.99), None);
            }
            None => prop_assert!(left(long) > 0.0),
        }
    }

    #[test]
    fn lying_takes_the_steady_and_the_early_loss(at in somewhere(), days in 0.1..400.0_f64) {
        let cell = at.cell();
        let state = at.state(cell.capacity);
        let after = cell.at(at.air()).stored(&state, Time::from_days(days));
        let storage = &cell.storage;
        let older = days / 365.25 * at.arrhenius(-storage.activation_k);
        let early = |years: f64| storage.early_loss * (1.0 - (-years * 365.25 / storage.early_time.as_days()).exp());
        let rate = storage.loss_per_year * older + early(at.age_years + older) - early(at.age_years);
        for (before, after) in [(state.wells.available, after.wells.available), (state.wells.bound, after.wells.bound)] {
            close(after / before, (-rate).exp(), 1e-12)?;
        }
        close(after.age.as_days() / 365.25, at.age_years + older, 1e-12)?;
        prop_assert_eq!(after.polarisation, state.polarisation);
    }

    #[test]
    fn a_string_is_its_cells_added_up(at in somewhere(), series in 1..=12_u8, parallel in 1..=4_u8, amperes in 0.0..2.0_f64) {
        let cell = at.cell();
        let pack = Pack::new(&cell, series, parallel).unwrap();
        let weakest = pack.weakest().capacity();
        let mut state = pack.full();
        state.ordinary = at.state(cell.capacity);
        state.weakest = at.state(weakest);
        state.weakest.wells = state.weakest.wells.scaled(0.9);
        let here = pack.at(at.air());
        let (ordinary, last) = (cell.at(at.air()).circuit(&state.ordinary), {
            // A cell of that capacity, with the same resistances.
            let smaller = Cell { capacity: weakest, ..cell };
            smaller.at(at.air()).circuit(&state.weakest)
        });
        let (others, case) = (f64::from(series) - 1.0, f64::from(cell.in_series));
        let string = here.string_circuit(&state);
        close(string.open_circuit.as_volts(), case * (others * ordinary.open_circuit.as_volts() + last.open_circuit.as_volts()), 1e-12)?;
        close(string.ohmic.as_ohms(), case * (others * ordinary.ohmic.as_ohms() + last.ohmic.as_ohms()), 1e-12)?;
        let bent = |circuit: &Circuit| circuit.overpotential.at(Current::from_amperes(amperes)).as_volts();
        close(bent(&string), case * (others + 1.0) * bent(&last), 1e-12)?;
        let branches = ordinary.branches.iter().zip(last.branches).zip(string.branches);
        for ((ordinary, last), string) in branches {
            close(string.as_ohms(), case * (others * ordinary.as_ohms() + last.as_ohms()), 1e-12)?;
        }
        let polarisation = here.polarisation(&state);
        let of_one: f64 = at.polarisation.iter().sum();
        close(polarisation.total().as_volts(), case * (others + 1.0) * of_one, 1e-12)?;
        // All that a string is polarised more is spread as its branches are.
        let more = Polarisation([0.1, 0.2].map(Voltage::from_volts));
        let alone = here.weakest_voltage(&state, Current::from_amperes(amperes), &(polarisation + more));
        let shares = last.branches.iter().zip(string.branches).zip([0.1, 0.2]);
        let spread: f64 = shares
            .filter(|((_, string), _)| string.as_ohms() > 0.0)
            .map(|((last, string), more)| more * last.as_ohms() / string.as_ohms())
            .sum();
        let expected = last.open_circuit.as_volts() - amperes * last.ohmic.as_ohms() - of_one - spread - bent(&last);
        prop_assert!((alone.as_volts() - expected).abs() < 1e-9, "{alone:?} {expected}");
        let energy = |capacity: Charge, depth: f64| cell.open_circuit.energy_left(capacity, depth).as_joules() * case;
        let last_depth = 1.0 - 0.9 * (1.0 - at.depth());
        let all = f64::from(parallel) * (others * energy(cell.capacity, at.depth()) + energy(weakest, last_depth));
        close(pack.energy_left(&state).as_joules(), all, 1e-9)?;
        close(pack.fresh_voltage().as_volts(), (others + 1.0) * case * cell.open_circuit.volts[0], 1e-12)?;
        prop_assert_eq!(pack.cells_in_series(), u32::from(series) * u32::from(cell.in_series));
    }

    #[test]
    fn a_cell_of_twice_the_make_up_is_two_in_parallel(at in somewhere(), share in 0.2..4.0_f64) {
        let (one, scaled) = (at.cell(), at.cell().scaled(share));
        let here = at.state(one.capacity);
        let there = CellState { wells: here.wells.scaled(share), ..here };
        let (a, b) = (one.at(at.air()).circuit(&here), scaled.at(at.air()).circuit(&there));
        close(a.open_circuit.as_volts(), b.open_circuit.as_volts(), 1e-9)?;
        close(a.ohmic.as_ohms(), b.ohmic.as_ohms() * share, 1e-9)?;
        close(a.settled_resistance().as_ohms(), b.settled_resistance().as_ohms() * share, 1e-9)?;
        let amps = Current::from_amperes(0.2);
        close(a.overpotential.at(amps).as_volts(), b.overpotential.at(amps * share).as_volts(), 1e-12)?;
        close(one.energy_left(&here).as_joules() * share, scaled.energy_left(&there).as_joules(), 1e-9)?;
        if let (Some(a), Some(b)) = (one.charging, scaled.charging) {
            close(a.largest.as_amperes() * share, b.largest.as_amperes(), 1e-12)?;
        }
    }
}

/// A circuit of a few ohms.
fn circuit() -> impl Strategy<Value = Circuit> {
    (4.0..13.0_f64, 0.05..1.0_f64, 0.05..1.0_f64, 5.0..500.0_f64).prop_map(
        |(volts, ohmic, slow, seconds)| Circuit {
            open_circuit: Voltage::from_volts(volts),
            ohmic: Resistance::from_ohms(ohmic),
            overpotential: Overpotential::NONE,
            branches: [0.3, 1.0].map(|times| Resistance::from_ohms(slow * times)),
            times: [0.02, 1.0].map(|times| Time::from_seconds(seconds * times)),
        },
    )
}

fn burst(seconds: f64, watts: f64, flash_w: f64) -> Burst {
    Burst {
        span: Time::from_seconds(seconds),
        power: Power::from_watts(watts),
        what: Use::NightPictures,
        flash: Power::from_watts(flash_w),
    }
}

proptest! {
    #[test]
    fn a_load_takes_what_it_is(circuit in circuit(), polarisation in 0.0..0.5_f64, watts in 0.01..4.0_f64, ohms in 1.0..50.0_f64) {
        let before = Polarisation([polarisation, 0.0].map(Voltage::from_volts));
        let current = circuit.current(Load::Resistance(Resistance::from_ohms(ohms)), &before).unwrap();
        close(circuit.voltage(current, &before).as_volts(), current.as_amperes() * ohms, 1e-12)?;
        if let Some(current) = circuit.current(Load::Power(Power::from_watts(watts)), &before) {
            close((circuit.voltage(current, &before) * current).as_watts(), watts, 1e-9)?;
            // The higher of the two voltages at which it could be.
            prop_assert!(circuit.voltage(current, &before) >= (circuit.open_circuit - before.total()) * 0.5);
        } else {
            let inner = circuit.open_circuit.as_volts() - polarisation;
            prop_assert!(inner * inner / (4.0 * circuit.ohmic.as_ohms()) < watts);
        }
    }

    /// Bursts by small steps of the branches. A mean current stands for one that rises as the voltage
    /// falls, so they agree the better the less that is.
    #[test]
    fn an_event_draws_what_its_bursts_draw(
        circuit in circuit(),
        polarisation in 0.0..0.2_f64,
        bursts in prop::collection::vec((0.1..60.0_f64, 0.05..1.5_f64, prop_oneof![Just(0.0), 0.1..1.5_f64]), 1..4),
        strings in 1..4_u8,
    ) {
        let mut event = Event::default();
        for (seconds, watts, flash_w) in &bursts {
            event.push(burst(*seconds, *watts, *flash_w)).unwrap();
        }
        let strings = f64::from(strings);
        let pulse = event.pulse(&circuit, &Polarisation([Voltage::ZERO, Voltage::from_volts(polarisation)]), strings);
        let mut branches = [0.0, polarisation];
        let across = |branches: [f64; BRANCHES]| Polarisation(branches.map(Voltage::from_volts));
        let (mut charge, mut heat, mut peak) = (0.0, 0.0, 0.0_f64);
        let volts = circuit.open_circuit.as_volts();
        let mut lowest = volts - polarisation;
        for (seconds, watts, flash_w) in &bursts {
            let steps = 4000;
            let h = seconds / f64::from(steps);
            let load = Load::Power(Power::from_watts((watts + flash_w) / strings));
            for _ in 0..steps {
                let Some(amperes) = circuit.current(load, &across(branches)) else { return Ok(()) };
                let amperes = amperes.as_amperes();
                let before: f64 = branches.iter().sum();
                for ((volts, resistance), time) in branches.iter_mut().zip(circuit.branches).zip(circuit.times) {
                    let settled = resistance.as_ohms() * amperes;
                    *volts = settled + (*volts - settled) * (-h / time.as_seconds()).exp();
                }
                let mean = 0.5 * (before + branches.iter().sum::<f64>());
                charge += amperes * h;
                heat += (mean + circuit.ohmic.as_ohms() * amperes) * amperes * h;
            }
            // Its lowest voltage is taken to be at its end, when most of the branches has come in.
            let Some(amperes) = circuit.current(load, &across(branches)) else { return Ok(()) };
            peak = peak.max(amperes.as_amperes());
            lowest = lowest.min(circuit.voltage(amperes, &across(branches)).as_volts());
        }
        // Far from the most that it can carry.
        prop_assume!(lowest > 0.85 * volts);
        close(pulse.charge.as_coulombs(), charge, 2e-3)?;
        close(pulse.heat.as_joules(), heat, 1e-2)?;
        close(pulse.lowest().unwrap().as_volts(), lowest, 1e-3)?;
        close(pulse.peak.as_amperes(), peak, 5e-3)?;
        // The current at the lowest voltage is what the voltage leaves for the ohmic branch.
        let there = volts - pulse.lowest().unwrap().as_volts() - pulse.polarisation.total().as_volts();
        prop_assert!(there >= -1e-9 && there <= circuit.ohmic.as_ohms() * pulse.peak.as_amperes() + 1e-9);
    }
}
