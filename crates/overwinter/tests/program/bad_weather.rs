//! Weather that is missing, broken or given twice: told at its key in the line file, with the place
//! in the weather file.

use crate::sandbox::{LINE, Sandbox};

/// The line with another source of temperatures.
fn with_source(source: &str) -> String {
    LINE.replace("climate = \"boreal-inland\"", source)
}

/// Runs the line with that weather file, which must be refused at its key.
#[track_caller]
fn refused(bytes: &[u8], says: &[&str]) {
    let sandbox = Sandbox::with_line(with_source("weather = \"year.epw\""));
    sandbox.write("year.epw", bytes);
    let said = sandbox.run(&["forecast", "line.toml"]).refused();
    for words in says.iter().chain(&["line.toml:5:11\n", "expected "]) {
        assert!(said.contains(words), "{said}\ndoes not say: {words}");
    }
    assert_eq!(sandbox.names(), ["line.toml", "year.epw"]);
}

/// An EPW file's first `hours` hours, with `air` as the temperature of the last.
fn epw(hours: usize, air: &str) -> Vec<u8> {
    let mut text =
        "LOCATION,A,B,C,D,1,61.2,14.6,1,300\nDATA PERIODS,1,1,Data,Sunday,1/1,12/31\n".to_owned();
    for hour in 0..hours {
        let air = if hour + 1 == hours { air } else { "-3.0" };
        let (day, hour) = (1 + hour / 24, 1 + hour % 24);
        text += &format!("1999,1,{day},{hour},0,x,{air},-5,80,99000,0,0,250,0,0,0\n");
    }
    text.into_bytes()
}

#[test]
fn files_that_are_no_weather() {
    refused(b"", &["year.epw: the file is empty", "an EPW file"]);
    refused(
        &[0, 159, 146, 150, 7],
        &["year.epw: this is a binary file", "an EPW file"],
    );
    refused(b"<html>not found</html>", &["year.epw: this is a web page"]);
    refused(
        b"PK\x03\x04",
        &["year.epw: this is a zip archive; unpack it first"],
    );
}

#[test]
fn a_broken_year_is_told_with_its_place() {
    refused(
        &epw(30, "warm"),
        &["year.epw:32:", "`warm` is not a number", "air temperature"],
    );
    refused(&epw(30, "80"), &["year.epw:32:16: ", "-90 to 60"]);
    refused(&epw(30, "-3.0"), &["year.epw", "8760"]);
    let mut cut = epw(30, "-3.0");
    cut.truncate(cut.len() - 20);
    refused(&cut, &["year.epw:32"]);
}

#[test]
fn temperatures_in_other_units() {
    let kelvin = "this looks like kelvin: take 273.15 off";
    let fahrenheit = "this looks like degrees Fahrenheit: take 32 off and divide by 1.8";
    for (air, says) in [
        ("263.15", kelvin),
        ("200", kelvin),
        ("60.1", fahrenheit),
        ("95", fahrenheit),
    ] {
        let beyond = format!("air temperature of {air} is beyond belief");
        refused(&epw(30, air), &["year.epw:32:16: ", &beyond, says]);
    }
    // Codes for "missing" are no temperatures.
    for missing in ["99.9", "999", "9999", "-9999", ""] {
        refused(&epw(30, missing), &["year.epw:32: the file ends after 30"]);
    }
}

#[test]
fn decimal_commas() {
    let point = "decimals with a point, without quotes: -3.5";
    let comma = "\"-3,5\" has a decimal comma";
    refused(&epw(30, "\"-3,5\""), &["year.epw:32:16: ", comma, point]);
    let tmy3 = "1,\"NOWHERE, INLAND\",XX,1,61.2,14.6,201\n\
        Date (MM/DD/YYYY),Time (HH:MM),GHI (W/m^2),DNI (W/m^2),DHI (W/m^2),Dry-bulb (C)\n\
        01/01/1999,01:00,0,0,0,";
    let quoted = format!("{tmy3}\"-3,5\"\n");
    refused(
        quoted.as_bytes(),
        &["year.epw:3:24: ", "-3,5 has a decimal comma", point],
    );
    let bare = format!("{tmy3}-3,5\n");
    let says = [
        "year.epw:3: the line has 7 fields",
        "at most 6: write decimals",
        "a point",
    ];
    refused(bare.as_bytes(), &says);
    // Commas behind the last field are none.
    let blank = format!("{tmy3}-3.5,,\n");
    refused(blank.as_bytes(), &["year.epw:3: the file ends after 1 of"]);
}

#[test]
fn a_height_that_no_place_has() {
    let year = String::from_utf8(epw(30, "-3.0")).expect("text");
    for height in ["-9999", "-441", "9999", "29032"] {
        let wrong = year.replacen(",1,300\n", &format!(",1,{height}\n"), 1);
        let stands = format!("the station stands {height} m above the sea");
        refused(
            wrong.as_bytes(),
            &["year.epw:1:32: ", &stands, "-440 to 8850"],
        );
    }
    for height in ["-438", "8848.9"] {
        let right = year.replacen(",1,300\n", &format!(",1,{height}\n"), 1);
        refused(right.as_bytes(), &["year.epw:32: the file ends after 30"]);
    }
}

#[test]
fn lines_that_are_too_long() {
    let header = epw(0, "");
    for filling in [",", "x", "\"a1,", "1,2,"] {
        let mut bytes = header.clone();
        bytes.extend(filling.repeat(100_000 / filling.len()).bytes());
        refused(
            &bytes,
            &["year.epw:3: the line has 100000 bytes", "at most 8192"],
        );
    }
    let mut comment = b"LOCATION,A,B,C,D,1,61.2,14.6,1,300\nCOMMENTS 1,".to_vec();
    comment.extend("a word ".repeat(1_000).bytes());
    refused(&comment, &["year.epw: the header does not end"]);
    // A quotation mark that is never closed ends with its line.
    let open = "1,\"NOWHERE,XX,1,61.2,14.6,201\nDate (MM/DD/YYYY),Time (HH:MM),Dry-bulb (C)\n";
    refused(open.as_bytes(), &["year.epw:1:"]);
}

/// Files just under the limit, with lines that would take ten times their bytes as fields.
#[test]
#[cfg(target_os = "linux")]
fn a_huge_file_takes_little_more_memory_than_its_size() {
    for filling in [",", "\n", "\r", "\"a1,"] {
        let sandbox = Sandbox::with_line(with_source("weather = \"year.epw\""));
        let mut bytes = epw(0, "");
        bytes.extend(filling.repeat(60_000_000 / filling.len()).bytes());
        sandbox.write("year.epw", bytes);
        let answer = sandbox.run_within(250, &["check", "line.toml"]);
        assert!(answer.refused().contains("year.epw"), "{filling:?}");
    }
}

#[test]
fn files_that_cannot_be_read() {
    for name in ["missing.epw", "."] {
        let text = with_source(&format!("weather = \"{name}\""));
        let said = Sandbox::with_line(text)
            .run(&["check", "line.toml"])
            .refused();
        assert!(
            said.contains(&format!("{name}: the file cannot be read")),
            "{said}"
        );
        assert!(said.contains("line.toml:5:11"), "{said}");
        assert!(said.contains("taken from the line file's folder"), "{said}");
    }
}

#[test]
fn a_weather_file_is_found_beside_the_line_file() {
    let sandbox = Sandbox::new();
    std::fs::create_dir(sandbox.path().join("north")).expect("a folder");
    sandbox.write("north/line.toml", with_source("weather = \"year.epw\""));
    sandbox.write("north/year.epw", "");
    let said = sandbox.run(&["check", "north/line.toml"]).refused();
    assert!(said.contains("north/year.epw: the file is empty"), "{said}");
}

/// Asserts that such a `[site]` is refused at that line and column.
#[track_caller]
fn site_refused(source: &str, place: &str, says: &str) {
    let said = Sandbox::with_line(with_source(source))
        .run(&["forecast", "line.toml"])
        .refused();
    assert!(said.contains(&format!("line.toml:{place}\n")), "{said}");
    assert!(said.contains(says), "{said}");
}

#[test]
fn one_source_of_temperatures() {
    site_refused("", "1:1", "expected `weather`, `climate` or [site.normals]");
    let both = "climate = \"boreal-inland\"\nweather = \"year.epw\"";
    site_refused(both, "6:11", "expected only one of");
    let typo = "climate = \"boreal-inlnd\"";
    site_refused(typo, "5:11", "did you mean `boreal-inland`?");
    let alone = "climate = \"boreal-inland\"\nweather_use = \"hours\"";
    site_refused(alone, "6:15", "without a weather file");
    site_refused(
        "weather = \"x.epw\"\nweather_use = \"hourly\"",
        "6:15",
        "expected",
    );
}

#[test]
fn normals_are_twelve_of_each() {
    let eleven = "[1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11]";
    let twelve = "[1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12]";
    let normals = |mean: &str| {
        format!("[site.normals]\nmean_c = {mean}\ndaily_max_c = {twelve}\ndaily_min_c = {twelve}")
    };
    site_refused(&normals(eleven), "6:10", "`mean_c` has 11 values");
    site_refused(
        &normals(&twelve.replace("7", "nan")),
        "6:10",
        "`mean_c` holds NaN",
    );
    site_refused(
        &normals(&twelve.replace("7", "\"7\"")),
        "6:29",
        "write it without quotes: 7",
    );
    site_refused(
        &normals(&twelve.replace("7", "40")),
        "6:10",
        "these temperatures",
    );
    site_refused(
        "[site.normals]\nmean_c = []",
        "5:1",
        "`daily_max_c` is missing",
    );
    let spread = |more: &str| format!("{}\n{more}", normals(twelve));
    site_refused(
        &spread("daily_sd_c = [4]"),
        "9:14",
        "`daily_sd_c` has 1 value",
    );
    site_refused(&spread("persistence = 1.2"), "9:15", "expected 0 to 0.95");
    site_refused(&spread("winters_sd_c = -1"), "9:16", "expected 0 to 8");
}
