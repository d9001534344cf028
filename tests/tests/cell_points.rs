//! The catalogue's cells against published points.
//!
//! Reads every table of `datasheets-notes/`, or of the folder or file that
//! `OVERWINTER_CELL_POINTS` names, and prints one line a point (see the report's form in
//! `overwinter_tests::points`). Rows from memory are skipped: they decide nothing.

use overwinter::points::{
    Condition, How, Measure as Judged, Row, entry_for, evaluate, parse_load, read_rows,
};
use overwinter_model::bench::{Duty, EndReason, discharge};
use overwinter_model::cell::CellOnBench;
use overwinter_model::cell::catalogue::{CATALOGUE, find};
use overwinter_model::{Temperature, Voltage};
use overwinter_tests::files::reference_files;
use overwinter_tests::points::{Measure, Point, Points};

const VARIABLE: &str = "OVERWINTER_CELL_POINTS";
const NOTES: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../datasheets-notes");

/// Every comparison, its id led by the cell's name: `alkaline-aa:alkaline-001`.
fn compare() -> Points {
    let mut points = Points::default();
    for path in reference_files(VARIABLE, NOTES) {
        if path.extension().is_none_or(|extension| extension != "csv") {
            continue;
        }
        match read_rows(&path) {
            Ok(rows) => rows.iter().for_each(|row| add(&mut points, row)),
            Err(why) => println!("FILE\t{}\tnot a table of points: {why}", path.display()),
        }
    }
    points
}

fn add(points: &mut Points, row: &Row) {
    if row.how == How::Memory {
        points.skip(&row.id, "from memory");
        return;
    }
    let compared = entry_for(row).and_then(|entry| Ok((entry, evaluate(entry, row)?)));
    let (entry, modelled) = match compared {
        Ok(both) => both,
        Err(skip) => {
            points.skip(&row.id, &skip.to_string());
            return;
        }
    };
    if let Some(assumed) = modelled.assumed {
        println!("ASSUMED\t{}\t{assumed}", row.id);
    }
    let measure = match modelled.measure {
        Judged::Relative => Measure::Relative,
        Judged::Absolute => Measure::Absolute,
    };
    // Voltages are judged by the cell, also those of packs.
    let cells = match measure {
        Measure::Absolute => f64::from(modelled.in_series),
        Measure::Relative => 1.0,
    };
    let id = format!("{}:{}", entry.name, row.id);
    points.compare(
        &id,
        &row.quantity,
        row.value / cells,
        modelled.ours / cells,
        measure,
    );
}

fn is_voltage(point: &Point) -> bool {
    point.quantity.ends_with("_V")
}

fn is_resistance(point: &Point) -> bool {
    point.quantity == "resistance_ohm"
}

fn is_service(point: &Point) -> bool {
    !is_voltage(point) && !is_resistance(point)
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
    let points = compare();
    print!("{}", points.report());
    let services = points.only(is_service);
    if std::env::var_os(VARIABLE).is_some() {
        if !services.compared().is_empty() {
            assert_below(&services, "all services", 0.5, 0.15);
        }
        return;
    }
    for entry in CATALOGUE {
        let own = |p: &Point| p.id.split(':').next() == Some(entry.name);
        let services = points.only(|p| own(p) && is_service(p));
        let voltages = points.only(|p| own(p) && is_voltage(p));
        // The aims are 7 % and 25 mV. Alkaline grades under one name lie further apart than that
        // (see the notes), and the lead-acid sheet's voltages are those of the first minute at
        // 0.05 to 3 times the hour's current, which a straight slow resistance cannot give.
        let (median, volts) = match entry.name {
            "alkaline-aa" => (0.1, 0.025),
            "lead-acid-12v-4.5ah" => (0.07, 0.04),
            _ => (0.07, 0.025),
        };
        if !services.compared().is_empty() {
            assert_below(&services, entry.name, 0.5, median);
        }
        if !voltages.compared().is_empty() {
            assert_below(&voltages, entry.name, 0.5, volts);
            assert_below(&voltages, entry.name, 0.9, 0.06);
        }
    }
    assert_below(&services, "all services", 0.5, 0.07);
    assert_below(&points.only(is_resistance), "resistances", 0.5, 0.25);
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
    let points = compare();
    for id in [
        "alkaline-aa:alkaline-207",
        "alkaline-aa:alkaline-208",
        "alkaline-aa:alkaline-157",
        "alkaline-aa:alkaline-158",
        "alkaline-aa:alkaline-075",
        "alkaline-aa:alkaline-076",
        "lithium-aa:li_fes2-093",
        "lithium-aa:li_fes2-094",
        "lfp-18650:li_ion-001",
        "lfp-18650:li_ion-032",
        "lfp-18650:li_ion-033",
        "lead-acid-12v-7.2ah:lead_acid-034",
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
    let points = compare();
    for entry in CATALOGUE.iter().filter(|e| e.name != "lead-acid-6v-4.5ah") {
        let prefix = format!("{}:", entry.name);
        let any = points.compared().iter().any(|p| p.id.starts_with(&prefix));
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
        let ours = evaluate(entry, &row).expect("a test that can be run").ours;
        println!("FLOOR\t{}\t{floor}\t{ours:.1}\t{}", row.id, field(6));
        assert!(ours > 0.67 * floor, "{}: {ours} against {floor}", row.id);
    }
}
