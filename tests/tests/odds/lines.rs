//! Lines of one camera whose ends lie inside the season.

use std::path::Path;

use overwinter_line::line::{Line, load};
use overwinter_line::odds::{Kept, LineOdds, Paths, sample};
use overwinter_line::run::SeasonAir;
use overwinter_tests::surroundings::{Disk, host};

/// A place, a season, and what is particular about the camera.
pub(crate) struct Scenario {
    pub(crate) name: &'static str,
    climate: &'static str,
    latitude_deg: f64,
    /// First and last day.
    season: [&'static str; 2],
    camera: &'static str,
}

/// Cold and mild, few and many animals, every kind of end.
pub(crate) const SCENARIOS: [Scenario; 5] = [
    Scenario {
        name: "cold-stills",
        climate: "boreal-inland",
        latitude_deg: 61.2,
        season: ["2026-10-01", "2027-03-31"],
        camera: r#"pack = { cell = "alkaline-aa", series = 8 }
activity = { triggers_per_day = 8, pattern = "twilight" }"#,
    },
    Scenario {
        name: "frost-video",
        climate: "temperate-inland",
        latitude_deg: 42.0,
        season: ["2026-10-01", "2027-03-31"],
        camera: r#"pack = { cell = "lithium-aa", series = 8 }
activity = { triggers_per_day = 60, pattern = "night" }
draw = { kind = "video" }
settings = { shots = 1, video_s = 10 }"#,
    },
    Scenario {
        name: "mild-busy",
        climate: "temperate-warm",
        latitude_deg: 36.0,
        season: ["2026-09-01", "2028-06-30"],
        camera: r#"pack = { cell = "alkaline-aa", series = 8 }
activity = { triggers_per_day = 40, pattern = "night" }"#,
    },
    Scenario {
        name: "maritime-radio",
        climate: "temperate-maritime",
        latitude_deg: 48.0,
        season: ["2026-09-01", "2028-06-30"],
        camera: r#"pack = { cell = "alkaline-aa", series = 8 }
activity = { triggers_per_day = 25 }
draw = { kind = "stills-cat1" }
settings = { upload = "daily" }"#,
    },
    Scenario {
        name: "rechargeable",
        climate: "temperate-warm",
        latitude_deg: 36.0,
        season: ["2026-10-01", "2027-05-31"],
        camera: r#"pack = { cell = "nimh-aa", series = 8 }
activity = { triggers_per_day = 40, pattern = "twilight" }
draw = { kind = "video" }
settings = { shots = 1, video_s = 10 }"#,
    },
];

impl Scenario {
    /// The line, as if from a file.
    pub(crate) fn line(&self) -> Line {
        let Self {
            name,
            climate,
            latitude_deg,
            season: [start, end],
            camera,
        } = self;
        let text = format!(
            "[site]\nlatitude_deg = {latitude_deg}\nlongitude_deg = 15\nutc_offset_h = 1\n\
             climate = \"{climate}\"\n[season]\nstart = {start}\nend = {end}\n\
             [[camera]]\nname = \"{name}\"\n{camera}\n"
        );
        line_of(name, &text)
    }
}

/// The line of a file with this text.
pub(crate) fn line_of(name: &str, text: &str) -> Line {
    // Tests run side by side: each writes its own.
    let thread = std::thread::current();
    let test = thread.name().unwrap_or("test").replace("::", "-");
    let path = Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("{test}-{name}.toml"));
    std::fs::write(&path, text).unwrap_or_else(|why| panic!("{why}"));
    load(&Disk, &path).unwrap_or_else(|why| panic!("{name}: {why:?}"))
}

/// All cameras of a line on their own packs, with what became of each path.
pub(crate) fn sampled(line: &Line, count: u32, seed: u64) -> LineOdds {
    let cameras: Vec<_> = line
        .cameras
        .iter()
        .map(|camera| (camera, &camera.pack))
        .collect();
    let paths = Paths { count, seed };
    let all: Vec<usize> = (0..cameras.len()).collect();
    let kept = Kept {
        paths: true,
        cameras: &all,
        ..Kept::default()
    };
    sample(line, &SeasonAir::new(line), &cameras, paths, kept, &host())
        .unwrap_or_else(|why| panic!("{why}"))
}
