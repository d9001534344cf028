//! A blob of a line's camera runs to the very bits of its forecast.

use std::path::Path;

use overwinter_line::answer::embed::Blob;
use overwinter_line::host::InMemory;
use overwinter_line::line;
use overwinter_line::run::{SeasonAir, run_camera};
use overwinter_model::season::run;

#[test]
fn a_blob_runs_to_the_very_bits_of_the_forecast() {
    for example in [
        include_str!("../../examples/northern-winter.toml"),
        include_str!("../../examples/southern-autumn.toml"),
        include_str!("../../examples/alpine-pass.toml"),
    ] {
        let files = InMemory::default().with("line.toml", example);
        let line = line::load(&files, Path::new("line.toml")).expect("an example");
        let air = SeasonAir::new(&line);
        for camera in &line.cameras {
            let told = run_camera(&line, &air, camera, &camera.pack).expect("a run");
            let blob = Blob::of(&line, camera).expect("a blob");
            let holds = blob.answer().holds;
            let outcome = run(&holds.scenario, holds.hours(), 1, |_| {});
            assert_eq!(outcome, told.outcome, "{}", camera.name);
        }
    }
}
