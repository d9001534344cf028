use super::*;

/// The row of a fresh alkaline AA cell at 20 °C, by quantity, load and state.
fn row(quantity: &str, load: &str, state: &str) -> Row {
    let text = format!(
        "id,chemistry,size,quantity,condition_temp_C,condition_load,state,cutoff_V,value,unit,source_id,how,tol_pct,note\n\
         a-1,alkaline,LR6,{quantity},20,\"{load}\",{state},0.9,1,V,S,seen,1,\n"
    );
    let mut rows = read_rows("rows.csv".as_ref(), text.as_bytes()).expect("a table");
    rows.remove(0)
}

fn evaluated(row: &Row) -> Result<f64, Skip> {
    let entry = entry_for(row)?;
    Ok(evaluate(&entry.into(), row)?.ours)
}

fn ours(quantity: &str, load: &str, state: &str) -> f64 {
    evaluated(&row(quantity, load, state)).unwrap_or_else(|skip| panic!("{load} {state}: {skip}"))
}

fn skipped(quantity: &str, load: &str, state: &str) -> String {
    let skip = evaluated(&row(quantity, load, state)).expect_err(state);
    skip.to_string()
}

fn near(a: f64, b: f64, within: f64) {
    assert!((a - b).abs() <= within, "{a} beside {b}");
}

const PULSE: &str = "current_ma=1000;0.25 s";

#[test]
fn a_new_cell_of_another_voltage_is_shifted() {
    let fresh = ours("ocv_V", "open", "fresh");
    let stated = fresh + 0.03;
    let with = |state: &str| ours("voltage_V", PULSE, state);
    for state in ["fresh", "full"] {
        let shifted = with(&format!("{state};ocv_V={stated}"));
        near(shifted - with(state), 0.03, 1e-6);
    }
    let used = with(&format!("fresh;ocv_V={stated};dod=0.3"));
    near(used - with("dod=0.3"), 0.03, 1e-6);
}

#[test]
fn at_a_known_depth_the_voltage_there_is_shifted() {
    let there = ours("ocv_V", "open", "dod=0.3");
    let shifted = ours(
        "voltage_V",
        PULSE,
        &format!("dod=0.3;ocv_V={}", there - 0.02),
    );
    near(shifted, ours("voltage_V", PULSE, "dod=0.3") - 0.02, 1e-6);
}

#[test]
fn the_voltage_of_a_used_cell_tells_its_depth() {
    let there = ours("ocv_V", "open", "dod=0.3");
    let state = format!("ocv_V={there}");
    let found = ours("voltage_V", PULSE, &state);
    near(found, ours("voltage_V", PULSE, "dod=0.3"), 1e-6);
    for volts in ["ocv_V=2.5", "ocv_V=0.1"] {
        assert!(skipped("voltage_V", PULSE, volts).contains("no depth"));
    }
}

#[test]
fn pulses_against_each_other_begin_at_rest() {
    let volts = |ma: u32| ours("voltage_V", &format!("current_ma={ma};0.25 s"), "fresh");
    let ohms = ours(
        "resistance_ohm",
        "pulse 1000 mA against 100 mA, 0.25 s",
        "fresh",
    );
    near(ohms, (volts(100) - volts(1000)) / 0.9, 1e-9);
    let from_open = ours("resistance_ohm", "pulse 1000 mA from open, 0.25 s", "fresh");
    near(
        from_open,
        ours("ocv_V", "open", "fresh") - volts(1000),
        1e-9,
    );
}

/// Without a method told it is the maker's: see [`Condition::DUAL_PULSE`].
#[test]
fn a_dual_pulse_is_the_makers_step() {
    for state in ["fresh", "dod=0.3"] {
        let step = ours("resistance_ohm", "step 5 to 505 mA, 100 ms", state);
        for load in ["dual pulse", "as the maker charts it", "open"] {
            near(ours("resistance_ohm", load, state), step, 1e-12);
        }
    }
}

#[test]
fn a_figure_is_read_where_its_mark_is() {
    let figures = [
        ("voltage_V", PULSE),
        ("resistance_ohm", PULSE),
        ("capacity_mAh", "current_ma=100"),
        ("ocv_V", "open"),
    ];
    for (quantity, load) in figures {
        let at = |state: &str| ours(quantity, load, state);
        let fresh = at("fresh");
        assert!((at("q_mAh=800") - fresh).abs() > 0.01 * fresh, "{quantity}");
        let entry = entry_for(&row(quantity, load, "fresh")).expect("a cell");
        let of_rated = 80_000.0 / entry.rated.as_milliampere_hours();
        near(
            at("q_mAh=800"),
            at(&format!("q_pct_of_rated={of_rated}")),
            1e-9,
        );
    }
}

#[test]
fn what_was_connected_before_must_be_told() {
    for quantity in ["voltage_V", "resistance_ohm"] {
        for state in ["t_h=2", "t_min=5"] {
            let why = skipped(quantity, PULSE, state);
            assert!(why.contains("load before the test is not told"), "{why}");
        }
        let why = skipped(quantity, PULSE, "pulses=20");
        assert!(why.contains("how many pulses"), "{why}");
    }
}

#[test]
fn more_than_the_cell_holds_is_skipped() {
    for state in ["q_mAh=9000", "dod=1.2", "dod=-0.1"] {
        let why = skipped("voltage_V", PULSE, state);
        assert!(why.contains("our cell holds"), "{why}");
    }
}

/// How long the load of a row is on, seconds.
fn seconds(quantity: &str, load: &str, state: &str) -> f64 {
    let row = row(quantity, load, state);
    let entry = entry_for(&row).expect("a cell");
    let span = load_span(&entry.into(), &row);
    span.unwrap_or_else(|skip| panic!("{load}: {skip}"))
        .as_seconds()
}

#[test]
fn a_load_is_on_for_its_pulse_or_until_the_figure_is_read() {
    for (quantity, load, state, expected) in [
        ("voltage_V", PULSE, "fresh", 0.25),
        ("resistance_ohm", "dual pulse", "fresh", 0.1),
        ("resistance_ohm", "open", "fresh", 0.1),
        ("resistance_ohm", "step open to 1500 mW", "fresh", 0.0),
        ("voltage_V", "current_ma=100", "t_h=2", 7200.0),
        ("voltage_V", "current_ma=100", "q_mAh=50", 1800.0),
        (
            "voltage_V",
            "current_ma=100;hours_per_day=1",
            "t_h=2",
            3600.0,
        ),
        (
            "capacity_mAh",
            "current_ma=1000;on_s=10;period_s=60",
            "fresh",
            10.0,
        ),
        (
            "service_pulses",
            "profile=650mW:28s,1500mW:2s",
            "fresh",
            2.0,
        ),
        ("voltage_V", "profile=650mW:28s,1500mW:2s", "pulses=3", 2.0),
    ] {
        near(seconds(quantity, load, state), expected, 1e-6);
    }
    let hours = ours("service_h", "current_ma=100", "fresh");
    near(
        seconds("capacity_mAh", "current_ma=100", "fresh"),
        3600.0 * hours,
        1.0,
    );
    let open = row("ocv_V", "open", "fresh");
    let entry = entry_for(&open).expect("a cell");
    assert!(load_span(&entry.into(), &open).is_err());
}
