//! How the resistance of alkaline cells moves with the temperature outdoors: a logger on three AA in series in
//! Minnesota, March and April 2019, from -17 to 28 °C.
//!
//! Data: A. Wickert's group, MNiMORPH/automated-ablation-stake-data, CC BY 4.0, DOI 10.5281/zenodo.7615567,
//! every third hour, its voltage split into that without and that under its own short load. Cells taken as
//! alkaline from their voltage; the load is the same every minute and of unknown size and length.

use nalgebra::{DMatrix, DVector};
use overwinter_model::bench::{Segment, discharge};
use overwinter_model::cell::catalogue::find;
use overwinter_model::cell::{Cell, CellOnBench};
use overwinter_model::{Charge, Current, Load, Temperature, Time, Voltage};
use overwinter_tests::files::data;
use overwinter_tests::tables::Table;

const CELLS: f64 = 3.0;

/// What was logged at one moment.
struct Logged {
    day: f64,
    temperature: Temperature,
    step_v: f64,
    rested_v: f64,
}

/// The rows whose two levels lie well apart: by their separation at least 2.5 (the table's own measure).
fn logged() -> Vec<Logged> {
    let table = Table::read(&data("field/stpaul_3aa_hourly_two_levels.csv")).expect("the table");
    let of = |row: &overwinter_tests::tables::Row, column| {
        row.number(column)
            .unwrap_or_else(|| panic!("{column} is no number"))
    };
    let apart = table.rows.iter().filter(|row| of(row, "separation") >= 2.5);
    apart
        .map(|row| Logged {
            day: of(row, "day"),
            temperature: Temperature::from_celsius(of(row, "temp_C")),
            step_v: of(row, "v_rested") - of(row, "v_loaded"),
            rested_v: of(row, "v_rested"),
        })
        .collect()
}

/// `B` of `ln ΔV = a + B / T + c day`, kelvin.
fn activation_k(rows: &[Logged], step_v: impl Fn(&Logged) -> f64) -> f64 {
    let columns = |row: &Logged| [1.0, 1.0 / row.temperature.as_kelvin(), row.day];
    let flat: Vec<f64> = rows.iter().flat_map(columns).collect();
    let matrix = DMatrix::from_row_slice(rows.len(), 3, &flat);
    let steps = rows.iter().map(|row| step_v(row).ln());
    let steps = DVector::from_iterator(rows.len(), steps);
    let solved = matrix
        .svd(true, true)
        .solve(&steps, 1e-12)
        .expect("a solution");
    solved[1]
}

/// The depth at which the cells stand at this voltage in the mean of some rows.
fn depth(cell: &Cell, rows: &[&Logged]) -> f64 {
    let mean = rows.iter().map(|row| row.rested_v).sum::<f64>() / rows.len() as f64 / CELLS;
    let depths = (0..1000).map(|step| f64::from(step) / 1000.0);
    let near = |depth: &f64| (cell.open_circuit.at(*depth).as_volts() - mean).abs();
    depths
        .min_by(|a, b| near(a).total_cmp(&near(b)))
        .expect("a depth")
}

/// What our cells drop by under a load.
fn our_step_v(cell: &Cell, row: &Logged, depth: f64, current: Current, span: Time) -> f64 {
    let mut state = cell.full();
    state.wells.available = state.wells.available * (1.0 - depth);
    state.wells.bound = state.wells.bound * (1.0 - depth);
    assert!(state.wells.available > Charge::ZERO);
    let mut source = CellOnBench::new(cell.at(row.temperature), state);
    let rest = Segment {
        load: Load::REST,
        span: Time::from_seconds(1.0),
        counts: false,
        ends_pulse: false,
    };
    let loaded = Segment {
        load: Load::Current(current),
        span,
        counts: true,
        ends_pulse: true,
    };
    let none = Voltage::from_volts(0.1);
    let rested = discharge(&mut source, [rest], none, |_| {}).0.voltage;
    let under = discharge(&mut source, [loaded], none, |_| {}).0.voltage;
    (rested - under).as_volts() * CELLS
}

/// The same regression on the logger and on ours: their factors of temperature lie within 300 K. The load's
/// length is taken as 1 s, its size as what makes our mean step the logger's.
#[test]
fn resistance_moves_with_temperature_as_outdoors() {
    let rows = logged();
    let cell = &find("alkaline-aa").expect("a catalogue cell").cell;
    let week = |from: f64| -> Vec<&Logged> {
        let in_week = rows
            .iter()
            .filter(|row| (from..from + 7.0).contains(&row.day));
        in_week.collect()
    };
    let (first, last) = (depth(cell, &week(0.0)), depth(cell, &week(36.0)));
    let depth_of = |row: &Logged| first + (last - first) * (row.day - 3.5) / 36.0;
    let mean = |of: &dyn Fn(&Logged) -> f64| rows.iter().map(of).sum::<f64>() / rows.len() as f64;
    let theirs = activation_k(&rows, |row| row.step_v);
    let step_v = mean(&|row| row.step_v);
    println!(
        "LOGGER\t{} rows\tB {theirs:.0} K\tmean step {step_v:.3} V\tdepth {first:.2} to {last:.2}",
        rows.len()
    );
    for seconds in [0.1, 1.0, 10.0] {
        let span = Time::from_seconds(seconds);
        let ours = |row: &Logged, current| our_step_v(cell, row, depth_of(row), current, span);
        // Halving: the step grows with the current.
        let (mut low, mut high) = (0.0, 1.0);
        for _ in 0..20 {
            let current = Current::from_amperes((low + high) / 2.0);
            if mean(&|row| ours(row, current)) < step_v {
                low = current.as_amperes();
            } else {
                high = current.as_amperes();
            }
        }
        let current = Current::from_amperes(low);
        let activation = activation_k(&rows, |row| ours(row, current));
        println!(
            "OURS\t{seconds} s\t{:.0} mA\tB {activation:.0} K",
            low * 1000.0
        );
        if (seconds - 1.0).abs() < 1e-9 {
            assert!((activation - theirs).abs() < 300.0, "{activation} {theirs}");
        }
    }
}
