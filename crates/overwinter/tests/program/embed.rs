//! `embed`: a blob is written whole or not at all, and says what it holds.

use std::path::Path;

use overwinter_model::blob::decode;
use overwinter_model::installation::Installation;
use overwinter_model::season::run;
use serde_json::Value;

use crate::sandbox::{LINE, Sandbox};

const EXAMPLES: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../../examples");

/// A blob of an ordinary camera is to fit into a kilobyte.
const MOST_BYTES: usize = 1024;

fn bytes(sandbox: &Sandbox, name: &str) -> Vec<u8> {
    std::fs::read(sandbox.path().join(name)).expect("the blob")
}

/// Every camera of every example: the line file, its name and its forecast.
fn cameras() -> Vec<(String, Value)> {
    let entries = std::fs::read_dir(EXAMPLES).expect("the examples");
    let mut cameras = Vec::new();
    for entry in entries {
        let path = entry.expect("an entry").path();
        let path = path.to_str().expect("a path in UTF-8").to_owned();
        if Path::new(&path)
            .extension()
            .is_none_or(|ending| ending != "toml")
        {
            continue;
        }
        let args = ["forecast", &path, "--expected", "--json"];
        let forecast = Sandbox::new().run(&args).json();
        for camera in forecast["cameras"].as_array().expect("cameras") {
            cameras.push((path.clone(), camera.clone()));
        }
    }
    assert!(cameras.len() > 5);
    cameras
}

/// The blob of a camera, as it was written and as it is read.
fn embedded(line: &str, camera: &str) -> (Vec<u8>, Installation) {
    let sandbox = Sandbox::new();
    let args = ["embed", line, "--camera", camera, "-o", "camera.owb"];
    sandbox.run(&args).good();
    let bytes = bytes(&sandbox, "camera.owb");
    let holds = decode(&bytes).expect("a blob");
    (bytes, holds)
}

#[test]
fn every_cameras_blob_is_small_and_lasts_as_long_as_the_forecast_says() {
    for (line, forecast) in cameras() {
        let name = forecast["name"].as_str().expect("a name");
        let (bytes, holds) = embedded(&line, name);
        println!("{name}: {} bytes", bytes.len());
        assert!(bytes.len() <= MOST_BYTES, "{name}: {} bytes", bytes.len());
        let outcome = run(&holds.scenario, holds.hours(), 1, |_| {});
        let told = forecast["days_expected"].as_f64().expect("days");
        let days = outcome.followed.as_days();
        // The forecast's days are rounded to hundredths.
        assert!((days - told).abs() < 0.0051, "{name}: {days}, told {told}");
    }
}

#[test]
fn what_is_written_is_what_is_shown() {
    let sandbox = Sandbox::with_line(LINE);
    let written = sandbox
        .run(&["embed", "line.toml", "-o", "ford.owb"])
        .good();
    let shown = sandbox.run(&["embed", "--show", "ford.owb"]).good();
    assert_eq!(written, shown);
    insta::assert_snapshot!("embed-show", shown);
    let written = sandbox.run(&["embed", "line.toml", "-o", "ford.owb", "--json"]);
    let json = sandbox
        .run(&["embed", "--show", "ford.owb", "--json"])
        .good();
    assert_eq!(written.good(), json);
    insta::assert_snapshot!("embed-show-json", json);
    assert_eq!(sandbox.names(), ["ford.owb", "line.toml"]);
}

#[test]
fn everything_a_camera_can_have_is_shown() {
    let line = LINE.to_owned()
        + "[camera.draw]\nkind = \"stills-catm1\"\n[camera.settings]\n\
           upload = \"daily\"\nupload_hour = 12\ncard_gb = 16\n";
    let sandbox = Sandbox::with_line(line);
    let shown = sandbox
        .run(&["embed", "line.toml", "-o", "ford.owb"])
        .good();
    insta::assert_snapshot!("embed-show-all", shown);
}

#[test]
fn the_camera_must_be_named_where_there_are_several() {
    let line = format!("{LINE}[[camera]]\nname = \"ridge\"\n");
    let sandbox = Sandbox::with_line(line);
    let said = sandbox
        .run(&["embed", "line.toml", "-o", "x.owb"])
        .refused();
    assert!(said.contains("the line has 2"), "{said}");
    assert!(said.contains("one of: ford, ridge"), "{said}");
    let args = ["embed", "line.toml", "-o", "x.owb", "--camera", "rigde"];
    let said = sandbox.run(&args).refused();
    assert!(said.contains("ridge"), "{said}");
    assert_eq!(sandbox.names(), ["line.toml"]);
}

#[test]
fn a_replayed_year_is_refused_and_told_what_to_do() {
    let year = concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/../../tests/data/climate/greensboro-tmy3.csv"
    );
    let sandbox = Sandbox::new();
    std::fs::copy(year, sandbox.path().join("year.csv")).expect("a year");
    let climate = "climate = \"boreal-inland\"";
    let replayed = "weather = \"year.csv\"\nweather_use = \"hours\"";
    sandbox.write("line.toml", LINE.replace(climate, replayed));
    let said = sandbox
        .run(&["embed", "line.toml", "-o", "x.owb"])
        .refused();
    assert!(said.contains("year.csv"), "{said}");
    assert!(said.contains("weather_use = \"normals\""), "{said}");
    assert_eq!(sandbox.names(), ["line.toml", "year.csv"]);
    // And that is good advice.
    let reduced = replayed.replace("hours", "normals");
    sandbox.write("line.toml", LINE.replace(climate, &reduced));
    sandbox.run(&["embed", "line.toml", "-o", "x.owb"]).good();
}

#[test]
fn no_file_of_another_kind_is_written_over() {
    let sandbox = Sandbox::with_line(LINE);
    let said = sandbox
        .run(&["embed", "line.toml", "-o", "line.toml"])
        .refused();
    assert!(said.contains("a file that this run reads"), "{said}");
    assert_eq!(bytes(&sandbox, "line.toml"), LINE.as_bytes());
    // A damaged blob may be.
    sandbox.write("x.owb", b"OWBL\x01");
    sandbox.run(&["embed", "line.toml", "-o", "x.owb"]).good();
}

#[test]
fn a_spoilt_blob_is_refused_with_what_is_wrong() {
    let sandbox = Sandbox::with_line(LINE);
    sandbox.run(&["embed", "line.toml", "-o", "x.owb"]).good();
    let good = bytes(&sandbox, "x.owb");
    let refused = |bytes: &[u8], says: &[&str]| {
        sandbox.write("x.owb", bytes);
        let said = sandbox.run(&["embed", "--show", "x.owb"]).refused();
        for words in says {
            assert!(said.contains(words), "{said}\ndoes not say: {words}");
        }
    };
    let size = good.len().to_string();
    refused(b"", &["not a blob", "OWBL"]);
    refused(LINE.as_bytes(), &["not a blob"]);
    refused(&good[..good.len() - 1], &["cut short", &size]);
    refused(&[&good[..], b"\n"].concat(), &["longer", &size]);
    let mut flipped = good.clone();
    flipped[100] ^= 4;
    refused(&flipped, &["damaged", "checksum"]);
    let (newer, nonsense) = (resealed(&good, 4, 9), resealed(&good, 8, 200));
    refused(&newer, &["newer", "version 9", "version 2"]);
    refused(&nonsense, &["byte 10"]);
    let said = sandbox.run(&["embed", "--show", "none.owb"]).refused();
    assert!(said.contains("cannot be read"), "{said}");
}

/// The blob with another byte and the checksum that belongs to it.
fn resealed(blob: &[u8], place: usize, value: u8) -> Vec<u8> {
    let mut blob = blob[..blob.len() - 4].to_vec();
    blob[place] = value;
    let checksum = crc32(&blob);
    blob.extend(checksum.to_le_bytes());
    blob
}

/// CRC-32 bit by bit, by its definition: reflected, polynomial 04c11db7.
fn crc32(bytes: &[u8]) -> u32 {
    !bytes.iter().fold(!0, |crc, byte| {
        (0..8).fold(crc ^ u32::from(*byte), |crc, _| {
            (crc >> 1) ^ (0xedb8_8320 * (crc & 1))
        })
    })
}

#[test]
fn a_place_that_cannot_be_written_is_told() {
    let sandbox = Sandbox::with_line(LINE);
    let answer = sandbox.run(&["embed", "line.toml", "-o", "none/x.owb"]);
    assert_eq!(answer.code, Some(1), "{}", answer.err);
    assert!(
        answer.err.contains("its folder is not there"),
        "{}",
        answer.err
    );
    assert_eq!(sandbox.names(), ["line.toml"]);
}
