//! Whatever stands in a line file: it is read or refused, and no part of the program panics.

use std::path::Path;

use overwinter::command::{check, forecast};
use overwinter::host::host;
use overwinter_line::answer;
use overwinter_line::answer::check::CheckRequest;
use overwinter_line::answer::forecast::ForecastRequest;
use overwinter_line::answer::request::LineRequest;
use overwinter_line::host::InMemory;
use overwinter_line::line::{self, Line};
use overwinter_line::odds::Paths;
use overwinter_line::problem::Failure;
use proptest::collection::vec;
use proptest::prelude::*;
use proptest::sample::Index;

use crate::sandbox::LINE;

const EXAMPLES: [&str; 4] = [
    include_str!("../../../../examples/first-camera.toml"),
    include_str!("../../../../examples/northern-winter.toml"),
    include_str!("../../../../examples/southern-autumn.toml"),
    include_str!("../../../../examples/alpine-pass.toml"),
];

/// What gets into a line file by mistake, or in place of something else.
const SCRAPS: [&str; 20] = [
    "",
    "\n",
    "\"",
    "[",
    "]]",
    "{",
    "}",
    "=",
    ",",
    "#",
    "nan",
    "-inf",
    "0",
    "-1",
    "1e308",
    "\u{e4}",
    "\r\n",
    "[[camera]]\n",
    "2026-02-29",
    "\"\"\"",
];

/// Numbers at and beyond the ends of what is accepted.
const NUMBERS: [&str; 16] = [
    "0", "-0.0", "1", "-1", "0.0001", "1e-300", "24", "30", "90", "-90", "180", "288", "300",
    "1000", "5000", "10000",
];

fn load(text: impl Into<Vec<u8>>) -> Result<Line, Failure> {
    let files = InMemory::default().with("line.toml", text);
    let loaded = line::load(&files, Path::new("line.toml"));
    if let Err(failure) = &loaded {
        // Places must be within the text, and between its characters.
        assert!(failure.render(false).starts_with("error: "));
        assert!(!failure.render(true).is_empty());
        assert!(failure.is_of_input());
    }
    loaded
}

/// A text with some of its pieces put in place of others.
fn mutated(text: &str, changes: &[(Index, usize, Index)]) -> String {
    let mut characters: Vec<char> = text.chars().collect();
    for (at, removed, scrap) in changes {
        let at = at.index(characters.len() + 1);
        let end = characters.len().min(at + removed);
        characters.splice(at..end, SCRAPS[scrap.index(SCRAPS.len())].chars());
    }
    characters.into_iter().collect()
}

/// The line with every figure that a camera can have, for numbers to be changed.
fn every_figure() -> String {
    format!(
        "{LINE}facing_deg = 8\n\
         draw = {{ kind = \"stills-cat1\", cutoff_v = 7.2, flash_cutoff_v = 8.0, standby_mw = 0.6, \
         first_still_s = 2, first_flash_s = 0.3, next_still_s = 0.7, next_flash_s = 0.1, flash_w = 9, \
         session_s = 25, data_s_per_mb = 8, check_in_s = 25 }}\n\
         pack = {{ parallel = 1, stored_months = 6 }}\n\
         settings = {{ shots = 3, video_s = 10, quiet_s = 30, flash_pct = 100, \
         flash_below_sun_deg = 0, scheduled_per_day = 1, upload_pictures = 1, upload_mb = 0.1, \
         check_ins_per_day = 1, card_gb = 1 }}\n\
         panel = {{ watts = 3, tilt_deg = 60, azimuth_deg = 180, trees_pct = 30, horizon_deg = 5, \
         dirt_pct = 3, controller_pct = 90, store_wh = 20, store_pct = 90, lag_h = 2 }}\n"
    )
}

/// The text with the number behind its `which`-th ` = ` replaced, if there is a number.
fn renumbered(text: &str, which: &Index, number: &str) -> String {
    let places: Vec<usize> = text.match_indices(" = ").map(|(at, _)| at + 3).collect();
    let at = *which.get(&places);
    let digits = |c: char| !(c.is_ascii_digit() || c == '.');
    let length = text[at..].find(digits).unwrap_or_default();
    // A date's first digits are followed by a dash.
    if length == 0 || text[at + length..].starts_with('-') {
        return text.to_owned();
    }
    format!("{}{number}{}", &text[..at], &text[at + length..])
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(256))]

    #[test]
    fn arbitrary_bytes(bytes in vec(any::<u8>(), 0..300)) {
        // So short a text is never a whole line.
        prop_assert!(load(bytes).is_err());
    }

    #[test]
    fn spoilt_examples(
        example in 0..EXAMPLES.len(),
        changes in vec((any::<Index>(), 0..12_usize, any::<Index>()), 1..6),
    ) {
        if let Ok(line) = load(mutated(EXAMPLES[example], &changes)) {
            let request = CheckRequest {
                line: LineRequest { path: line.path.clone(), cameras: Vec::new() },
                paths: Paths { count: 3, seed: 1 },
            };
            let found = answer::check::answer(&line, &request, &host()).expect("it may be sampled");
            prop_assert!(!check::text(&found).is_empty());
        }
    }

    #[test]
    fn numbers_at_their_ends(changes in vec((any::<Index>(), any::<Index>()), 1..4)) {
        let mut text = every_figure();
        for (which, number) in &changes {
            text = renumbered(&text, which, NUMBERS[number.index(NUMBERS.len())]);
        }
        let Ok(line) = load(text.as_str()) else { return Ok(()) };
        let request = ForecastRequest {
            line: LineRequest { path: line.path.clone(), cameras: Vec::new() },
            paths: Some(Paths { count: 3, seed: 1 }),
            by: Vec::new(),
            course: None,
        };
        let told = answer::forecast::answer(&line, &request, &host()).expect("a line that may be run");
        let text_answer = forecast::text(&told);
        prop_assert!(!text_answer.contains("NaN") && !text_answer.contains("inf "), "{}", text);
        let json = forecast::json(&told);
        // A number that is not finite is null in JSON, and so are absent dates.
        let nulls = json.lines().filter(|line| line.ends_with("null") || line.ends_with("null,"));
        for null in nulls {
            let absent = [
                "_on\":", "_days\":", "_reason\":", "_lost\":", "first_end\":", "panel\":", "_p10\":", "_p50\":", "_p90\":",
            ];
            prop_assert!(absent.iter().any(|key| null.contains(key)), "{}\n{}", null, text);
        }
    }
}

#[test]
fn the_line_with_every_figure_is_read() {
    load(every_figure()).expect("a line that may be run");
}
