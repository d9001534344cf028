//! The bench protocol's table of what the catalogue's cells give.

use overwinter_line::points::{How, Row, entry_for, evaluate};

use crate::compared::{NOTES, elsewhere};

const DEGREES: [f64; 4] = [20.0, 0.0, -10.0, -20.0];

/// The voltages of its lines, each with the test that it is of.
fn voltages(protocol: &str) -> Vec<Row> {
    let mut rows = Vec::new();
    for line in protocol.lines() {
        let fields: Vec<&str> = line.trim_matches('|').split('|').map(str::trim).collect();
        let [cell, state, volts @ ..] = fields.as_slice() else {
            continue;
        };
        let (chemistry, size) = match *cell {
            "alkaline-aa" => ("alkaline", "LR6"),
            "lithium-aa" => ("lithium_fes2", "FR6"),
            _ => continue,
        };
        for (celsius, volts) in DEGREES.into_iter().zip(volts) {
            rows.push(Row {
                id: format!("{cell}, {state}, {celsius} °C"),
                chemistry: chemistry.to_owned(),
                size: size.to_owned(),
                quantity: "voltage_V".to_owned(),
                temp_c: Some(celsius),
                condition_load: "resistance_ohm=1;0.25 s".to_owned(),
                state: (*state).to_owned(),
                cutoff_v: None,
                value: volts.parse().expect("volts"),
                source_id: String::new(),
                how: How::Derived,
                tol_pct: None,
                note: String::new(),
                makes: None,
                table: None,
            });
        }
    }
    rows
}

/// To the millivolt: whoever fits the catalogue anew has to write the section anew.
#[test]
fn the_protocol_has_what_the_cells_give() {
    if elsewhere() {
        return;
    }
    let protocol = std::fs::read_to_string(format!("{NOTES}/bench-protocol.md"));
    let rows = voltages(&protocol.expect("the protocol"));
    assert_eq!(rows.len(), 24);
    for row in &rows {
        let entry = entry_for(row).expect("a cell of the catalogue");
        let ours = evaluate(&entry.into(), row).expect("a test").ours;
        assert!((ours - row.value).abs() < 0.001, "{}: {ours}", row.id);
    }
}
