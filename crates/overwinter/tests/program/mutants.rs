//! Line files with slips of every kind, each through every command. `OVERWINTER_MUTANTS` asks for so many
//! files in place of a few.

use std::time::Duration;

use proptest::collection::vec;
use proptest::prelude::*;
use proptest::sample::Index;
use proptest::test_runner::TestRunner;

use crate::every_command::hold;
use crate::sandbox::{LINE, Sandbox};

const BASES: [&str; 5] = [
    LINE,
    include_str!("../../../../examples/first-camera.toml"),
    include_str!("../../../../examples/northern-winter.toml"),
    include_str!("../../../../examples/southern-autumn.toml"),
    include_str!("../../../../examples/alpine-pass.toml"),
];

/// Files that are tried unless others are asked for.
const FEW: u32 = 8;

/// What stands in a value's place.
const OTHER_VALUES: [&str; 28] = [
    "\"text\"",
    "true",
    "[1, 2]",
    "2026-01-01",
    "{ a = 1 }",
    "''",
    "[]",
    "07:30:00",
    "1e308",
    "9e99",
    "99999999999999999999",
    "1e6",
    "40000",
    "1000",
    "1e-300",
    "0",
    "-0.0",
    "1e-9",
    "0.001",
    "-1",
    "nan",
    "inf",
    "-inf",
    "\"\\u001b[2J\"",
    "\"\\u202egate\"",
    "\"=1+1\"",
    "\"a,b\\\"c\"",
    "\"\\uFFFE\"",
];

/// What gets between the letters of a file.
const ODD: [&str; 20] = [
    "\u{0}",
    "\u{1b}[2J",
    "\u{9b}",
    "\u{7f}",
    "\u{202e}",
    "\u{fffe}",
    "\u{feff}",
    "\u{e4}",
    "\u{6f22}",
    "\u{1f98c}",
    "\t",
    "\r",
    "\r\n",
    "\u{201c}",
    "'",
    "\"",
    "[",
    "]",
    "=",
    "#",
];

/// One slip: what is done, and three places or choices for it.
type Slip = (u8, Index, Index, Index);

fn with_slip(text: &str, (kind, at, more, choice): &Slip) -> String {
    let mut lines: Vec<String> = text.lines().map(str::to_owned).collect();
    if lines.is_empty() {
        return text.to_owned();
    }
    let (here, there) = (at.index(lines.len()), more.index(lines.len()));
    match kind {
        0 => drop(lines.remove(here)),
        1 => lines.insert(there, lines[here].clone()),
        2 => lines.swap(here, there),
        3 => lines.truncate(here),
        4 => {
            let name = lines[here].find([' ', '=', ']']).unwrap_or(0);
            lines[here].insert(name, 'x');
        }
        5..=8 => {
            let values: Vec<usize> = (0..lines.len())
                .filter(|line| lines[*line].contains('='))
                .collect();
            if !values.is_empty() {
                let line = &mut lines[values[at.index(values.len())]];
                let value = line.find('=').unwrap_or(0) + 1;
                line.replace_range(
                    value..,
                    &format!(" {}", OTHER_VALUES[choice.index(OTHER_VALUES.len())]),
                );
            }
        }
        9 => lines[here] = shifted(&lines[here]),
        _ => {
            let line = &mut lines[here];
            let places: Vec<usize> = line.char_indices().map(|(place, _)| place).collect();
            if !places.is_empty() {
                line.insert_str(
                    places[more.index(places.len())],
                    ODD[choice.index(ODD.len())],
                );
            }
        }
    }
    lines.join("\n") + "\n"
}

/// A line whose first decimal point, or end of a number, is three digits further on.
fn shifted(line: &str) -> String {
    match line.find(|c: char| c.is_ascii_digit()) {
        Some(digit) => format!("{}000{}", &line[..=digit], &line[digit + 1..]),
        None => line.to_owned(),
    }
}

#[test]
fn every_command_takes_or_refuses_a_file_with_slips() {
    let asked = std::env::var("OVERWINTER_MUTANTS").ok();
    let cases = asked.map_or(FEW, |count| count.parse().expect("a number of files"));
    let config = ProptestConfig {
        cases,
        max_shrink_iters: 0,
        failure_persistence: None,
        ..ProptestConfig::default()
    };
    let slip = (0..14_u8, any::<Index>(), any::<Index>(), any::<Index>());
    let longest = std::cell::Cell::new(Duration::ZERO);
    let tried = TestRunner::new(config).run(&(0..BASES.len(), vec(slip, 1..4)), |(base, slips)| {
        let text = slips
            .iter()
            .fold(BASES[base].to_owned(), |text, slip| with_slip(&text, slip));
        let took = hold(&Sandbox::with_line(&text), &text);
        longest.set(longest.get().max(took));
        Ok(())
    });
    println!(
        "{cases} files, the longest run {:.1} s",
        longest.get().as_secs_f64()
    );
    if let Err(why) = tried {
        panic!("{why}");
    }
}
