//! Inputs that can be read and were hardly meant so: `check` finds them, every other command warns of
//! them beside its answer, and what is right is left alone.

use std::path::Path;

use crate::sandbox::{LINE, Sandbox};

/// A sound weather file: a typical year of the United States' south-east, TMY3.
fn sound_year() -> String {
    let path = concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/../../tests/data/climate/greensboro-tmy3.csv"
    );
    std::fs::read_to_string(path).expect("a year")
}

/// The sound year with its rows changed; columns go by the start of their names.
fn year_with(change: impl Fn(&mut Vec<String>, &dyn Fn(&str) -> usize)) -> String {
    let year = sound_year();
    let mut lines = year.lines();
    let head: Vec<&str> = lines.by_ref().take(2).collect();
    let names: Vec<&str> = head[1].split(',').collect();
    let column = |start: &str| {
        let found = names.iter().position(|name| name.starts_with(start));
        found.expect("a column")
    };
    let rows = lines.map(|line| {
        let mut fields: Vec<String> = line.split(',').map(str::to_owned).collect();
        change(&mut fields, &column);
        fields.join(",")
    });
    let rows: Vec<String> = rows.collect();
    format!("{}\n{}\n", head.join("\n"), rows.join("\n"))
}

fn swapped(one: &str, other: &str) -> String {
    year_with(|fields, column| fields.swap(column(one), column(other)))
}

/// The line with that source of temperatures in place of place and climate.
fn with_site(site: &str) -> String {
    let (_, rest) = LINE.split_once("[season]").expect("a season");
    format!("[site]\n{site}\n[season]{rest}")
}

fn with_year(year: &str, use_: &str) -> Sandbox {
    let site = format!("weather = \"year.csv\"\nweather_use = \"{use_}\"");
    let sandbox = Sandbox::with_line(with_site(&site));
    sandbox.write("year.csv", year);
    sandbox
}

/// A line with twelve monthly means and days that swing by `swing_c` to either side.
fn with_normals(latitude: f64, means: [f64; 12], swing_c: f64) -> Sandbox {
    let list = |change: f64| {
        let values: Vec<String> = means.iter().map(|c| format!("{:.1}", c + change)).collect();
        values.join(", ")
    };
    Sandbox::with_line(with_site(&format!(
        "latitude_deg = {latitude}\nlongitude_deg = 14.6\nutc_offset_h = 1\n[site.normals]\n\
         mean_c = [{}]\ndaily_max_c = [{}]\ndaily_min_c = [{}]",
        list(0.0),
        list(swing_c),
        list(-swing_c)
    )))
}

/// Kinds of the findings that are about inputs, in their order.
fn found(sandbox: &Sandbox) -> Vec<String> {
    const KINDS: [&str; 8] = [
        "clock-far-from-sun",
        "climate-of-the-other-hemisphere",
        "warmest-month-in-winter",
        "temperatures-in-fahrenheit",
        "daily-range-too-wide",
        "dew-point-above-air",
        "light-does-not-add-up",
        "percent-given-as-share",
    ];
    let json = sandbox.run(&["check", "line.toml", "--json"]).json();
    let findings = json["findings"].as_array().expect("a list");
    let kinds = findings.iter().map(|f| f["kind"].as_str().expect("a kind"));
    let kinds = kinds.filter(|kind| KINDS.contains(kind));
    kinds.map(str::to_owned).collect()
}

/// Asserts that `check` finds this kind alone, that the mean season's forecast warns of it once in the
/// same words, and that these words say all of `says`.
#[track_caller]
fn doubted(sandbox: &Sandbox, kind: &str, says: &[&str]) {
    assert_eq!(found(sandbox), [kind]);
    let answer = sandbox.run(&["forecast", "line.toml", "--expected"]);
    assert_eq!(answer.code, Some(0), "{}", answer.err);
    assert!(!answer.out.contains("warning"), "{}", answer.out);
    assert_eq!(answer.err.matches("warning: ").count(), 1, "{}", answer.err);
    for words in says {
        assert!(
            answer.err.contains(words),
            "{}\ndoes not say: {words}",
            answer.err
        );
    }
}

/// Asserts that nothing is found, nor warned of.
#[track_caller]
fn trusted(sandbox: &Sandbox) {
    assert!(found(sandbox).is_empty(), "{:?}", found(sandbox));
    sandbox.run(&["forecast", "line.toml", "--expected"]).good();
}

#[test]
fn what_is_right_is_trusted() {
    trusted(&Sandbox::with_line(LINE));
    for use_ in ["normals", "hours"] {
        trusted(&with_year(&sound_year(), use_));
    }
    // Files that are too big to be kept beside the tests, where they are at hand.
    let shared = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../../shared/reference/climate");
    for name in ["chicago-tmy3.epw", "po-valley-45n8e.epw"] {
        match std::fs::read_to_string(shared.join(name)) {
            Ok(year) => trusted(&with_year(&year, "normals")),
            Err(_) => println!("skipped: {name} is not here"),
        }
    }
}

#[test]
fn every_command_warns_and_answers_as_ever() {
    let right = Sandbox::with_line(LINE);
    let wrong = Sandbox::with_line(LINE.replace("utc_offset_h = 1", "utc_offset_h = 12"));
    for args in [
        &["forecast", "line.toml", "--paths", "20"][..],
        &[
            "compare",
            "line.toml",
            "--cells",
            "alkaline-aa",
            "--paths",
            "20",
        ],
        &["sweep", "line.toml", "--vary", "shots=1,2", "--paths", "20"],
        &["settings", "line.toml", "--paths", "20"],
        &["solar", "line.toml", "--paths", "20"],
        &["revisit", "line.toml", "--risk", "10%", "--paths", "20"],
        &["sun", "line.toml"],
        &["embed", "line.toml", "-o", "ford.owb"],
    ] {
        let said = wrong.run(args).err;
        assert_eq!(
            said.matches("warning: the sun stands highest").count(),
            1,
            "{args:?}: {said}"
        );
        let said = right.run(args).err;
        assert!(!said.contains("warning: the sun"), "{args:?}: {said}");
    }
    for more in [&[][..], &["--json"]] {
        let args = [&["check", "line.toml"], more].concat();
        assert!(wrong.run(&args).good().contains("the sun stands highest"));
    }
}

#[test]
fn a_clock_far_from_the_sun() {
    let clock = |site: &str| Sandbox::with_line(LINE.replace("longitude_deg = 14.6", site));
    let says = [
        "is utc_offset_h = 1 right?",
        "expected about -1",
        "standard time",
    ];
    doubted(&clock("longitude_deg = -14.6"), "clock-far-from-sun", &says);
    trusted(&clock("longitude_deg = -5.0"));
    // A header is asked about by its file's name.
    let year = sound_year().replacen(",-5.0,", ",5.0,", 1);
    let said = with_year(&year, "normals").run(&["sun", "line.toml"]).err;
    assert!(said.contains("the header of year.csv does"), "{said}");
}

const NORTH: [f64; 12] = [
    -8.0, -6.0, -1.0, 5.0, 11.0, 15.0, 17.0, 15.0, 10.0, 4.0, -2.0, -6.0,
];

#[test]
fn a_warmest_month_in_winter() {
    let mut south = NORTH;
    south.rotate_left(6);
    let kind = "warmest-month-in-winter";
    doubted(
        &with_normals(46.0, south, 4.0),
        kind,
        &["[site.normals]", "in January", "sign of latitude_deg"],
    );
    doubted(
        &with_normals(-46.0, NORTH, 4.0),
        kind,
        &["in July", "-46.0°"],
    );
    let mut slip = NORTH;
    slip[0] = 20.0;
    doubted(&with_normals(46.0, slip, 4.0), kind, &["in January"]);
    let other = "climate-of-the-other-hemisphere";
    let climate = LINE.replace("boreal-inland", "boreal-inland-south");
    doubted(
        &Sandbox::with_line(climate),
        other,
        &["the other half-year"],
    );
    for (latitude, months) in [(46.0, NORTH), (-46.0, south), (12.0, south), (-12.0, NORTH)] {
        trusted(&with_normals(latitude, months, 4.0));
    }
    // The end of a foggy summer, a hot spring before the rains, and an even year.
    for (warmest, latitude) in [(9, 37.8), (8, 28.0), (3, 24.5), (1, -32.0), (3, -27.0)] {
        let mut months = [14.0; 12];
        months[warmest] = 17.0;
        trusted(&with_normals(latitude, months, 4.0));
    }
    trusted(&with_normals(52.0, [9.0; 12], 4.0));
}

#[test]
fn temperatures_in_fahrenheit() {
    // A valley below a pass: 17 °C in July are 63 °F, and refused; the pass's 8 °C are 46 °F.
    let fahrenheit = NORTH.map(|mean| (mean - 9.0) * 1.8 + 32.0);
    doubted(
        &with_normals(46.0, fahrenheit, 5.0),
        "temperatures-in-fahrenheit",
        &["mean of 46.4 °C", "take 32 off and divide by 1.8"],
    );
    let mut desert = NORTH.map(|mean| mean + 22.0);
    desert[6] = 42.0;
    trusted(&with_normals(36.5, desert, 8.0));
    let wide = with_normals(46.0, NORTH, 16.0);
    doubted(
        &wide,
        "daily-range-too-wide",
        &["swing by 32 K", "degrees Celsius"],
    );
    // The high Andes.
    trusted(&with_normals(-22.0, [8.0; 12], 13.0));
}

#[test]
fn columns_taken_for_others() {
    let dew = swapped("Dry-bulb (", "Dew-point (");
    for use_ in ["normals", "hours"] {
        let says = [
            "weather year.csv has a dew point",
            "are the two columns swapped?",
        ];
        doubted(&with_year(&dew, use_), "dew-point-above-air", &says);
    }
    let kind = "light-does-not-add-up";
    let says = ["global light that direct and diffuse", "W/m2"];
    for (one, other) in [("DNI (", "DHI ("), ("GHI (", "DNI (")] {
        doubted(&with_year(&swapped(one, other), "normals"), kind, &says);
    }
    let in_kilojoules = year_with(|fields, column| {
        let light: f64 = fields[column("GHI (")].parse().expect("a number");
        // 3.6 kJ to the watt-hour, as far as it is believed.
        fields[column("GHI (")] = (3.6 * light).min(1600.0).to_string();
    });
    doubted(&with_year(&in_kilojoules, "hours"), kind, &says);
}

#[test]
fn columns_that_are_not_there_are_not_missed() {
    let without =
        |name: &'static str| year_with(move |fields, column| fields[column(name)] = "0".to_owned());
    for name in ["DNI (", "DHI ("] {
        trusted(&with_year(&without(name), "normals"));
    }
    let no_dew = year_with(|fields, column| fields[column("Dew-point (")] = "-9900".to_owned());
    trusted(&with_year(&no_dew, "normals"));
    let foggy = year_with(|fields, column| {
        let air: f64 = fields[column("Dry-bulb (")].parse().expect("a number");
        fields[column("Dew-point (")] = format!("{:.1}", air + 0.3);
    });
    trusted(&with_year(&foggy, "normals"));
}

#[test]
fn percent_given_as_shares() {
    let dim = |pct: &str| {
        let line = format!("{LINE}settings = {{ flash_pct = {pct} }}\n");
        found(&Sandbox::with_line(line))
    };
    assert_eq!(dim("0.5"), ["percent-given-as-share"]);
    for right in ["0", "5", "50", "100"] {
        assert!(dim(right).is_empty(), "{right}");
    }
    let snow = |most: &str| {
        let cover = format!("snow_cover_pct = [{most}, {most}, 0, 0, 0, 0, 0, 0, 0, 0, 0, {most}]");
        let climate = "climate = \"boreal-inland\"";
        let line = LINE.replace(climate, &format!("{climate}\n{cover}"));
        found(&Sandbox::with_line(line))
    };
    assert_eq!(snow("0.9"), ["percent-given-as-share"]);
    for right in ["90", "1", "0"] {
        assert!(snow(right).is_empty(), "{right}");
    }
}
