//! Sites whose parts do not go together, and lenses that look into the sun.

use super::About;
use crate::command::sun::WITHIN_DEG;
use crate::line::{Camera, Line, WeatherOrigin};
use crate::sky::InLens;
use crate::weather;

/// A built-in climate is told from this many degrees of latitude on: four or five kelvin of a
/// winter's mean inland (from memory).
const FAR_DEG: f64 = 8.0;

/// A site whose parts do not go together.
pub(super) fn site(line: &Line) -> Vec<(&'static str, String)> {
    let mut found = Vec::new();
    let latitude = line.place.latitude_deg();
    if let WeatherOrigin::BuiltIn { name, .. } = &line.climate.origin
        && name.ends_with("-south") != (latitude < 0.0)
    {
        found.push((
            "climate-of-the-other-hemisphere",
            format!("climate {name} at latitude {latitude:.1}°: its winter is the other half-year"),
        ));
    }
    found.extend(latitude_of_climate(line));
    let by_sun = line.place.longitude_deg() / 15.0;
    let offset = line.place.utc_offset().as_hours();
    // Standard times stray from the sun by two hours and a half at the most (common practice, no
    // source).
    if (offset - by_sun).abs() > 2.5 {
        found.push((
            "clock-far-from-sun",
            format!(
                "utc_offset_h is {offset}, but the sun at this longitude asks for about \
                 {by_sun:.0}: night would fall at the wrong hours"
            ),
        ));
    }
    found
}

/// A built-in climate of a place much nearer to the equator or to the pole.
fn latitude_of_climate(line: &Line) -> About {
    let WeatherOrigin::BuiltIn { name, .. } = &line.climate.origin else {
        return None;
    };
    let of_climate = weather::climate(name)?.latitude_deg.abs();
    let here = line.place.latitude_deg().abs();
    let apart = here - of_climate;
    let (side, may_be) = if apart > 0.0 {
        ("pole", "mild")
    } else {
        ("equator", "hard")
    };
    (apart.abs() > FAR_DEG).then(|| {
        let text = format!(
            "climate {name} is that of latitude {of_climate:.0}°, and the site lies {:.0}° nearer to \
             the {side}: its winter may be too {may_be}; normals or a weather file of the place are \
             better",
            apart.abs()
        );
        ("climate-of-another-latitude", text)
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
