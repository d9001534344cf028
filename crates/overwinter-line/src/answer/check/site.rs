//! Temperatures of another place than the site's, and lenses that look into the sun.

use super::About;
use crate::line::{Camera, Line, Origin, Station, WeatherOrigin};
use crate::sky::InLens;
use crate::sky::WITHIN_DEG;

/// Temperatures of elsewhere are told from this many degrees of latitude on: four or five kelvin of a
/// winter's mean inland (from memory).
pub(super) const FAR_DEG: f64 = 8.0;

/// And from so many metres of height on: two kelvin.
const FAR_M: f64 = 300.0;

/// How much colder it gets by the metre, kelvin: the standard atmosphere (ISO 2533).
const LAPSE_K_PER_M: f64 = 0.0065;

/// Temperatures of elsewhere.
pub(super) fn site(line: &Line) -> Vec<(&'static str, String)> {
    let mut found = Vec::new();
    if let Some(station) = &line.climate.station {
        let climate = climate_name(line);
        let of_elsewhere = [
            other_latitude(line, station, &climate),
            other_height(line, station, &climate),
        ];
        found.extend(of_elsewhere.into_iter().flatten());
    }
    found
}

/// What the temperatures are called in a finding.
pub(super) fn climate_name(line: &Line) -> String {
    match &line.climate.origin {
        WeatherOrigin::BuiltIn { name, .. } => format!("climate {name}"),
        WeatherOrigin::FileHours(file) | WeatherOrigin::FileNormals(file) => {
            format!("weather {file}")
        }
        WeatherOrigin::OwnNormals => "[site.normals]".to_owned(),
    }
}

/// Temperatures of a place much nearer to the equator or to the pole.
fn other_latitude(line: &Line, station: &Station, climate: &str) -> About {
    let of_climate = station.latitude_deg.abs();
    let here = line.place.latitude_deg().abs();
    let apart = here - of_climate;
    let (side, may_be) = if apart > 0.0 {
        ("pole", "mild")
    } else {
        ("equator", "hard")
    };
    (apart.abs() > FAR_DEG).then(|| {
        let text = format!(
            "{climate} is that of latitude {of_climate:.0}°, and the site lies {:.0}° nearer to \
             the {side}: its winter may be too {may_be}; normals or a weather file of the place are \
             better",
            apart.abs()
        );
        ("climate-of-another-latitude", text)
    })
}

/// Temperatures of a place much higher or lower than the height that the line file gives.
fn other_height(line: &Line, station: &Station, climate: &str) -> About {
    let higher = line.elevation_m - station.elevation_m;
    let colder = if higher > 0.0 { "colder" } else { "warmer" };
    let told = line.elevation_origin == Origin::Given && higher.abs() > FAR_M;
    told.then(|| {
        let text = format!(
            "{climate} is that of {:.0} m above the sea, and elevation_m is {:.0}: at that height it \
             is some {:.0} K {colder} than reckoned here, at 6.5 K a kilometre; [site.normals] or a \
             weather file of that height are better",
            station.elevation_m,
            line.elevation_m,
            LAPSE_K_PER_M * higher.abs()
        );
        ("climate-of-another-height", text)
    })
}

/// Tells of each camera whether the sun stands in its lens while a turn would spare it: the turn
/// that `sun` proposes.
pub(super) fn facing(line: &Line) -> impl Fn(&Camera) -> About {
    let any = line
        .cameras
        .iter()
        .any(|camera| camera.facing_deg.is_some());
    let in_lens = any.then(|| InLens::new(line, WITHIN_DEG));
    let noon_deg = if line.place.latitude_deg() < 0.0 {
        0.0
    } else {
        180.0
    };
    move |camera| {
        let sun = in_lens.as_ref()?.camera(camera.facing_deg?);
        let better = sun.better?;
        let turn = (sun.facing_deg - noon_deg).rem_euclid(360.0);
        let (kind, into) = if turn.min(360.0 - turn) < 45.0 {
            ("faces-noon-sun", "the noon sun")
        } else {
            (
                "faces-rising-or-setting-sun",
                "the low sun of morning or evening",
            )
        };
        let text = format!(
            "faces {:.0}°, into {into}: {:.0} h of the season with the sun in the lens, glare and \
             false triggers; turned to {:.0}° it has {:.0} h",
            sun.facing_deg, sun.hours, better.facing_deg, better.hours
        );
        Some((kind, text))
    }
}
