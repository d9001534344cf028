//! `check`: what it finds, and what it leaves alone.

use crate::sandbox::{LINE, Sandbox};

/// Kinds of what `check` finds in the line with `more` about its camera, and all it says.
fn findings(line: &str) -> (Vec<String>, String) {
    let sandbox = Sandbox::with_line(line);
    let json = sandbox.run(&["check", "line.toml", "--json"]).json();
    let findings = json["findings"].as_array().expect("a list");
    let kinds = findings
        .iter()
        .map(|f| f["kind"].as_str().expect("a kind").to_owned());
    // Text for a person is broken into lines.
    let text = sandbox
        .run(&["check", "line.toml"])
        .good()
        .replace('\n', " ");
    for finding in findings {
        let said = finding["text"].as_str().expect("a text");
        assert!(text.contains(said), "{text}\ndoes not say: {said}");
    }
    (kinds.collect(), text)
}

/// A line with a lens that points so through a season with low sun from east over noon to west.
fn facing_line(degrees: f64, (latitude, start, end): (&str, &str, &str)) -> String {
    let mut line = format!("{LINE}facing_deg = {degrees}\n").replace("61.2", latitude);
    if latitude.starts_with('-') {
        line = line.replace("boreal-inland", "boreal-inland-south");
    }
    line.replace("2026-11-01", start).replace("2026-12-15", end)
}

fn facing(degrees: f64, place: (&str, &str, &str)) -> Vec<String> {
    let (mut kinds, _) = findings(&facing_line(degrees, place));
    kinds.retain(|kind| kind.starts_with("faces"));
    kinds
}

const NORTH: (&str, &str, &str) = ("61.2", "2027-02-15", "2027-04-15");
const SOUTH: (&str, &str, &str) = ("-43.5", "2027-05-01", "2027-09-30");

#[test]
fn facing_the_sun() {
    let (low, noon) = ("faces-rising-or-setting-sun", "faces-noon-sun");
    for (degrees, north, south) in [
        (0.0, None, Some(noon)),
        (30.0, None, Some(noon)),
        (80.0, Some(low), Some(low)),
        (270.0, Some(low), Some(low)),
        (180.0, Some(noon), None),
        (360.0, None, Some(noon)),
    ] {
        assert_eq!(facing(degrees, NORTH), Vec::from_iter(north), "{degrees}");
        let found = facing(degrees, SOUTH);
        assert_eq!(found, Vec::from_iter(south), "{degrees} in the south");
    }
    let (kinds, text) = findings(LINE);
    assert!(kinds.contains(&"facing-unknown".to_owned()), "{kinds:?}");
    assert!(text.contains("tell somebody"), "{text}");
}

#[test]
fn the_advice_on_facing_is_that_of_sun() {
    for (degrees, place) in [(80.0, NORTH), (265.0, NORTH), (10.0, SOUTH), (0.0, NORTH)] {
        let line = facing_line(degrees, place);
        let (_, text) = findings(&line);
        let sun = Sandbox::with_line(&line).run(&["sun", "line.toml", "--json"]);
        let better = sun.json()["cameras"][0]["better_facing_deg"].as_f64();
        let told = better.map(|better| format!("turned to {better:.0}° it"));
        let agrees = told.map_or(!text.contains("turned to"), |told| text.contains(&told));
        assert!(agrees, "{better:?}: {text}");
    }
}

#[test]
fn different_cells_in_one_line() {
    let line = format!("{LINE}[[camera]]\nname = \"den\"\npack = {{ cell = \"lithium-aa\" }}\n");
    let (kinds, text) = findings(&line);
    assert!(kinds.contains(&"mixed-chemistry".to_owned()), "{kinds:?}");
    assert!(text.contains("never mix"), "{text}");
}

/// Findings about a camera that faces north with such a pack and draw.
fn about(cell: &str, series: u8, draw: &str) -> Vec<String> {
    let line = LINE
        .replace("alkaline-aa", cell)
        .replace("series = 8", &format!("series = {series}"));
    let (mut kinds, _) = findings(&format!("{line}facing_deg = 0\ndraw = {{ {draw} }}\n"));
    // How long the pack lasts is another test's business.
    kinds.retain(|kind| kind != "does-not-last");
    kinds
}

#[test]
fn a_camera_that_does_not_last() {
    let (kinds, text) = findings(LINE);
    assert!(kinds.contains(&"does-not-last".to_owned()), "{kinds:?}");
    for said in [
        "ford (grave): loses its night pictures before the season's end in ",
        // The examples' cameras last longer than a day.
        " of sampled seasons (on the first day in 10 %)",
    ] {
        assert!(text.contains(said), "{text}");
    }
    let mild = LINE
        .replace("alkaline-aa", "lithium-aa")
        .replace("boreal-inland", "temperate-maritime")
        .replace("61.2", "50.2");
    let (kinds, text) = findings(&mild);
    assert!(!kinds.contains(&"does-not-last".to_owned()), "{kinds:?}");
    assert!(!text.contains("grave"), "{text}");
}

#[test]
fn figures_and_places_that_look_like_a_slip() {
    let slips = [
        (
            "name = \"ford\"",
            "name = \"ford\"\ndraw = { standby_ua = 65000 }",
            "unusual-figure",
        ),
        (
            "latitude_deg = 61.2",
            "latitude_deg = -41.2",
            "climate-of-the-other-hemisphere",
        ),
        (
            "latitude_deg = 61.2",
            "latitude_deg = 71.2",
            "climate-of-another-latitude",
        ),
        (
            "utc_offset_h = 1",
            "utc_offset_h = -7",
            "clock-far-from-sun",
        ),
    ];
    let usual = findings(LINE).0;
    for (right, slip, kind) in slips {
        let (kinds, text) = findings(&LINE.replace(right, slip));
        assert!(kinds.contains(&kind.to_owned()), "{kind}: {text}");
        assert!(!usual.contains(&kind.to_owned()), "{kind}");
    }
}

/// An EPW file of a station at 47 N and so many metres above the sea: cold in January, warm in July.
fn epw(elevation_m: i32) -> String {
    const DAYS: [u16; 12] = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];
    let mut text = format!(
        "LOCATION,A,B,C,D,1,47.1,10.2,1,{elevation_m}\nDATA PERIODS,1,1,Data,Sunday,1/1,12/31\n"
    );
    let days = (1..)
        .zip(DAYS)
        .flat_map(|(month, days)| (1..=days).map(move |day| (month, day)));
    for ((month, day), number) in days.zip(0_u16..) {
        let course = (f64::from(number) / 365.0 * std::f64::consts::TAU).cos();
        for hour in 1..=24 {
            let (swing, stray) = (f64::from(hour % 12), f64::from(day % 5));
            let (air, light) = (
                8.0 - 10.0 * course + 0.4 * swing + stray,
                200 - 200 * u16::from(hour < 12),
            );
            text += &format!(
                "1999,{month},{day},{hour},0,x,{air:.1},-5,80,99000,0,0,250,{light},0,{light}\n"
            );
        }
    }
    text
}

/// What is found about a climate of elsewhere, and all that is said, where the site has these keys
/// and the file in the folder comes from so high a station.
fn of_elsewhere(site: &str, elevation_m: i32) -> (Vec<String>, String) {
    let (_, rest) = LINE.split_once("[season]").expect("a season");
    let sandbox = Sandbox::with_line(format!("[site]\n{site}\n[season]{rest}"));
    sandbox.write("year.epw", epw(elevation_m));
    let json = sandbox.run(&["check", "line.toml", "--json"]).json();
    let findings = json["findings"].as_array().expect("a list");
    let of = |key: &str| {
        findings
            .iter()
            .map(move |f| f[key].as_str().expect("text").to_owned())
            .collect::<Vec<_>>()
    };
    let mut kinds = of("kind");
    kinds.retain(|kind| kind.starts_with("climate-of"));
    (kinds, of("text").join("\n"))
}

#[test]
fn weather_of_another_height_or_latitude() {
    let file = "weather = \"year.epw\"";
    let climate = "climate = \"temperate-inland\"\nlatitude_deg = 47.1\nlongitude_deg = 10.2\nutc_offset_h = 1";
    let (height, latitude) = ("climate-of-another-height", "climate-of-another-latitude");
    let other = "climate-of-the-other-hemisphere";
    for (site, station_m, expected) in [
        (format!("{file}\nelevation_m = 2500"), 1450, vec![height]),
        (format!("{file}\nelevation_m = 1100"), 1450, vec![height]),
        (format!("{file}\nelevation_m = 1740"), 1450, vec![]),
        (
            format!("{file}\nweather_use = \"hours\"\nelevation_m = 100"),
            1450,
            vec![height],
        ),
        (file.to_owned(), 1450, vec![]),
        (format!("{file}\nlatitude_deg = 60"), 1450, vec![latitude]),
        (format!("{file}\nlatitude_deg = 54"), 1450, vec![]),
        (format!("{file}\nlatitude_deg = -45"), 1450, vec![other]),
        (format!("{climate}\nelevation_m = 2800"), 0, vec![height]),
        (format!("{climate}\nelevation_m = 500"), 0, vec![]),
        (climate.to_owned(), 0, vec![]),
    ] {
        let (kinds, text) = of_elsewhere(&site, station_m);
        assert_eq!(kinds, expected, "{site}\n{text}");
    }
    // 2599 m and 350 m at 6.5 K a kilometre (ISO 2533, the lower atmosphere's gradient).
    let (_, text) = of_elsewhere(&format!("{climate}\nelevation_m = 2800"), 0);
    assert!(text.contains("some 17 K colder"), "{text}");
    let (_, text) = of_elsewhere(&format!("{file}\nelevation_m = 1100"), 1450);
    assert!(text.contains("some 2 K warmer"), "{text}");
}

#[test]
fn the_seasons_are_those_of_forecast() {
    let sandbox = Sandbox::with_line(LINE);
    let [check, forecast] =
        ["check", "forecast"].map(|command| sandbox.run(&[command, "line.toml", "--json"]).json());
    assert_eq!(check["paths"], forecast["paths"]);
    assert_eq!(check["seed"], forecast["seed"]);
}

#[test]
fn cut_offs() {
    let at = |volts: f64| about("nimh-aa", 8, &format!("cutoff_v = {volts}"));
    let none: [&str; 0] = [];
    assert_eq!(at(7.0), ["cut-off-under-floor"]);
    assert_eq!(at(7.2), none, "0.9 V a cell is just what it stands");
    assert_eq!(
        about("nimh-aa", 8, "supply_v = 12"),
        none,
        "0.6 of 12 V are 7.2 V"
    );
    assert_eq!(at(8.1), ["flash-cut-off-below-cut-off"]);
    let strands = about("alkaline-aa", 8, "cutoff_v = 10.0, flash_cutoff_v = 10.5");
    assert_eq!(strands, ["cut-off-strands-charge"]);
}

#[test]
fn lead_acid_in_hard_frost() {
    let kinds = about(
        "lead-acid-12v-7.2ah",
        1,
        "cutoff_v = 10.8, flash_cutoff_v = 11.0",
    );
    assert_eq!(kinds, ["lead-acid-frost"]);
    let line = LINE
        .replace("alkaline-aa", "lead-acid-12v-7.2ah")
        .replace("series = 8", "series = 1")
        .replace("boreal-inland", "temperate-maritime")
        .replace("61.2", "50.2");
    let mild =
        format!("{line}facing_deg = 0\ndraw = {{ cutoff_v = 10.8, flash_cutoff_v = 11.0 }}\n");
    assert!(findings(&mild).0.is_empty());
}
