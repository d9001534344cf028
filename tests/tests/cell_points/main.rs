//! The catalogue's cells against published points.
//!
//! Reads every table of `datasheets-notes/`, or of the folder or file that
//! `OVERWINTER_CELL_POINTS` names, and prints one line a point (see the report's form in
//! `overwinter_tests::points`). Rows from memory are skipped: they decide nothing.

mod bench;
mod compared;
mod frost;
mod limits;

use compared::{NOTES, compare, elsewhere, share_within};
use overwinter_line::points::{Condition, How, Row, entry_for, evaluate, parse_load};
use overwinter_model::bench::{Duty, EndReason, discharge};
use overwinter_model::cell::CellOnBench;
use overwinter_model::cell::catalogue::{CATALOGUE, find};
use overwinter_model::{Temperature, Voltage};
use overwinter_tests::points::Points;

fn assert_below(points: &Points, what: &str, share: f64, bound: f64) {
    let Some(error) = points.quantile(share) else {
        panic!("no points for {what}");
    };
    assert!(
        error <= bound,
        "{what}: {share} of the errors are up to {error:.4}, more than {bound}"
    );
}

fn assert_share(points: &Points, what: &str, share: f64, bound: f64) {
    let within = share_within(points, bound);
    assert!(
        within >= share,
        "{what}: {within:.3} of the errors are up to {bound}, {share} is the aim"
    );
}

#[test]
fn published_points() {
    let compared = compare();
    print!("{}", compared.figures());
    print!("{}", compared.all.report());
    if elsewhere() {
        let services = &compared.by_kind.services;
        if !services.compared().is_empty() {
            assert_below(services, "all services", 0.5, 0.15);
        }
        return;
    }
    for (&name, own) in &compared.cells {
        // Makes of alkaline cells differ by 7 to 12 %, and the median one is asked of all of their rows.
        let services = if name == "alkaline-aa" { 0.10 } else { 0.07 };
        // The lead-acid sheet's voltages are those of the first minute at 0.05 to 3 times the
        // hour's current, which a straight slow resistance cannot give.
        // Of nickel-metal hydride three voltages are published, the rounded defaults of a simulation block (MW-BLOCK).
        let volts = match name {
            "lead-acid-12v-4.5ah" => 0.04,
            "nimh-aa" => 0.03,
            _ => 0.025,
        };
        assert_below(&own.services, name, 0.5, services);
        if !own.voltages.compared().is_empty() {
            assert_below(&own.voltages, name, 0.5, volts);
            // Alkaline cells stand between what makers print and what was measured of the same brands.
            let near = if name == "alkaline-aa" { 0.80 } else { 0.9 };
            assert_share(&own.voltages, name, near, 0.06);
        }
    }
}

/// The aims over every row that is not from memory.
#[test]
fn all_rows_meet_the_aims() {
    if elsewhere() {
        return;
    }
    let own = compare().by_kind;
    assert_below(&own.services, "durations", 0.5, 0.07);
    assert_share(&own.services, "durations", 0.9, 0.15);
    assert_below(&own.voltages, "voltages", 0.5, 0.025);
    assert_share(&own.voltages, "voltages", 0.9, 0.06);
}

/// Resistances of alkaline cells within 30 %, but where sources contradict: one maker's dual pulse at room
/// temperature is 0.15 to 0.30 ohm (E91-READ, ours lies inside), of which WIKI-IR quotes the low end, and 0.1 at
/// 40 °C with it; EESS-2019 has 0.1 at 20 °C, where a pulse of the sheet itself has 0.20 (L91-1222).
#[test]
fn resistances_of_alkaline_cells() {
    if elsewhere() {
        return;
    }
    let compared = compare();
    let resistances = &compared.cells["alkaline-aa"].resistances;
    for point in resistances.compared() {
        println!(
            "RESISTANCE\t{}\t{}\t{:.3}",
            point.id, point.reference, point.ours
        );
    }
    let contradicted = ["alkaline-168", "alkaline-076", "p3-083"];
    let others = resistances.only(|point| !contradicted.contains(&point.id.as_str()));
    assert_below(&others, "resistances", 1.0, 0.30);
}

/// No parameter was fitted to every third row.
#[test]
fn held_out_points_meet_the_aims() {
    if elsewhere() {
        return;
    }
    let held_out = compare().held_out;
    assert_below(&held_out.services, "durations", 0.5, 0.10);
    assert_below(&held_out.voltages, "voltages", 0.5, 0.035);
}

/// Published figures in the cold of the cells that are charged, each within 15 %: the iron phosphate pack at -10 °C to 11
/// and 10 V (SPLI12-7.5), the 26650 cell at -25 °C (A123), lead-acid at -15 °C (US12-4.5). For the others see
/// [`frost`].
#[test]
fn figures_in_the_cold() {
    if elsewhere() {
        return;
    }
    let points = compare().all;
    for id in ["li_ion-001", "li_ion-032", "li_ion-033", "lead_acid-034"] {
        let own = points.only(|p| p.id == id);
        assert_below(&own, id, 1.0, 0.15);
    }
}

/// Every cell of the catalogue stands on points, save the one derived from another.
#[test]
fn every_cell_has_points() {
    if elsewhere() {
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
            makes: None,
            table: None,
        };
        let entry = entry_for(&row).expect("alkaline AA");
        let ours = evaluate(&entry.into(), &row)
            .expect("a test that can be run")
            .ours;
        println!("FLOOR\t{}\t{floor}\t{ours:.1}\t{}", row.id, field(6));
        assert!(ours > 0.67 * floor, "{}: {ours} against {floor}", row.id);
    }
}
