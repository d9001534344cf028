use super::file::read;
use super::*;
use crate::points::evaluate;
use crate::problem::Problem;

const HEAD: &str = "name = \"mine\"\nlike = \"alkaline-aa\"\n";

fn own(points: &str) -> CellPoints {
    read(&format!("{HEAD}{points}")).expect(points)
}

fn refused(text: &str) -> Vec<Problem> {
    read(text).expect_err(text)
}

/// Points of a usual test bench; the values come from the model.
const BENCH: &str = "
point = [
    { quantity = 'capacity_mAh', current_ma = 25, cutoff_v = 0.9, value = 1, tolerance_pct = 1 },
    { quantity = 'capacity_mAh', current_ma = 100, cutoff_v = 0.9, value = 1, tolerance_pct = 1 },
    { quantity = 'service_h', power_mw = 500, cutoff_v = 0.9, value = 1, tolerance_pct = 1 },
    { quantity = 'service_h', resistance_ohm = 3.9, hours_per_day = 1, cutoff_v = 0.8, value = 1,
      tolerance_pct = 1 },
    { quantity = 'service_pulses', profile = '1500mW:2s,650mW:28s', on_s = 300, period_s = 3600,
      cutoff_v = 1.05, value = 1, tolerance_pct = 1 },
    { quantity = 'capacity_mAh', temp_c = -10, current_ma = 100, cutoff_v = 0.9, value = 1,
      tolerance_pct = 1 },
    { quantity = 'resistance_ohm', current_ma = 500, pulse_s = 0.1, value = 1, tolerance_pct = 1 },
    { quantity = 'voltage_V', current_ma = 1000, pulse_s = 2, value = 1, tolerance_pct = 1 },
    { quantity = 'voltage_V', current_ma = 1000, pulse_s = 2, temp_c = -10, value = 1,
      tolerance_pct = 1 },
]
";

#[test]
fn a_known_cell_is_found_again() {
    let mut own = own(BENCH);
    let like = own.start();
    let mut truth = like;
    truth.cell.capacity = like.cell.capacity * 0.8;
    truth.cell.ohmic.fresh = like.cell.ohmic.fresh * 1.3;
    for branch in &mut truth.cell.branches {
        branch.resistor.fresh = branch.resistor.fresh * 1.3;
    }
    for point in &mut own.points {
        point.row.value = evaluate(&truth, &point.row).expect("a test").ours;
    }
    let found = fit(&own, &|| {});
    let near = |what: &str, found: f64, truth: f64, share: f64| {
        assert!(
            (found / truth - 1.0).abs() < share,
            "{what}: {found} of {truth}"
        );
    };
    near(
        "capacity",
        found.cell.capacity / truth.cell.capacity,
        1.0,
        0.03,
    );
    // What a pulse of two seconds sees: it cannot tell one part of it from another.
    let resistance = |cell: &Cell| {
        let [quickest, ..] = cell.branches;
        (cell.ohmic.fresh + quickest.resistor.fresh).as_ohms()
    };
    near(
        "resistance",
        resistance(&found.cell),
        resistance(&truth.cell),
        0.03,
    );
    for point in &own.points {
        let ours = evaluate(&(&found).into(), &point.row).expect("a test").ours;
        near(&point.row.id, ours, point.row.value, 0.02);
    }
}

#[test]
fn one_capacity_moves_the_capacity_alone() {
    let own = own(
        "[[point]]\nquantity = \"capacity_mAh\"\ncurrent_ma = 100\ncutoff_v = 0.9\n\
                   value = 2000\ntolerance_pct = 3",
    );
    let found = fit(&own, &|| {});
    let moved = moves(&own.like.cell, &found.cell);
    let keys: Vec<&str> = moved.iter().map(|m| m.key).collect();
    assert_eq!(keys, ["capacity_mah"]);
    assert_eq!(found.cell.ohmic, own.like.cell.ohmic);
    assert_eq!(found.cell.open_circuit, own.like.cell.open_circuit);
    let ours = evaluate(&(&found).into(), &own.points[0].row)
        .expect("a test")
        .ours;
    assert!((ours / 2000.0 - 1.0).abs() < 0.01, "{ours}");
}

#[test]
fn numbers_of_a_data_sheet_move_what_they_are_about() {
    let bigger = fit(&own("capacity_mah = 3000\nmass_g = 25"), &|| {});
    let like = own("capacity_mah = 3000").like;
    assert!((bigger.cell.capacity / (like.cell.capacity * (3000.0 / 2700.0)) - 1.0).abs() < 1e-3);
    assert_eq!(bigger.cell.branches, like.cell.branches);
    assert!((bigger.mass_g - 25.0).abs() < 1e-12);

    let sheet = own("resistance_ohm = 0.3");
    let worse = fit(&sheet, &|| {});
    let ours = evaluate(&(&worse).into(), &sheet.points[0].row)
        .expect("a test")
        .ours;
    assert!((0.24..=0.3).contains(&ours), "{ours}");
    assert_eq!(worse.cell.capacity, like.cell.capacity);

    let fresher = fit(&own("fresh_v = 1.64"), &|| {});
    assert!(fresher.cell.open_circuit.volts[0] > 1.625);
    assert_eq!(fresher.cell.ohmic, like.cell.ohmic);
}

#[test]
fn the_range_of_validity_grows_with_the_points() {
    let own = own(
        "[[point]]\nquantity = \"capacity_mAh\"\ncurrent_ma = 1200\ntemp_c = -25\n\
                   cutoff_v = 0.9\nvalue = 10",
    );
    let tested = fit(&own, &|| {}).cell.tested;
    assert!((tested.coldest.as_celsius() + 25.0).abs() < 1e-9);
    assert!((tested.heaviest_in_frost.as_milliamperes() - 1200.0).abs() < 1e-9);
    assert_eq!(tested.heaviest, own.like.cell.tested.heaviest);
}

#[test]
fn points_that_cannot_be_repeated_are_refused() {
    for (point, says) in [
        ("quantity = 'capacity_mAh'\nvalue = 1", "no load"),
        (
            "quantity = 'capacity_mAh'\ncurrent_ma = 9\nvalue = 1",
            "no `cutoff_v`",
        ),
        (
            "quantity = 'capacity_mAh'\ncurrent_ma = 90000\ncutoff_v = 0.9\nvalue = 1",
            "gives 0",
        ),
        ("quantity = 'capacity_mah'\nvalue = 1", "not known"),
        (
            "quantity = 'voltage_V'\ncurrent_ma = 9\nstate = 't_h=x'\nvalue = 1",
            "state",
        ),
        (
            "quantity = 'service_h'\ncurrent_ma = 9\npower_mw = 3\ncutoff_v = 1\nvalue = 1",
            "several",
        ),
        (
            "quantity = 'service_h'\ncurrent_ma = 9\non_s = 3\ncutoff_v = 1\nvalue = 1",
            "together",
        ),
        (
            "quantity = 'service_h'\nprofile = '9mX:2s'\ncutoff_v = 1\nvalue = 1",
            "9mX",
        ),
        (
            "quantity = 'service_h'\nprofile = '0.01mA:1s,0mA:1s'\ncutoff_v = 1\nvalue = 1",
            "changes more",
        ),
        ("quantity = 'ocv_V'\nvalue = nan", "out of range"),
        (
            "quantity = 'ocv_V'\nvalue = 1.5\ntemp_c = -200",
            "out of range",
        ),
    ] {
        let problems = refused(&format!("{HEAD}[[point]]\n{point}"));
        assert!(problems[0].message.contains(says), "{point}: {problems:?}");
        assert!(problems[0].span.is_some(), "{point}");
    }
    assert!(refused(HEAD)[0].message.contains("nothing to fit"));
}

/// The same pulse finds a part-used cell lower than a fresh one.
#[test]
fn a_pulse_is_run_where_it_was_measured() {
    let pulse = |state: &str| {
        let own = own(&format!(
            "[[point]]\nquantity = \"voltage_V\"\nresistance_ohm = 1\npulse_s = 0.25\nstate = \"{state}\"\nvalue = 1\n"
        ));
        evaluate(&own.start(), &own.points[0].row)
            .expect("a test")
            .ours
    };
    let [fresh, tenth, third] = ["fresh", "dod=0.1", "dod=0.33"].map(pulse);
    assert!(
        tenth < fresh - 0.02 && third < tenth - 0.02,
        "{fresh} {tenth} {third}"
    );
}

/// A pulse of a quarter of a second through 1 ohm at each temperature, each as the cell gives it.
fn pulses(like: &str, temperatures: &[f64], tolerance_pct: f64) -> CellPoints {
    let point = |celsius: &f64| {
        format!(
            "[[point]]\nquantity = \"voltage_V\"\nresistance_ohm = 1\npulse_s = 0.25\ntemp_c = {celsius}\n\
             value = 1\ntolerance_pct = {tolerance_pct}\n"
        )
    };
    let points: String = temperatures.iter().map(point).collect();
    let text = format!("name = \"mine\"\nlike = \"{like}\"\n{points}");
    let mut own = read(&text).expect("points");
    let start = own.start();
    for point in &mut own.points {
        point.row.value = evaluate(&start, &point.row).expect("a test").ours;
    }
    own
}

/// What the resistance is doubted by a step from the points, as a share of what the catalogue's cell is.
fn doubted(own: &CellPoints) -> f64 {
    let found = fit(own, &|| {}).cell.beyond_points;
    assert!((found.reach - own.like.cell.beyond_points.reach).abs() < 1e-12);
    found.resistance / own.like.cell.beyond_points.resistance
}

/// Pulses in frost tell the resistances there, and not how much charge is within reach.
#[test]
fn pulses_in_frost_leave_less_doubt() {
    for like in ["alkaline-aa", "lithium-aa", "nimh-aa"] {
        let [near, far] = [[20.0, 0.0], [20.0, -20.0]].map(|at| doubted(&pulses(like, &at, 1.0)));
        assert!(
            far < 0.6 && far < 0.7 * near && near < 1.0,
            "{like}: {near} {far}"
        );
        // 1.5 A from a lithium cell are a hair more than its heaviest point: next to no way.
        let room = doubted(&pulses(like, &[20.0], 1.0));
        assert!(room > 0.99, "{like}: {room}");
    }
}

/// Many pulses of one bench are no better than the best of them, and rough ones tell less.
#[test]
fn doubt_goes_with_the_error_of_the_bench() {
    let of = |at: &[f64], tolerance| doubted(&pulses("alkaline-aa", at, tolerance));
    let one = of(&[-20.0], 1.0);
    assert!((of(&[-20.0; 5], 1.0) / one - 1.0).abs() < 1e-2);
    let [rough, rougher] = [10.0, 50.0].map(|tolerance| of(&[-20.0], tolerance));
    assert!(
        one < rough && rough < rougher && rougher < 1.0,
        "{one} {rough} {rougher}"
    );
    assert!(rougher > 0.8, "{rougher}");
}
