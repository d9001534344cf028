//! The season's sun for a person.

use overwinter_model::{SunAbove, Time};

use crate::command::assumptions::wrap;
use crate::line::{Camera, Line};
use crate::sky::{CameraSun, DaySun, Spell, SunSeason, zone};
use crate::table::{Column, Table};
use crate::words;

/// From one row of the table to the next, days.
const FORTNIGHT: usize = 14;

/// Longer lists of times than this are cut.
const MOST_SPELLS: usize = 4;

/// The answer for a person.
#[must_use]
pub fn text(line: &Line, sun: &SunSeason) -> String {
    let mut text = heading(line);
    text += &days(sun);
    text += "\n\n";
    text += &lenses(line, sun);
    text.truncate(text.trim_end().len());
    text.push('\n');
    text
}

fn heading(line: &Line) -> String {
    let (latitude, longitude) = (line.place.latitude_deg(), line.place.longitude_deg());
    let north = if latitude < 0.0 { "S" } else { "N" };
    let east = if longitude < 0.0 { "W" } else { "E" };
    format!(
        "{}, {:.2}° {north} {:.2}° {east}, {} to {} ({})\n{}\n\n",
        line.site,
        latitude.abs(),
        longitude.abs(),
        words::date(line.season.start),
        words::date(line.season.end),
        words::length(&line.season),
        wrap(&format!(
            "Times are local standard time ({}) all season, for a level horizon; hills and trees \
             shorten the day. Directions are degrees from north through east.",
            zone(&line.place)
        ))
    )
}

/// A row each fortnight, and one for the last day.
fn days(sun: &SunSeason) -> String {
    let head = [
        ("date", Column::Left),
        ("civil\ndawn", Column::Right),
        ("sunrise", Column::Right),
        ("sunset", Column::Right),
        ("civil\ndusk", Column::Right),
        ("daylight,\nh:min", Column::Right),
        ("height\nat noon", Column::Right),
        ("rises\nat", Column::Right),
        ("sets\nat", Column::Right),
    ];
    let last = sun.days.len().saturating_sub(1);
    let shown = sun
        .days
        .iter()
        .enumerate()
        .filter(|(index, _)| index % FORTNIGHT == 0 || *index == last);
    Table::of(shown).with(head, |(_, day)| day_row(day)).text()
}

fn day_row(day: &DaySun) -> [String; 9] {
    let [sunrise, sunset] = ends(day, day.up, ["polar", "day"], ["polar", "night"]);
    let [dawn, dusk] = ends(day, day.civil, ["light", "all night"], ["dark", "all day"]);
    let direction = |deg: Option<f64>| deg.map_or("-".to_owned(), |deg| format!("{deg:.0}°"));
    let (rises, sets) = day.rises_and_sets_deg.unzip();
    [
        words::date(day.date),
        dawn,
        sunrise,
        sunset,
        dusk,
        hours_and_minutes(day.up.length()),
        format!("{:.1}°", day.noon_elevation_deg).replace('-', "\u{2212}"),
        direction(rises),
        direction(sets),
    ]
}

/// Both ends of the time above a height, or two words for always and never.
fn ends(day: &DaySun, above: SunAbove, always: [&str; 2], never: [&str; 2]) -> [String; 2] {
    match above {
        SunAbove::Between { up, down } => [up, down].map(|at| clock(day, at)),
        SunAbove::Always => always.map(str::to_owned),
        SunAbove::Never => never.map(str::to_owned),
    }
}

/// `07:12`, with a mark where it is of the day before or after.
fn clock(day: &DaySun, at: Time) -> String {
    // To the nearest minute.
    let moment = day.moment(Time::from_seconds((at.as_seconds() / 60.0).round() * 60.0));
    let mark = match moment.date().cmp(&day.date) {
        std::cmp::Ordering::Less => " day before",
        std::cmp::Ordering::Equal => "",
        std::cmp::Ordering::Greater => " day after",
    };
    format!("{:02}:{:02}{mark}", moment.hour(), moment.minute())
}

fn hours_and_minutes(time: Time) -> String {
    // At most a day, so it fits.
    let minutes = (time.as_hours() * 60.0).round() as u32;
    format!("{}:{:02}", minutes / 60, minutes % 60)
}

/// The cameras with a facing, then those without.
fn lenses(line: &Line, sun: &SunSeason) -> String {
    let cameras = || line.cameras.iter().zip(&sun.cameras);
    let rows: Vec<_> = cameras()
        .filter_map(|(camera, sun)| Some(camera_row(camera, sun.as_ref()?)))
        .collect();
    let mut text = String::new();
    if !rows.is_empty() {
        let within = format!("sun within {:.0}°,\nhours", sun.within_deg);
        let head = [
            ("camera", Column::Left),
            ("faces", Column::Right),
            (within.as_str(), Column::Right),
            ("days", Column::Right),
            ("when", Column::Left),
            ("better", Column::Left),
        ];
        text += &Table::of(rows).with(head, Clone::clone).text();
        text += "\n\n";
        text += &wrap(&explained(sun.within_deg));
        text += "\n";
    }
    let unknown: Vec<&str> = cameras()
        .filter(|(_, sun)| sun.is_none())
        .map(|(camera, _)| camera.name.as_str())
        .collect();
    if !unknown.is_empty() {
        let names = unknown.join(", ");
        text += &wrap(&format!(
            "No facing_deg for {names}: not looked at. It is where the lens points, in degrees from \
             north through east."
        ));
    }
    text
}

fn explained(within_deg: f64) -> String {
    format!(
        "Hours of the season with the sun less than {within_deg:.0}° from the axis of a level lens, \
         as if no cloud, hill or tree stood before it (--within-deg; {:.0}° is half the width of a \
         usual picture and some more for glare on the glass). Then pictures are washed out, and \
         leaves and ground that the sun warms set the sensor off. \"better\" is the smallest turn to \
         a facing with as little of it as any, within an hour.",
        super::WITHIN_DEG
    )
}

fn camera_row(camera: &Camera, sun: &CameraSun) -> [String; 6] {
    let when = if sun.spells.is_empty() {
        "never".to_owned()
    } else {
        let mut lines: Vec<String> = sun.spells.iter().map(spell).collect();
        let beyond = lines.len().saturating_sub(MOST_SPELLS);
        if beyond > 0 {
            lines.truncate(MOST_SPELLS);
            lines.push(format!("and {beyond} more"));
        }
        lines.join("\n")
    };
    let better = sun.better.map_or_else(String::new, |turn| {
        format!("{:.0}°: {:.0} h", turn.facing_deg, turn.hours)
    });
    [
        camera.name.clone(),
        format!("{:.0}°", sun.facing_deg),
        format!("{:.0}", sun.hours),
        sun.days.to_string(),
        when,
        better,
    ]
}

/// `1 Nov to 20 Feb, 07:10 to 09:40`: over the spell the earliest and the latest.
fn spell(spell: &Spell) -> String {
    let (from, to) = spell.earliest_and_latest();
    let clock = |minute: u16| format!("{:02}:{:02}", minute / 60, minute % 60);
    let (first, last) = (
        words::day_of_year(spell.first),
        words::day_of_year(spell.last()),
    );
    let dates = if first == last {
        first
    } else {
        format!("{first} to {last}")
    };
    format!("{dates}, {} to {}", clock(from), clock(to))
}
