//! What a forecast of the six-camera example costs, part by part.

use std::hint::black_box;
use std::path::Path;

use overwinter::host::host;
use overwinter_line::answer::forecast::{ForecastRequest, answer};
use overwinter_line::answer::request::LineRequest;
use overwinter_line::line::{self, Line};
use overwinter_line::run::{SeasonAir, run_camera};

fn main() {
    divan::main();
}

const EXAMPLE: &str = concat!(
    env!("CARGO_MANIFEST_DIR"),
    "/../../examples/northern-winter.toml"
);

fn example() -> Line {
    line::load(host().files, Path::new(EXAMPLE)).expect("the example is valid")
}

/// Reading and checking the line file.
#[divan::bench]
fn load() -> Line {
    example()
}

/// Temperatures of the season, once for the line.
#[divan::bench]
fn season_air(bencher: divan::Bencher) {
    let line = example();
    bencher.bench(|| SeasonAir::new(black_box(&line)));
}

/// All six cameras through the season.
#[divan::bench]
fn six_cameras(bencher: divan::Bencher) {
    let line = example();
    let air = SeasonAir::new(&line);
    bencher.bench(|| {
        for camera in &line.cameras {
            black_box(run_camera(&line, &air, camera, &camera.pack).expect("the pack is valid"));
        }
    });
}

/// The whole command along the expected path, from the file to the JSON text.
#[divan::bench]
fn whole_forecast() -> String {
    let request = ForecastRequest {
        line: LineRequest {
            path: Path::new(EXAMPLE).to_owned(),
            cameras: Vec::new(),
        },
        paths: None,
        by: Vec::new(),
        course: None,
    };
    let asked = request.line.read(&host()).expect("the example is valid");
    let answer = answer(&asked.line, &request, &host()).expect("the line is valid");
    overwinter::command::forecast::json(&answer)
}
