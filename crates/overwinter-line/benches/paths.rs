//! What sampled paths cost: camera-years per second, on one thread and on two.
//!
//! The years are those that cameras are alive; a group of paths is followed until its last is dead.

use std::path::Path;
use std::time::Instant;

use overwinter_line::host::{Files, Host, InMemory, Unread, Workers};
use overwinter_line::line::{self, Line};
use overwinter_line::odds::{Paths, sample_line};
use overwinter_line::run::SeasonAir;
use rayon::prelude::*;

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

/// The examples' folder.
struct Disk;

impl Files for Disk {
    fn read(&self, path: &Path, _: u64) -> Result<Vec<u8>, Unread> {
        std::fs::read(path).map_err(|why| Unread::Because(why.to_string()))
    }
}

/// The threads of the pool that is installed.
struct Threads;

impl Workers for Threads {
    fn each(&self, parts: usize, work: &(dyn Fn(usize) + Sync)) {
        (0..parts).into_par_iter().for_each(work);
    }
}

/// Camera-years per second of a line's sampled season on so many threads.
fn rate(line: &Line, threads: usize, count: u32) -> f64 {
    let air = SeasonAir::new(line);
    let cameras: Vec<_> = line.cameras.iter().map(|c| (c, &c.pack)).collect();
    let pool = rayon::ThreadPoolBuilder::new()
        .num_threads(threads)
        .build()
        .expect("threads");
    let paths = Paths { count, seed: 1 };
    let host = Host {
        workers: &Threads,
        ..Host::alone(&Disk)
    };
    pool.install(|| {
        let started = Instant::now();
        let odds = sample_line(line, &air, &cameras, paths, &host).expect("packs");
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
    let year = InMemory::default().with("year.toml", YEAR);
    let year = line::load(&year, Path::new("year.toml"));
    report("a year", &year.expect("the line is valid"));
    let examples = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples");
    for name in ["northern-winter", "southern-autumn"] {
        let file = examples.join(name).with_extension("toml");
        report(
            name,
            &line::load(&Disk, &file).expect("the example is valid"),
        );
    }
}
