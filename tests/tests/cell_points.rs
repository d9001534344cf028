//! The catalogue's cells against published points.
//!
//! Reads every table of `datasheets-notes/`, or of the folder or file that
//! `OVERWINTER_CELL_POINTS` names, and prints one line a point (see the report's form in
//! `overwinter_tests::points`). Rows from memory are skipped: they decide nothing.

use std::collections::BTreeMap;

use overwinter::points::{
    Condition, How, Measure as Judged, Modelled, Row, entry_for, evaluate, parse_load, read_rows,
};
use overwinter_model::bench::{Duty, EndReason, discharge};
use overwinter_model::cell::CellOnBench;
use overwinter_model::cell::catalogue::{CATALOGUE, find};
use overwinter_model::{Temperature, Voltage};
use overwinter_tests::files::reference_files;
use overwinter_tests::points::{Measure, Points};

const VARIABLE: &str = "OVERWINTER_CELL_POINTS";
const NOTES: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../datasheets-notes");

/// What was compared: as printed, and sorted for judging.
#[derive(Default)]
struct Compared {
    all: Points,
    /// By the name of the catalogue cell.
    cells: BTreeMap<&'static str, OfCell>,
    resistances: Points,
    services: Points,
}

/// What was compared with one cell.
#[derive(Default)]
struct OfCell {
    /// Durations, capacities, energies and shares of them.
    services: Points,
    /// By the cell, also where a pack was measured.
    voltages: Points,
}

fn compare() -> Compared {
    let mut compared = Compared::default();
    for path in reference_files(VARIABLE, NOTES) {
        if path.extension().is_none_or(|extension| extension != "csv") {
            continue;
        }
        match read_rows(&path) {
            Ok(rows) => rows.iter().for_each(|row| compared.add(row)),
            Err(why) => println!("FILE\t{}\tnot a table of points: {why}", path.display()),
        }
    }
    compared
}

impl Compared {
    fn add(&mut self, row: &Row) {
        if row.how == How::Memory {
            self.all.skip(&row.id, "from memory");
            return;
        }
        match entry_for(row).and_then(|entry| Ok((entry, evaluate(&entry.into(), row)?))) {
            Ok((entry, modelled)) => self.sort(row, entry.name, &modelled),
            Err(skip) => self.all.skip(&row.id, &skip.to_string()),
        }
    }

    fn sort(&mut self, row: &Row, cell: &'static str, modelled: &Modelled) {
        if let Some(assumed) = modelled.assumed {
            println!("ASSUMED\t{}\t{assumed}", row.id);
        }
        let put = |points: &mut Points, cells: f64, by| {
            let (reference, ours) = (row.value / cells, modelled.ours / cells);
            points.compare(&row.id, &row.quantity, reference, ours, by);
        };
        let own = self.cells.entry(cell).or_default();
        match modelled.measure {
            Judged::Absolute => {
                put(&mut self.all, 1.0, Measure::Absolute);
                let cells = f64::from(modelled.in_series);
                put(&mut own.voltages, cells, Measure::Absolute);
            }
            Judged::Relative => {
                put(&mut self.all, 1.0, Measure::Relative);
                if row.quantity == "resistance_ohm" {
                    put(&mut self.resistances, 1.0, Measure::Relative);
                } else {
                    put(&mut self.services, 1.0, Measure::Relative);
                    put(&mut own.services, 1.0, Measure::Relative);
                }
            }
        }
    }
}

fn assert_below(points: &Points, what: &str, share: f64, bound: f64) {
    let Some(error) = points.quantile(share) else {
        panic!("no points for {what}");
    };
    assert!(
        error <= bound,
        "{what}: {share} of the errors are up to {error:.4}, more than {bound}"
    );
}

#[test]
fn published_points() {
    let compared = compare();
    print!("{}", compared.all.report());
    if std::env::var_os(VARIABLE).is_some() {
        if !compared.services.compared().is_empty() {
            assert_below(&compared.services, "all services", 0.5, 0.15);
        }
        return;
    }
    for (&name, own) in &compared.cells {
        // The aims are 7 % and 25 mV. Alkaline grades under one name lie further apart than that
        // (see the notes), and the lead-acid sheet's voltages are those of the first minute at
        // 0.05 to 3 times the hour's current, which a straight slow resistance cannot give.
        let (median, volts) = match name {
            "alkaline-aa" => (0.1, 0.025),
            "lead-acid-12v-4.5ah" => (0.07, 0.04),
            _ => (0.07, 0.025),
        };
        assert_below(&own.services, name, 0.5, median);
        if !own.voltages.compared().is_empty() {
            assert_below(&own.voltages, name, 0.5, volts);
            assert_below(&own.voltages, name, 0.9, 0.06);
        }
    }
    assert_below(&compared.services, "all services", 0.5, 0.05);
    // Three published figures for the fresh alkaline AA cell lie between 0.1 and 0.2 ohm.
    assert_below(&compared.resistances, "resistances", 0.5, 0.15);
}

/// The few published figures in the cold, each within 15 %. What the rows are: 18 mA at 3.4 and
/// -16.1 °C (ARU2023, alkaline and lithium), 100 mA at 0 and -10 °C (PANA-LR6T), alkaline
/// resistance at -40 and 40 °C (WIKI-IR), the iron phosphate pack at -10 °C to 11 and 10 V
/// (SPLI12-7.5), the 26650 cell at -25 °C (A123), lead-acid at -15 °C (US12-4.5).
#[test]
fn figures_in_the_cold() {
    if std::env::var_os(VARIABLE).is_some() {
        return;
    }
    let points = compare().all;
    for id in [
        "alkaline-207",
        "alkaline-208",
        "alkaline-157",
        "alkaline-158",
        "alkaline-075",
        "alkaline-076",
        "li_fes2-093",
        "li_fes2-094",
        "li_ion-001",
        "li_ion-032",
        "li_ion-033",
        "lead_acid-034",
    ] {
        let own = points.only(|p| p.id == id);
        assert_below(&own, id, 1.0, 0.15);
    }
}

/// Every cell of the catalogue stands on points, save the one derived from another.
#[test]
fn every_cell_has_points() {
    if std::env::var_os(VARIABLE).is_some() {
        return;
    }
    let compared = compare();
    for entry in CATALOGUE.iter().filter(|e| e.name != "lead-acid-6v-4.5ah") {
        let any = compared.cells.contains_key(entry.name);
        assert!(any, "{} has no published point", entry.name);
    }
}

/// Energy that a cell gives through the camera test of IEC 60086-2 (1500 mW for 2 s, 650 mW for
/// 28 s, ten times an hour, to 1.05 V), as a share of what 10 ohm get to 0.9 V.
fn share_in_camera_test(name: &str) -> f64 {
    let entry = find(name).expect("a catalogue cell");
    let energy = |duty: &Duty, volts: f64| {
        let at = entry.cell.at(Temperature::REFERENCE);
        let mut cell = CellOnBench::new(at, entry.cell.full());
        let cut_off = Voltage::from_volts(volts);
        let (end, reason) = discharge(&mut cell, duty.segments(), cut_off, |_| {});
        assert_ne!(reason, EndReason::Finished);
        end.energy.as_watt_hours()
    };
    let load = "profile=1500mW:2s,650mW:28s;on_s=300;period_s=3600";
    let Ok(Condition::Repeated { duty: camera, .. }) = Condition::parse(load) else {
        panic!("{load} is a repeated load");
    };
    let light = Duty::continuous(parse_load("10ohm").expect("a load"));
    energy(&camera, 1.05) / energy(&light, 0.9)
}

/// 0.69 of 2.98 Wh, 23 % (data sheet GP15AU: 117 pulses, and the curve through 10 ohm).
#[test]
fn alkaline_gives_a_quarter_of_its_energy_to_a_camera() {
    let share = share_in_camera_test("alkaline-aa");
    println!("alkaline-aa gives {share:.3}, published 0.23");
    assert!((0.18..=0.30).contains(&share), "{share}");
}

/// 3.75 of 4.4 Wh, 85 % (data sheet GP15LF: 636 pulses).
#[test]
fn lithium_gives_most_of_its_energy_to_a_camera() {
    let share = share_in_camera_test("lithium-aa");
    println!("lithium-aa gives {share:.3}, published 0.85");
    assert!((0.78..=0.95).contains(&share), "{share}");
}

/// The standard's minimum average durations, from memory: rough floors that a good cell passes. A
/// model that stays under two thirds of one is wrong.
#[test]
fn standard_tests_as_rough_floors() {
    let path = format!("{NOTES}/iec_tests.csv");
    let mut reader = csv::Reader::from_path(path).expect("the table of standard tests");
    for record in reader.records() {
        let record = record.expect("a line of the table");
        let field = |i: usize| record.get(i).unwrap_or_default();
        let (Ok(cut_off), Ok(floor)) = (field(2).parse::<f64>(), field(5).parse::<f64>()) else {
            println!("SKIP\t{}\tno minimum duration", field(0));
            continue;
        };
        let row = Row {
            id: field(0).to_owned(),
            chemistry: "alkaline".to_owned(),
            size: "LR6".to_owned(),
            quantity: format!("service_{}", field(6)),
            temp_c: Some(20.0),
            condition_load: field(1).to_owned(),
            state: "fresh".to_owned(),
            cutoff_v: Some(cut_off),
            value: floor,
            source_id: field(4).to_owned(),
            how: How::Memory,
            tol_pct: None,
            note: String::new(),
        };
        let entry = entry_for(&row).expect("alkaline AA");
        let ours = evaluate(&entry.into(), &row)
            .expect("a test that can be run")
            .ours;
        println!("FLOOR\t{}\t{floor}\t{ours:.1}\t{}", row.id, field(6));
        assert!(ours > 0.67 * floor, "{}: {ours} against {floor}", row.id);
    }
}
