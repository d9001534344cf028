//! The figures of `[draw]`: each row of the table has its key, and changes what the program answers.

use overwinter_line::line::{Figure, Kind};
use serde_json::Value;

use crate::sandbox::{LINE, Sandbox};

/// A line whose camera uses every figure but the one of a video alone, which it uses with no shots.
fn line(shots: u8, draw: &str) -> String {
    format!(
        "{LINE}draw = {{ kind = \"stills-cat1\"{draw} }}\n\
         settings = {{ shots = {shots}, video_s = 10, card_gb = 0.5 }}\n"
    )
}

/// The JSON answer, and the figures that are listed in it.
fn forecast(line: &str) -> (Value, Vec<Value>) {
    let sandbox = Sandbox::with_line(line);
    let answer = sandbox.run(&["forecast", "line.toml", "--paths=10", "--json"]);
    let mut json = answer.json();
    let listed = json["cameras"][0]["assumed"].take();
    (json, listed.as_array().expect("a list").clone())
}

#[test]
fn each_figure_changes_an_answer() {
    let usual = [3, 0].map(|shots| (shots, forecast(&line(shots, "")).0));
    for figure in Figure::ALL {
        let key = figure.key();
        let of_kind = figure.usual(Kind::StillsCat1).expect("a figure of all");
        let more = of_kind.value * 1.2;
        let changed = usual.iter().any(|(shots, answer)| {
            let given = line(*shots, &format!(", {key} = {more:.4}"));
            forecast(&given).0 != *answer
        });
        assert!(changed, "{key} changes nothing");
    }
}

#[test]
fn a_camera_lists_the_figures_of_its_kind() {
    for kind in Kind::ALL {
        let name = kind.name();
        let (_, listed) = forecast(&format!("{LINE}draw = {{ kind = \"{name}\" }}\n"));
        for (listed, (figure, usual)) in listed.iter().zip(Figure::of(kind)) {
            assert_eq!(listed["key"], figure.key());
            assert_eq!(listed["unit"], figure.unit().sign());
            assert_eq!(listed["value"], usual.value, "{}", figure.key());
        }
        assert_eq!(listed.len(), Figure::of(kind).count(), "{name}");
    }
}
