//! What a sweep's table says beside the days.

use crate::sandbox::{LINE, Sandbox};

fn sweep(line: &str, vary: &str) -> String {
    let args = ["sweep", "line.toml", "--paths", "20", "--vary", vary];
    Sandbox::with_line(line).run(&args).good()
}

#[test]
fn a_full_card_has_a_column_where_any_fills() {
    // Cells that live long enough.
    let line = LINE.replace("alkaline-aa", "lithium-aa");
    let line = format!("{line}settings = {{ shots = 2, card_gb = 0.2 }}\n");
    let text = sweep(&line, "card_gb=0.2,512");
    assert!(text.contains("card full"), "{text}");
    let days = |value: &str| {
        let row = text
            .lines()
            .find(|line| line.contains(&format!(" {value} ")));
        let last = row.and_then(|row| row.split_whitespace().last());
        last.expect("a row").to_owned()
    };
    // Nine triggers a day of two pictures of 1.2 to 2 MB: 22 to 36 MB a day.
    let small: f64 = days("0.2").parse().expect("days");
    assert!((5.0..=11.0).contains(&small), "{text}");
    assert_eq!(days("512"), "%", "{text}");
    assert!(!sweep(LINE, "shots=1,2").contains("card full"));
}

#[test]
fn air_that_differs_by_point_is_said_to() {
    let text = sweep(LINE, "latitude_deg=45,46");
    assert!(text.contains("Air: by the values of the key"), "{text}");
}
