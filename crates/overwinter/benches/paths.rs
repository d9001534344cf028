//! What sampled paths cost: camera-years per second, on one thread and on two.

use std::path::Path;
use std::time::Instant;

use overwinter::line::{self, Line};
use overwinter::odds::{Paths, sample_line};
use overwinter::run::SeasonAir;

fn example(name: &str) -> Line {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples");
    line::load(&root.join(name)).expect("the example is valid")
}

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
        let years = odds.camera_days / 365.25;
        years / started.elapsed().as_secs_f64()
    })
}

fn main() {
    for name in ["northern-winter.toml", "southern-autumn.toml"] {
        let line = example(name);
        for count in [8, 1000, 10_000] {
            let (one, two) = (rate(&line, 1, count), rate(&line, 2, count));
            println!(
                "{name} {count} paths: {one:.0} camera-years/s on one thread, {two:.0} on two ({:.2})",
                two / one
            );
        }
    }
}
