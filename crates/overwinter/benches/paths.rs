//! What sampled paths cost: camera-years per second, on one thread and on two.
//!
//! The years are those that cameras are alive; a group of paths is followed until its last is dead.

use std::path::Path;
use std::time::Instant;

use overwinter::line::{self, Line};
use overwinter::odds::{Paths, sample_line};
use overwinter::run::SeasonAir;

/// Cameras that live through a whole year: what a camera-year costs and nothing else.
const YEAR: &str = r#"
[site]
latitude_deg = 46.4
longitude_deg = 9.1
utc_offset_h = 1
climate = "temperate-maritime"
[season]
start = 2026-07-01
end = 2027-06-30
[pack]
cell = "lithium-aa"
[activity]
triggers_per_day = 5
[[camera]]
name = "gate"
[[camera]]
name = "bridge"
"#;

/// Camera-years per second of a line's sampled season on so many threads.
fn rate(line: &Line, threads: usize, count: u32) -> f64 {
    let air = SeasonAir::new(line);
    let cameras: Vec<_> = line.cameras.iter().map(|c| (c, &c.pack)).collect();
    let pool = rayon::ThreadPoolBuilder::new()
        .num_threads(threads)
        .build()
        .expect("threads");
    pool.install(|| {
        let started = Instant::now();
        let odds = sample_line(line, &air, &cameras, Paths { count, seed: 1 }).expect("packs");
        odds.camera_days / 365.25 / started.elapsed().as_secs_f64()
    })
}

fn report(name: &str, line: &Line) {
    for count in [1000, 20_000] {
        let (one, two) = (rate(line, 1, count), rate(line, 2, count));
        println!(
            "{name}, {count} paths: {one:.0} camera-years/s on one thread, {two:.0} on two ({:.2} times)",
            two / one
        );
    }
}

fn main() {
    let folder = tempfile::tempdir().expect("a folder");
    let year = folder.path().join("year.toml");
    std::fs::write(&year, YEAR).expect("a file");
    report("a year", &line::load(&year).expect("the line is valid"));
    let examples = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples");
    for name in ["northern-winter", "southern-autumn"] {
        let file = examples.join(name).with_extension("toml");
        report(name, &line::load(&file).expect("the example is valid"));
    }
}
