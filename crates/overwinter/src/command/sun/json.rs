//! The season's sun for a script.

use overwinter_model::{SunAbove, Time};
use serde_json::{Value, json};
use time::UtcOffset;
use time::macros::format_description;

use crate::command::{document, rounded};
use crate::line::{Camera, Line};
use crate::sky::{CameraSun, DaySun, Spell, SunSeason, zone};

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
    let moment = |at: Option<Time>| at.map(|at| rfc_3339(day, at, offset));
    let (sunrise, sunset) = ends(day.up);
    let (dawn, dusk) = ends(day.civil);
    let (rises, sets) = day.rises_and_sets_deg.unzip();
    json!({
        "date": day.date.to_string(),
        "sunrise": moment(sunrise),
        "sunset": moment(sunset),
        "polar": match day.up {
            SunAbove::Always => Some("day"),
            SunAbove::Never => Some("night"),
            SunAbove::Between { .. } => None,
        },
        "daylight_h": rounded(day.up.length().as_hours(), 4),
        "civil_dawn": moment(dawn),
        "civil_dusk": moment(dusk),
        "civil_twilight_or_day_h": rounded(day.civil.length().as_hours(), 4),
        "noon": moment(Some(day.noon)),
        "noon_elevation_deg": rounded(day.noon_elevation_deg, 2),
        "sunrise_azimuth_deg": rises.map(|deg| rounded(deg, 1)),
        "sunset_azimuth_deg": sets.map(|deg| rounded(deg, 1)),
    })
}

fn ends(above: SunAbove) -> (Option<Time>, Option<Time>) {
    match above {
        SunAbove::Between { up, down } => (Some(up), Some(down)),
        SunAbove::Always | SunAbove::Never => (None, None),
    }
}

fn rfc_3339(day: &DaySun, at: Time, offset: UtcOffset) -> String {
    let moment = day.moment(at).assume_offset(offset);
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
