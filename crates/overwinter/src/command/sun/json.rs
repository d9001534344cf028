//! The season's sun for a script.

use overwinter_line::line::{Camera, Line};
use overwinter_line::sky::{Above, CameraSun, DaySun, Spell, SunSeason, zone};
use overwinter_model::Time;
use serde_json::{Value, json};
use time::UtcOffset;
use time::macros::format_description;

use crate::command::{document, rounded};

/// The answer for a script. Moments are RFC 3339 in local standard time.
#[must_use]
pub fn json(line: &Line, sun: &SunSeason) -> String {
    let offset = offset(line);
    let days = sun.days.iter().map(|day| day_json(day, offset));
    let cameras = line.cameras.iter().zip(&sun.cameras);
    document(&json!({
        "site": line.site,
        "latitude_deg": line.place.latitude_deg(),
        "longitude_deg": line.place.longitude_deg(),
        "clock": format!("local standard time, {}", zone(&line.place)),
        "utc_offset_h": line.place.utc_offset().as_hours(),
        "season": {
            "start": line.season.start.to_string(),
            "end": line.season.end.to_string(),
            "days": line.season.days(),
        },
        "within_deg": sun.within_deg,
        "days": days.collect::<Vec<_>>(),
        "cameras": cameras.map(|(camera, sun)| camera_json(camera, sun.as_ref())).collect::<Vec<_>>(),
    }))
}

/// The clock's offset to the minute, as RFC 3339 writes it.
fn offset(line: &Line) -> UtcOffset {
    let minutes = (line.place.utc_offset().as_hours() * 60.0).round() as i32;
    // Between -12 and 14 hours, so it is one.
    UtcOffset::from_whole_seconds(60 * minutes).unwrap_or(UtcOffset::UTC)
}

fn day_json(day: &DaySun, offset: UtcOffset) -> Value {
    let direction = |deg: &[f64]| deg.first().map(|deg| rounded(*deg, 1));
    let mut object = json!({
        "date": day.date.to_string(),
        "polar": day.up.all_day().map(|above| if above { "day" } else { "night" }),
        "daylight_h": rounded(day.up.length().as_hours(), 4),
        "civil_twilight_or_day_h": rounded(day.civil.length().as_hours(), 4),
        "noon": rfc_3339(day, day.noon, offset),
        "noon_elevation_deg": rounded(day.noon_elevation_deg, 2),
        "sunrise_azimuth_deg": direction(&day.rises_deg),
        "sunset_azimuth_deg": direction(&day.sets_deg),
    });
    put_ends(&mut object, day, &day.up, ["sunrise", "sunset"], offset);
    put_ends(
        &mut object,
        day,
        &day.civil,
        ["civil_dawn", "civil_dusk"],
        offset,
    );
    object
}

/// The first rise and the first set of the date; and the second, on the few dates that have one.
fn put_ends(object: &mut Value, day: &DaySun, above: &Above, names: [&str; 2], offset: UtcOffset) {
    let rises: Vec<Time> = above.rises().collect();
    let sets: Vec<Time> = above.sets().collect();
    for (name, moments) in names.into_iter().zip([rises, sets]) {
        let mut moments = moments.into_iter().map(|at| rfc_3339(day, at, offset));
        object[name] = moments.next().into();
        if let Some(second) = moments.next() {
            object[format!("second_{name}")] = second.into();
        }
    }
}

fn rfc_3339(day: &DaySun, at: Time, offset: UtcOffset) -> String {
    let moment = day.moment(at, 1).assume_offset(offset);
    let form = format_description!(
        "[year]-[month]-[day]T[hour]:[minute]:[second][offset_hour sign:mandatory]:[offset_minute]"
    );
    // The description is checked when this is compiled, and a moment has all of its parts.
    moment.format(form).unwrap_or_else(|_| moment.to_string())
}

fn camera_json(camera: &Camera, sun: Option<&CameraSun>) -> Value {
    let better = sun.and_then(|sun| sun.better);
    json!({
        "name": camera.name,
        "facing_deg": camera.facing_deg,
        "hours_in_lens": sun.map(|sun| rounded(sun.hours, 1)),
        "days_in_lens": sun.map(|sun| sun.days),
        "spells": sun.map(|sun| sun.spells.iter().map(spell_json).collect::<Vec<_>>()),
        "better_facing_deg": better.map(|turn| turn.facing_deg),
        "hours_in_lens_there": better.map(|turn| rounded(turn.hours, 1)),
    })
}

fn spell_json(spell: &Spell) -> Value {
    let (from, to) = spell.earliest_and_latest();
    let clock = |minute: u16| format!("{:02}:{:02}", minute / 60, minute % 60);
    json!({
        "first": spell.first.to_string(),
        "last": spell.last().to_string(),
        "from": clock(from),
        "to": clock(to),
        "hours": rounded(spell.hours(), 1),
        "nearest_deg": rounded(spell.nearest_deg, 0),
    })
}
