//! The sun over a line's season: its days, and when it stands before each lens.

mod above;
mod lens;

use overwinter_model::{CIVIL_TWILIGHT_ALTITUDE_DEG, Place, SUNRISE_ALTITUDE_DEG, SunDay, Time};
use serde::Serialize;
use time::{Date, PrimitiveDateTime, Time as ClockTime};

pub use above::Above;
pub use lens::{CameraSun, InLens, Spell, Turn};

use crate::line::Line;

/// How near to a lens's axis the sun counts unless it is said, degrees: half the width of a usual
/// camera's picture (40 to 55 degrees), and some more where it shines onto the glass and the motion
/// sensor beside it (common practice, no source).
pub const WITHIN_DEG: f64 = 30.0;

/// The sun over one day of the season: what happens between its two midnights.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct DaySun {
    /// Which day.
    #[serde(serialize_with = "crate::words::iso_date")]
    pub date: Date,
    /// When its centre stands above the horizon, with refraction.
    pub up: Above,
    /// When it is light enough to see without a lamp.
    pub civil: Above,
    /// When it stands highest, since the clock's midnight.
    pub noon: Time,
    /// How high it stands then, degrees; negative in polar night.
    pub noon_elevation_deg: f64,
    /// Directions in which it rises, degrees from north through east, in the order of the clock.
    pub rises_deg: Vec<f64>,
    /// Directions in which it sets.
    pub sets_deg: Vec<f64>,
}

impl DaySun {
    fn new(place: &Place, date: Date) -> Self {
        let sun = SunDay::new(place, date.into());
        let up = Above::new(&sun, SUNRISE_ALTITUDE_DEG);
        let azimuth_deg = |at| sun.direction(at).azimuth_deg();
        Self {
            date,
            civil: Above::new(&sun, CIVIL_TWILIGHT_ALTITUDE_DEG),
            noon: sun.noon(),
            noon_elevation_deg: sun.noon_elevation_deg(),
            rises_deg: up.rises().map(azimuth_deg).collect(),
            sets_deg: up.sets().map(azimuth_deg).collect(),
            up,
        }
    }

    /// A moment of the day on the clock, to the nearest of so many seconds that is still of that day.
    #[must_use]
    pub fn moment(&self, since_midnight: Time, step_s: u32) -> PrimitiveDateTime {
        let midnight = PrimitiveDateTime::new(self.date, ClockTime::MIDNIGHT);
        let step_s = step_s.max(1);
        // A day's seconds, so they fit.
        let steps = (since_midnight.as_seconds() / f64::from(step_s)).round() as u32;
        let seconds = steps.min(24 * 3600 / step_s - 1) * step_s;
        let seconds = time::Duration::seconds(seconds.into());
        // Only at the calendar's very end does the sum not exist.
        midnight.checked_add(seconds).unwrap_or(midnight)
    }
}

/// The sun over a season.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SunSeason {
    /// Its days.
    pub days: Vec<DaySun>,
    /// How near to a lens's axis counts, degrees.
    pub within_deg: f64,
    /// The line's cameras in their order; `None` for one whose facing is not known.
    pub cameras: Vec<Option<CameraSun>>,
}

impl SunSeason {
    /// The sun of a line's season, and where it stands within `within_deg` of a lens's axis.
    #[must_use]
    pub fn new(line: &Line, within_deg: f64) -> Self {
        let dates = (0..line.season.days()).map(|day| line.season.first_day().plus(day).date());
        let in_lens = InLens::new(line, within_deg);
        Self {
            days: dates.map(|date| DaySun::new(&line.place, date)).collect(),
            within_deg,
            cameras: line
                .cameras
                .iter()
                .map(|camera| camera.facing_deg.map(|facing| in_lens.camera(facing)))
                .collect(),
        }
    }
}

/// The local standard time of a place as people write it: `UTC+1`, `UTC−3:30`, `UTC`.
#[must_use]
pub fn zone(place: &Place) -> String {
    let minutes = (place.utc_offset().as_hours() * 60.0).round() as i32;
    let (hours, rest) = (minutes.abs() / 60, minutes.abs() % 60);
    let sign = if minutes < 0 { '\u{2212}' } else { '+' };
    match (hours, rest) {
        (0, 0) => "UTC".to_owned(),
        (_, 0) => format!("UTC{sign}{hours}"),
        _ => format!("UTC{sign}{hours}:{rest:02}"),
    }
}
