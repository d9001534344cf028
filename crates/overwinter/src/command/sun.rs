//! `sun`: the sun over the season at the site, as text and JSON.

use overwinter_line::answer::sun::SunAnswer;
use overwinter_line::line::Season;
use overwinter_line::sky::{Above, CameraSun, DaySun, Spell, SunSeason, WITHIN_DEG, zone};
use overwinter_line::words;
use overwinter_model::Time;

use super::json_text;
use super::paragraph::wrap;
use crate::table::{Column, Table};

/// From one row of the table to the next, days.
const FORTNIGHT: usize = 14;

/// Longer lists of times than this are cut.
const MOST_SPELLS: usize = 4;

/// The answer for a script.
#[must_use]
pub fn json(answer: &SunAnswer) -> String {
    json_text(&answer.document)
}

/// The answer for a person.
#[must_use]
pub fn text(answer: &SunAnswer) -> String {
    let mut text = heading(answer);
    text += &days(&answer.details.sun);
    text += "\n\n";
    text += &lenses(answer);
    text.truncate(text.trim_end().len());
    text.push('\n');
    text
}

fn heading(answer: &SunAnswer) -> String {
    let document = &answer.document;
    let season = &document.season;
    let (latitude, longitude) = (document.latitude_deg, document.longitude_deg);
    let north = if latitude < 0.0 { "S" } else { "N" };
    let east = if longitude < 0.0 { "W" } else { "E" };
    format!(
        "{}, {:.2}° {north} {:.2}° {east}, {} to {} ({})\n{}\n\n",
        document.site,
        latitude.abs(),
        longitude.abs(),
        words::date(season.start),
        words::date(season.end),
        season.length(),
        wrap(&format!(
            "Times are local standard time ({}) all season, for a level horizon; hills and trees \
             shorten the day. Directions are degrees from north through east.",
            zone(&answer.details.place)
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
    let days = sun.days.iter().enumerate();
    let shown = days.filter(|(index, _)| index % FORTNIGHT == 0 || *index == last);
    let shown: Vec<&DaySun> = shown.map(|(_, day)| day).collect();
    let rows = Table::of(&shown).with(head, |day| day_row(day)).text();
    // Where the sun is up at midnight a day has one end only, and now and then three.
    let uneven = |above: &Above| above.rises().count() != 1 || above.sets().count() != 1;
    let uneven = |above: &Above| above.all_day().is_none() && uneven(above);
    if shown
        .iter()
        .any(|day| uneven(&day.up) || uneven(&day.civil))
    {
        return format!("{rows}\n\n{}", wrap(ONE_ENDED));
    }
    rows
}

/// What a row without one of its ends means.
const ONE_ENDED: &str = "A row holds what happens on its date, from midnight to midnight. \"-\": it does \
     not happen on that date; two times: it happens twice.";

fn day_row(day: &DaySun) -> [String; 9] {
    let [sunrise, sunset] = ends(day, &day.up, ["polar", "day"], ["polar", "night"]);
    let [dawn, dusk] = ends(day, &day.civil, ["light", "all night"], ["dark", "all day"]);
    let direction = |deg: &[f64]| lines(deg.iter().map(|deg| format!("{deg:.0}°")));
    [
        words::date(day.date),
        dawn,
        sunrise,
        sunset,
        dusk,
        hours_and_minutes(day.up.length()),
        format!("{:.1}°", day.noon_elevation_deg).replace('-', "\u{2212}"),
        direction(&day.rises_deg),
        direction(&day.sets_deg),
    ]
}

/// Both ends of the time above a height on a date, or two words for always and never.
fn ends(day: &DaySun, above: &Above, always: [&str; 2], never: [&str; 2]) -> [String; 2] {
    match above.all_day() {
        Some(true) => always.map(str::to_owned),
        Some(false) => never.map(str::to_owned),
        None => {
            let clock = |at| clock(day, at);
            [
                lines(above.rises().map(clock)),
                lines(above.sets().map(clock)),
            ]
        }
    }
}

/// One below the other, or a dash for none.
fn lines(all: impl Iterator<Item = String>) -> String {
    let all: Vec<String> = all.collect();
    if all.is_empty() {
        return "-".to_owned();
    }
    all.join("\n")
}

/// `07:12`.
fn clock(day: &DaySun, at: Time) -> String {
    let moment = day.moment(at, 60);
    format!("{:02}:{:02}", moment.hour(), moment.minute())
}

fn hours_and_minutes(time: Time) -> String {
    // At most a day, so it fits.
    let minutes = (time.as_hours() * 60.0).round() as u32;
    format!("{}:{:02}", minutes / 60, minutes % 60)
}

/// The cameras with a facing, then those without.
fn lenses(answer: &SunAnswer) -> String {
    let document = &answer.document;
    let rows: Vec<_> = answer
        .lenses()
        .map(|(name, sun)| camera_row(&document.season, name, sun))
        .collect();
    let mut text = String::new();
    if !rows.is_empty() {
        let within = format!("sun within {:.0}°,\nhours", document.within_deg);
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
        text += &wrap(&explained(document.within_deg));
        text += "\n";
    }
    let cameras = document.cameras.iter();
    let unknown: Vec<&str> = cameras
        .filter(|camera| camera.facing_deg.is_none())
        .map(|camera| camera.name.as_str())
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
         as if no cloud, hill or tree stood before it (--within-deg; {WITHIN_DEG:.0}° is half the width of a \
         usual picture and some more for glare on the glass). Then pictures are washed out, and \
         leaves and ground that the sun warms set the sensor off. \"better\" is the smallest turn to \
         a facing with as little of it as any, within an hour."
    )
}

fn camera_row(season: &Season, name: &str, sun: &CameraSun) -> [String; 6] {
    let when = if sun.spells.is_empty() {
        "never".to_owned()
    } else {
        let mut lines: Vec<String> = sun.spells.iter().map(|one| spell(season, one)).collect();
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
        name.to_owned(),
        format!("{:.0}°", sun.facing_deg),
        format!("{:.0}", sun.hours),
        sun.days.to_string(),
        when,
        better,
    ]
}

/// `1 Nov to 20 Feb, 07:10 to 09:40`: over the spell the earliest and the latest.
fn spell(season: &Season, spell: &Spell) -> String {
    let (from, to) = spell.earliest_and_latest();
    let clock = |minute: u16| format!("{:02}:{:02}", minute / 60, minute % 60);
    let (first, last) = (season.name_of(spell.first), season.name_of(spell.last()));
    let dates = if first == last {
        first
    } else {
        format!("{first} to {last}")
    };
    format!("{dates}, {} to {}", clock(from), clock(to))
}
